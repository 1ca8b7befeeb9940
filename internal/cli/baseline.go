package cli

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/pflag"

	"guidecoat/internal/compare"
	"guidecoat/internal/printable"
	"guidecoat/internal/report"
)

// baselineFlags are the flags of a command whose findings may be known already.
type baselineFlags struct{ from, keep string }

func (b *baselineFlags) add(f *pflag.FlagSet) {
	f.StringVar(&b.from, "baseline", "", "count only what is not in this `file` of known findings")
	f.StringVar(&b.keep, "keep-baseline", "", "write the present findings to this `file`, as known ones")
}

// readBaseline is the baseline to set findings beside; nil where none is named. It is
// read before anything is judged: without it everything would count as new.
func (p *program) readBaseline(flags *baselineFlags) (*compare.Baseline, error) {
	if err := p.mayKeep(flags.keep); err != nil {
		return nil, err
	}
	if flags.from == "" {
		return nil, nil
	}
	base, err := compare.ReadBaseline(p.at(flags.from))
	if err != nil {
		return nil, &statusError{exitUnreadable, fmt.Errorf("the baseline %s cannot be read: %w", printable.Visible(shown(flags.from)), err)}
	}
	return &base, nil
}

// mayKeep refuses to write a baseline over a file that is none: a sheet, most
// likely, by a slip on the command line.
func (p *program) mayKeep(name string) error {
	if name == "" {
		return nil
	}
	info, err := os.Stat(p.at(name))
	if err != nil || !info.Mode().IsRegular() || info.Size() == 0 {
		return nil // what cannot be written is told when it is to be
	}
	if _, err := compare.ReadBaseline(p.at(name)); err != nil {
		return &statusError{exitWrong, fmt.Errorf("%s is there and is no baseline of this program (%w); it is left as it is: name another file", printable.Visible(shown(name)), err)}
	}
	return nil
}

// baseName is a sheet's file as a baseline names it: from the folder the
// baseline lies in, so that it holds from wherever the program is run.
func (p *program) baseName(baseline, file string) string {
	rel, err := filepath.Rel(filepath.Dir(p.at(baseline)), p.at(filepath.FromSlash(file)))
	if err != nil {
		return file
	}
	return filepath.ToSlash(rel)
}

// setAside takes the known findings out of those that count. What could not be
// read, or was not judged by every rule, stays as it is.
func (p *program) setAside(sheets []report.Judged, base *compare.Baseline, flags *baselineFlags) {
	if base == nil {
		return
	}
	sorter := base.Sorter()
	for i := range sheets {
		j := &sheets[i]
		j.Baselined = true
		if j.Doc == nil {
			continue
		}
		fresh, known, gone := sorter.Sort(p.baseName(flags.from, j.File), j.Doc, j.Result.Findings)
		j.Result.Findings, j.Known = fresh, known
		if j.Readable() { // else what did not speak may only not have been asked
			j.Gone = gone
		}
	}
}

// keepBaseline writes what was found, known or not, to the file that is to
// hold it. It is not written while a sheet cannot be judged whole: its findings
// would be lost from it.
func (p *program) keepBaseline(sheets []report.Judged, flags *baselineFlags) error {
	if flags.keep == "" {
		return nil
	}
	var base compare.Baseline
	unread := 0
	for _, j := range sheets {
		if !j.Readable() {
			unread++
			continue
		}
		name := p.baseName(flags.keep, j.File)
		base.Add(name, j.Doc, j.Result.Findings)
		base.Add(name, j.Doc, j.Known)
	}
	if unread > 0 {
		words := "1 sheet could not be judged"
		if unread > 1 {
			words = fmt.Sprintf("%d sheets could not be judged", unread)
		}
		return &statusError{exitUnreadable, fmt.Errorf("the baseline %s was not written: %s; put that right first", printable.Visible(shown(flags.keep)), words)}
	}
	text, err := base.Encode()
	if err != nil {
		return &statusError{exitWrong, err}
	}
	return p.replace(flags.keep, text)
}
