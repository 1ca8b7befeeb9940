package cli

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/aymanbagabas/go-udiff"

	"guidecoat/internal/drill"
	"guidecoat/internal/mend"
	"guidecoat/internal/picture"
	"guidecoat/internal/printable"
	"guidecoat/internal/report"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// examples prints a rule's own sheet that breaks it, what puts it right, the
// near miss that holds, and the sections of wrong and right beside each other.
func (p *program) examples(ctx context.Context, b *strings.Builder, book *rulebook.Book, r rulebook.Rule) error {
	if r.Breaks == "" {
		return nil
	}
	file := r.Name + ".toml"
	b.WriteString("-- a sheet that breaks it\n\n" + indented(r.Breaks))
	reader := sheet.NewReader(sheet.Options{NoHouse: true})
	defer reader.Close()
	mended, problems, err := mend.With(reader, book, p.Now()).Mend(ctx, file, []byte(r.Breaks))
	if err != nil || len(problems) > 0 {
		return &statusError{exitWrong, fmt.Errorf("the sheet that breaks %s cannot be mended: %v %v", r.Name, problems, err)}
	}
	right, title := r.Holds, "the near miss, which holds"
	if mended.Outcome == mend.Whole {
		right, title = string(mended.After), "put right"
		b.WriteString("-- the same sheet put right\n\n")
		for _, e := range mended.Edits {
			hang(b, "    ", 4, 78, e.Does)
		}
		b.WriteString("\n" + indented(changes(mended.Diff())))
	}
	if r.Holds != "" {
		b.WriteString("-- a near miss that holds: what it has otherwise\n\n" +
			indented(changes(udiff.Unified("", "", r.Breaks, r.Holds))))
	}
	var drawn []picture.Column
	draw := func(title, text string) string {
		cols := p.exampleColumns(ctx, book, file, text)
		if cols == nil {
			return ""
		}
		drawn = append(drawn, cols...)
		return title + "\n\n" + picture.Terminal(cols, picture.TerminalOptions{Columns: picture.Half(p.columns()), ASCII: p.asciiLocale(), Bare: true})
	}
	b.WriteString("-- both in section\n\n")
	b.WriteString(picture.Beside(draw("it breaks", r.Breaks), draw(title, right), p.columns()))
	b.WriteString("\n" + picture.HowToRead(drawn, picture.TerminalOptions{Columns: p.columns(), ASCII: p.asciiLocale()}) + "\n")
	return nil
}

// changes are the lines of a unified diff without its head.
func changes(diff string) string {
	lines := strings.Split(diff, "\n")
	for len(lines) > 0 && !strings.HasPrefix(lines[0], "@@") {
		lines = lines[1:]
	}
	for i, l := range lines {
		if strings.HasPrefix(l, "@@") {
			lines[i] = "..."
		}
	}
	return strings.Join(lines, "\n")
}

// indented sets a text off, followed by an empty line.
func indented(text string) string {
	var b strings.Builder
	for _, l := range strings.Split(strings.TrimRight(text, "\n"), "\n") {
		b.WriteString(strings.TrimRight("    "+printable.Visible(l), " ") + "\n")
	}
	return b.String() + "\n"
}

// exampleColumns builds and judges one of a rule's own sheets.
func (p *program) exampleColumns(ctx context.Context, book *rulebook.Book, file, text string) []picture.Column {
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, file, []byte(text))
	if text == "" || len(problems) > 0 {
		return nil
	}
	doc, problems := stack.Build(s)
	if len(problems) > 0 {
		return nil
	}
	var marks []picture.Mark
	if result, err := book.Judge(ctx, doc, s, rulebook.Options{Today: p.Now()}); err == nil {
		marks, _ = picture.Marks(doc, result.Findings)
	}
	return picture.Columns(doc, marks)
}

// drill prints an unseen sheet that breaks a rule, asks where, and tells.
func (p *program) drill(ctx context.Context, book *rulebook.Book, r rulebook.Rule, variation int, as string) error {
	if variation < 1 {
		return &statusError{exitWrong, fmt.Errorf("--variation %d is less than 1", variation)}
	}
	d, err := drill.Make(ctx, func(ctx context.Context, s *sheet.Sheet, doc *stack.Document) (rulebook.Result, error) {
		return book.Judge(ctx, doc, s, rulebook.Options{Today: p.Now()})
	}, r, variation)
	if err != nil {
		return &statusError{exitWrong, err}
	}
	if as == "json" {
		return writeJSON(p.Out, struct {
			Guidecoat printedBy          `json:"guidecoat"`
			Rule      string             `json:"rule"`
			Variation int                `json:"variation"`
			Sheet     string             `json:"sheet"`
			Answer    []rulebook.Finding `json:"answer"`
		}{printed(), d.Rule, d.Number, string(d.Text), d.Answer})
	}
	var b strings.Builder
	b.WriteString(indented(string(d.Text)))
	fmt.Fprintf(&b, "Somewhere in this sheet is one fault that the rulebook knows. At which step does\nit show, why does it fail, and what would you write instead?\n")
	if _, err := io.WriteString(p.Out, b.String()); err != nil {
		return &statusError{exitWrong, err}
	}
	said := ""
	if p.Asks && p.In != nil {
		fmt.Fprint(p.Out, "The number of the step (Enter to be told): ")
		line, err := bufio.NewReader(p.In).ReadString('\n')
		if err != nil && err != io.EOF {
			return &statusError{exitWrong, err}
		}
		said = strings.TrimSpace(line)
	}
	fmt.Fprint(p.Out, "\n"+reply(said, d.Answer))
	cols := picture.Columns(d.Doc, nil)
	if marks, _ := picture.Marks(d.Doc, d.Answer); marks != nil {
		cols = picture.Columns(d.Doc, marks)
	}
	shown := report.Judged{File: d.Sheet.File, Title: d.Sheet.Title.Value, Sheet: d.Sheet, Doc: d.Doc, Result: rulebook.Result{Findings: d.Answer}}
	if err := report.Text(p.Out, []report.Judged{shown}, report.TextOptions{Columns: p.columns(), Color: p.colored("auto", false)}); err != nil {
		return &statusError{exitWrong, err}
	}
	_, err = fmt.Fprintf(p.Out, "\n%s\nAnother sheet:\n  guidecoat why %s --drill --variation %d\n",
		picture.Terminal(cols, picture.TerminalOptions{ASCII: p.asciiLocale()}), d.Rule, d.Number+1)
	if err != nil {
		return &statusError{exitWrong, err}
	}
	return nil
}

// reply tells a learner whether the step that was named is one of the answer's.
func reply(said string, answer []rulebook.Finding) string {
	if said == "" {
		return ""
	}
	n, err := strconv.Atoi(strings.TrimPrefix(strings.ToLower(said), "step "))
	if err != nil {
		return fmt.Sprintf("%s is no number of a step. This is the answer:\n\n", printable.Visible(said))
	}
	for _, f := range answer {
		if f.Step != nil && *f.Step == n {
			return fmt.Sprintf("Step %d it is. Compare your reasons:\n\n", n)
		}
	}
	return fmt.Sprintf("Not step %d. This is the answer:\n\n", n)
}
