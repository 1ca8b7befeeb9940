package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"guidecoat/internal/printable"
	"guidecoat/internal/report"
)

// source is one file to judge, or why it cannot be.
type source struct {
	name    string // as shown
	problem string // not empty: the file cannot even be opened
	under   string // the folder it was come upon in; it is passed over if it is no sheet
}

// sources turns the command line's paths into files, in order. A folder means
// every *.toml under it; which of them are sheets shows when they are read.
func (p *program) sources(args []string) ([]source, error) {
	if len(args) == 0 {
		args = []string{"."}
	}
	var out []source
	for _, arg := range args {
		if strings.ContainsRune(arg, 0) {
			return nil, &statusError{exitWrong, fmt.Errorf("the path %q holds a NUL", arg)}
		}
		at := p.at(arg)
		info, err := os.Stat(at)
		switch {
		case err != nil:
			out = append(out, source{name: shown(arg), problem: whyNot(err)})
		case info.IsDir():
			found, err := under(arg, at)
			if err != nil {
				return nil, err
			}
			if len(found) == 0 {
				return nil, noSheet(arg)
			}
			out = append(out, found...)
		default:
			out = append(out, source{name: shown(arg)})
		}
	}
	return out, nil
}

func noSheet(folder string) error {
	return &statusError{exitUnreadable, fmt.Errorf("no process sheet was found under %s; a sheet is a .toml file with a [sheet] table", printable.Visible(shown(folder)))}
}

// sheetsOf are the judged sheets of the files, each once and in their order;
// what was come upon in a folder and is no sheet is left out. A folder without
// any sheet is told.
func sheetsOf(files []source, judged []report.Judged, isSheet []bool) ([]report.Judged, error) {
	some := map[string]bool{}
	for i, f := range files {
		some[f.under] = some[f.under] || isSheet[i]
	}
	seen := map[string]bool{}
	var out []report.Judged
	for i, f := range files {
		if f.under != "" && !some[f.under] {
			return nil, noSheet(f.under)
		}
		if isSheet[i] && !seen[f.name] {
			seen[f.name] = true
			out = append(out, judged[i])
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

// under lists every *.toml under a folder, by name.
func under(arg, at string) ([]source, error) {
	var found []source
	err := filepath.WalkDir(at, func(path string, d fs.DirEntry, err error) error {
		rel, relErr := filepath.Rel(at, path)
		if relErr != nil {
			rel = path
		}
		name := shown(filepath.Join(arg, rel))
		if err != nil {
			found = append(found, source{name: name, problem: whyNot(err), under: arg})
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
		if strings.EqualFold(filepath.Ext(path), ".toml") {
			found = append(found, source{name: name, under: arg})
		}
		return nil
	})
	if err != nil {
		return nil, &statusError{exitUnreadable, fmt.Errorf("%s: %s", printable.Visible(shown(arg)), whyNot(err))}
	}
	sort.SliceStable(found, func(i, j int) bool { return found[i].name < found[j].name })
	return found, nil
}
