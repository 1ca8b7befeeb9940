package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"github.com/spf13/cobra"

	"guidecoat/internal/compare"
	"guidecoat/internal/printable"
	"guidecoat/internal/report"
)

func (p *program) compare() *cobra.Command {
	var flags judgingFlags
	c := &cobra.Command{
		Use:   "compare OLD NEW",
		Short: "What a revision changed: findings, films, clock, VOC, cans",
		Long: `Compare judges two revisions of a sheet and tells which findings are gone, new
and kept, and what became of the films of each zone, the clock and its windows,
VOC, and the cans to buy. Two folders are compared sheet by sheet, by name.

A finding is known again though lines moved and steps were put in, taken out or
rewritten: the steps of both are matched first, by what they do, with what, on
which zones and under which call, and then the findings by the steps they stand
on. One that is graver now, in more zones, or no longer waived counts as new.

The exit status is 0 when no new finding is at or above --stop-at, 1 when one
is, 2 when a sheet, shelf, house file or rule could not be read, 3 for a wrong
command line.`,
		Example: `  guidecoat compare door-b.toml door-c.toml
  guidecoat compare --as markdown main/sheets branch/sheets`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 2 {
				return &statusError{exitWrong, errors.New("compare wants two sheets, or two folders of them: the old one and the new one")}
			}
			return nil
		},
		RunE: func(c *cobra.Command, args []string) error {
			pairs, err := p.comparePaths(c.Context(), args[0], args[1], &flags)
			if err != nil {
				return err
			}
			if err := p.printCompared(pairs, &flags); err != nil {
				return err
			}
			return comparedOutcome(pairs, flags.stopAt)
		},
	}
	flags.add(c.Flags(), "text", "json", "markdown")
	return c
}

// comparePaths judges both sides in one run and pairs what came of it.
func (p *program) comparePaths(ctx context.Context, old, new string, flags *judgingFlags) ([]report.Compared, error) {
	if err := flags.check(); err != nil {
		return nil, err
	}
	if err := p.mayReport(flags.out); err != nil {
		return nil, err
	}
	var sides [2][]source
	folder, err := p.bothFolders(old, new)
	for i, arg := range []string{old, new} {
		if err == nil {
			sides[i], err = p.sources([]string{arg})
		}
	}
	if err != nil {
		return nil, err
	}
	judged, err := p.judgeFiles(ctx, append(append([]source{}, sides[0]...), sides[1]...), p.folders([]string{old, new}), flags)
	if err != nil {
		return nil, err
	}
	byName := map[string]*report.Judged{}
	for i := range judged {
		byName[judged[i].File] = &judged[i]
	}
	if !folder {
		return []report.Compared{p.pair(byName[sides[0][0].name], byName[sides[1][0].name])}, nil
	}
	olds, news := within(old, sides[0], byName), within(new, sides[1], byName)
	names := slices.Sorted(maps.Keys(olds))
	for name := range news {
		if olds[name] == nil {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	pairs := make([]report.Compared, len(names))
	for i, name := range names {
		pairs[i] = p.pair(olds[name], news[name])
	}
	return pairs, nil
}

// within are the sheets of a folder, by their names in it.
func within(folder string, files []source, byName map[string]*report.Judged) map[string]*report.Judged {
	out := map[string]*report.Judged{}
	for _, f := range files {
		if j := byName[f.name]; j != nil {
			name, err := filepath.Rel(filepath.Clean(folder), filepath.FromSlash(f.name))
			if err != nil {
				name = f.name
			}
			out[filepath.ToSlash(name)] = j
		}
	}
	return out
}

// bothFolders tells whether two paths are folders; a folder and a sheet cannot
// be compared.
func (p *program) bothFolders(old, new string) (bool, error) {
	var is [2]bool
	for i, arg := range []string{old, new} {
		info, err := os.Stat(p.at(arg))
		if err != nil {
			// A sheet that is not there is told as one that cannot be read, beside the other.
			continue
		}
		is[i] = info.IsDir()
	}
	if is[0] == is[1] {
		return is[0], nil
	}
	folder, other := old, new
	if is[1] {
		folder, other = new, old
	}
	if _, err := os.Stat(p.at(other)); err != nil {
		return false, &statusError{exitUnreadable, fmt.Errorf("%s: %s", printable.Visible(shown(other)), whyNot(err))}
	}
	return false, &statusError{exitWrong, fmt.Errorf("%s is a folder and %s is not; compare two sheets, or two folders of them", printable.Visible(shown(folder)), printable.Visible(shown(other)))}
}

// pair compares two judged sheets; either may be nil, where a folder lacks it.
func (p *program) pair(old, new *report.Judged) report.Compared {
	c := report.Compared{Old: old, New: new}
	for _, j := range []*report.Judged{old, new} {
		if j != nil && j.Doc == nil {
			c.Comparison = compare.Nothing()
			return c
		}
	}
	c.Comparison = compare.Revisions(p.revision(old), p.revision(new))
	return c
}

func (p *program) revision(j *report.Judged) compare.Revision {
	if j == nil {
		return compare.Revision{}
	}
	return compare.NewRevision(j.Sheet, p.fileText(j.File), j.Doc, j.Result)
}

func (p *program) printCompared(pairs []report.Compared, flags *judgingFlags) error {
	return p.deliver(flags.out, func(w io.Writer) error {
		switch flags.as {
		case "json":
			return report.CompareJSON(w, pairs, Version)
		case "markdown":
			return report.CompareMarkdown(w, pairs, 0)
		}
		return report.CompareText(w, pairs, report.TextOptions{Columns: p.columns(), Color: p.colored(flags.color, flags.out != ""), Quiet: flags.quiet})
	})
}

// comparedOutcome is the exit status the comparison calls for.
func comparedOutcome(pairs []report.Compared, stopAt string) error {
	status := exitClean
	for _, c := range pairs {
		if c.Comparison.Counts(stopAt) > 0 {
			status = max(status, exitFindings)
		}
		if !c.Readable() {
			status = max(status, exitUnreadable)
		}
	}
	if status == exitClean {
		return nil
	}
	return &statusError{status: status}
}
