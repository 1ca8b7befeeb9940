package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"guidecoat/internal/sheet"
)

// source is one file to judge, or why it cannot be.
type source struct {
	name    string // as shown
	problem string // not empty: the file cannot even be opened
}

// sources turns the command line's paths into files, in order and each once. A
// folder means every *.toml under it that is a sheet, or that looks like one
// and cannot be read: what is broken is never skipped.
func (p *program) sources(args []string) ([]source, error) {
	if len(args) == 0 {
		args = []string{"."}
	}
	var out []source
	seen := map[string]bool{}
	add := func(s source) {
		if !seen[s.name] {
			seen[s.name] = true
			out = append(out, s)
		}
	}
	for _, arg := range args {
		if strings.ContainsRune(arg, 0) {
			return nil, &statusError{exitWrong, fmt.Errorf("the path %q holds a NUL", arg)}
		}
		at := p.at(arg)
		info, err := os.Stat(at)
		switch {
		case err != nil:
			add(source{name: shown(arg), problem: whyNot(err)})
		case info.IsDir():
			found, err := p.under(arg, at)
			if err != nil {
				return nil, err
			}
			if len(found) == 0 {
				return nil, &statusError{exitUnreadable, fmt.Errorf("no process sheet was found under %s; a sheet is a .toml file with a [sheet] table", shown(arg))}
			}
			for _, s := range found {
				add(s)
			}
		default:
			add(source{name: shown(arg)})
		}
	}
	return out, nil
}

func shown(path string) string { return filepath.ToSlash(filepath.Clean(path)) }

func whyNot(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file; check the name and the folder"
	case errors.Is(err, fs.ErrPermission):
		return "this file may not be read; ask whoever owns it for leave to read it"
	}
	return "this file cannot be opened: " + err.Error()
}

func (p *program) under(arg, at string) ([]source, error) {
	var found []source
	err := filepath.WalkDir(at, func(path string, d fs.DirEntry, err error) error {
		rel, relErr := filepath.Rel(at, path)
		if relErr != nil {
			rel = path
		}
		name := shown(filepath.Join(arg, rel))
		if err != nil {
			found = append(found, source{name: name, problem: whyNot(err)})
			if d != nil && d.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		if d.IsDir() {
			if base := d.Name(); path != at && strings.HasPrefix(base, ".") {
				return fs.SkipDir
			}
			return nil
		}
		if !strings.EqualFold(filepath.Ext(path), ".toml") {
			return nil
		}
		text, err := sheet.ReadFile(path)
		if err != nil {
			found = append(found, source{name: name, problem: err.Error()})
			return nil
		}
		if kind := sheet.Classify(text); kind == sheet.IsSheet {
			found = append(found, source{name: name})
		}
		return nil
	})
	if err != nil {
		return nil, &statusError{exitUnreadable, fmt.Errorf("%s: %s", shown(arg), whyNot(err))}
	}
	sort.SliceStable(found, func(i, j int) bool { return found[i].name < found[j].name })
	return found, nil
}
