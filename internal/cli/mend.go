package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/fatih/color"
	"github.com/spf13/cobra"

	"guidecoat/internal/mend"
	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/internal/whole"
)

func (p *program) mend() *cobra.Command {
	var flags judgingFlags
	var write bool
	c := &cobra.Command{
		Use:   "mend SHEET",
		Short: "Put a sheet right: the least set of edits, proved, shown as a diff",
		Long: `Mend looks for the least set of edits after which every 'fails' and 'risk' that
an edit can answer is gone and nothing new has come: the fewest edits, then the
least film and time added. Each set it tries is carried out and judged.

It shows the edits as a diff and changes nothing; --write replaces the sheet,
whole or not at all, and not if it changed meanwhile. It uses only what is on
the shelf. What protects a person it tells, for a person to decide and write.

The exit status is 0 when nothing is left to answer, 1 when something is, 2 when
the sheet could not be read, and 3 for a wrong command line or a sheet that
could not be written.`,
		Example: `  guidecoat mend sheets/door.toml
  guidecoat mend --write sheets/door.toml`,
		Args: oneSheet,
		RunE: func(c *cobra.Command, args []string) error {
			if err := oneOf("as", flags.as, "text", "json", "diff"); err != nil {
				return err
			}
			if err := oneOf("color", flags.color, "auto", "always", "never"); err != nil {
				return err
			}
			return p.mendSheet(c.Context(), args[0], &flags, write)
		},
	}
	f := c.Flags()
	f.StringVar(&flags.as, "as", "text", "how to print: text, json or diff (the unified diff alone)")
	f.StringVar(&flags.out, "out", "", "write what is printed to this `file` instead of the terminal")
	f.StringVar(&flags.house, "house", "", "use this house `file`")
	f.StringVar(&flags.rules, "rules", "", "`folder` of the shop's own rules, beside the built-in ones")
	f.StringVar(&flags.today, "today", "", "judge waivers as on this `date` (YYYY-MM-DD); the machine's date if not given")
	f.StringVar(&flags.color, "color", "auto", "auto, always or never (NO_COLOR is honored)")
	f.BoolVar(&write, "write", false, "replace the sheet by the mended one")
	return c
}

// mender mends sheets as a bench judges them.
func (b *bench) mender(rules string) *mend.Mender {
	return &mend.Mender{Reader: b.reader,
		Judge: func(ctx context.Context, s *sheet.Sheet, doc *stack.Document) (rulebook.Result, []sheet.Problem, error) {
			result, _, problems := b.verdicts(ctx, s, doc, rules)
			return result, problems, nil
		}}
}

func (p *program) mendSheet(ctx context.Context, path string, flags *judgingFlags, write bool) error {
	if err := p.mayReport(flags.out); err != nil {
		return err
	}
	b, err := p.bench(flags, nil)
	if err != nil {
		return err
	}
	defer b.reader.Close()
	text, err := sheet.ReadFile(p.at(path))
	if err != nil {
		return p.refuse(path, []sheet.Problem{{Place: sheet.Place{File: shown(path)}, Message: whyNot(err)}})
	}
	told := p.progress(false, func(judged, most int) string {
		return fmt.Sprintf("mending: judged %d edited sheets of %d at most", judged, most)
	})
	m := b.mender(flags.rules)
	m.Told = told.set
	r, problems, err := m.Mend(ctx, shown(path), text)
	told.done()
	switch {
	case err != nil:
		return &statusError{exitUnreadable, err}
	case len(problems) > 0:
		return p.refuse(path, problems)
	}
	written := false
	if write && len(r.Edits) > 0 {
		if err := whole.Replace(p.at(path), r.After, r.Before); err != nil {
			if errors.Is(err, whole.ErrChanged) {
				err = errors.New("it changed while it was being mended; look at it again and mend it anew")
			}
			return &statusError{exitWrong, fmt.Errorf("%s was left as it was: %w", printable.Visible(shown(path)), err)}
		}
		written = true
	}
	err = p.deliver(flags.out, func(w io.Writer) error {
		switch flags.as {
		case "json":
			return writeJSON(w, struct {
				Guidecoat printedBy `json:"guidecoat"`
				*mend.Result
				Diff    string `json:"diff"`
				Written bool   `json:"written"`
			}{printed(), r, r.Diff(), written})
		case "diff":
			diff := r.Diff()
			if flags.out == "" && p.Terminal && diff != "" {
				diff = shownDiff(diff, false)
			}
			_, err := io.WriteString(w, diff)
			return err
		}
		return mendText(w, r, written, p.colored(flags.color, flags.out != ""))
	})
	if err == nil && len(r.Left) > 0 {
		return &statusError{status: exitFindings}
	}
	return err
}

// mendText tells what was mended the way a foreman would go over it: the edits
// with their reasons, the lines, what is left, what is still to be decided.
func mendText(w io.Writer, r *mend.Result, written, colored bool) error {
	g := &page{}
	g.head(r.File + ": " + mendedHow(r))
	for i, e := range r.Edits {
		g.b.WriteString("\n")
		g.line(strconv.Itoa(i+1), e.Does)
		g.line("for", e.Rule+": "+e.Because)
	}
	if diff := r.Diff(); diff != "" {
		g.b.WriteString("\n")
		g.b.WriteString(shownDiff(diff, colored))
	}
	told := func(head string, list []mend.Told) {
		if len(list) == 0 {
			return
		}
		g.b.WriteString("\n")
		g.head(head)
		for _, t := range list {
			g.line(stepLabel(t.Step), t.Message+" ("+t.Rule+")")
			g.line("do", t.Remedy)
		}
	}
	told("To decide and to write by whoever answers for the work (steps of the mended sheet):", r.Decide)
	if len(r.Left) > 0 {
		g.b.WriteString("\n")
		g.head("Left as it was:")
		for _, l := range r.Left {
			g.line(stepLabel(l.Step), strings.ToUpper(l.Grade)+": "+l.Message+" ("+l.Rule+")")
			g.line("why", l.Why)
			g.line("do", l.Remedy)
		}
	}
	told("With these edits there is this for advice:", r.Advice)
	g.b.WriteString("\n")
	switch {
	case written:
		g.head("The sheet was replaced by the mended one.")
	case len(r.Edits) > 0:
		g.head("Nothing was written; --write replaces the sheet by the mended one.")
	}
	g.head("Nothing here says that the work is safe; the mended sheet was judged by the faults this rulebook knows, and there are others.")
	_, err := io.WriteString(w, g.b.String())
	return err
}

func stepLabel(step *int) string {
	if step == nil {
		return "sheet"
	}
	return "step " + strconv.Itoa(*step)
}

// mendedHow is the verdict on the mending in one line.
func mendedHow(r *mend.Result) string {
	if r.Outcome == mend.Clean {
		return "nothing to mend; no finding is a 'fails' or a 'risk'."
	}
	edits := plural(len(r.Edits), "edit")
	if r.Fewest {
		edits += ", and fewer do not do it"
	}
	how := map[mend.Outcome]string{
		mend.Whole: "mended whole with " + edits,
		mend.Part:  fmt.Sprintf("mended in part with %s; %s left", plural(len(r.Edits), "edit"), plural(len(r.Left), "finding")),
		mend.None:  "not mended; no edit answers what is found",
	}[r.Outcome]
	if len(r.Edits) > 0 {
		how += fmt.Sprintf(" (%s of film, %s)", added(r.FilmAdded, "mil"), addedTime(r.TimeAdded))
	}
	return how + "."
}

func plural(n int, word string) string {
	if n == 1 {
		return "1 " + word
	}
	return strconv.Itoa(n) + " " + word + "s"
}

func added(v float64, unit string) string {
	if v > -0.05 && v < 0.05 {
		return "no more"
	}
	word := "more"
	if v < 0 {
		v, word = -v, "less"
	}
	return fmt.Sprintf("%.1f %s %s", v, unit, word)
}

func addedTime(minutes float64) string {
	if minutes > -0.5 && minutes < 0.5 {
		return "no more time"
	}
	word := "longer"
	if minutes < 0 {
		minutes, word = -minutes, "shorter"
	}
	if minutes < 120 {
		return fmt.Sprintf("%.0f min %s", minutes, word)
	}
	return fmt.Sprintf("%.1f h %s", minutes/60, word)
}

// shownDiff is a diff fit to print: its lines are the sheet's own words.
func shownDiff(diff string, colored bool) string {
	paint := func(a color.Attribute) *color.Color {
		c := color.New(a)
		if colored {
			c.EnableColor()
		} else {
			c.DisableColor()
		}
		return c
	}
	gone, come, where := paint(color.FgRed), paint(color.FgGreen), paint(color.FgCyan)
	var b strings.Builder
	for _, line := range strings.Split(strings.TrimSuffix(diff, "\n"), "\n") {
		line = printable.Visible(strings.TrimSuffix(line, "\r"))
		switch {
		case strings.HasPrefix(line, "---") || strings.HasPrefix(line, "+++") || strings.HasPrefix(line, "@@"):
			line = where.Sprint(line)
		case strings.HasPrefix(line, "-"):
			line = gone.Sprint(line)
		case strings.HasPrefix(line, "+"):
			line = come.Sprint(line)
		}
		b.WriteString(line + "\n")
	}
	return b.String()
}
