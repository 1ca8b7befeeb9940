package cli

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"guidecoat/internal/printable"
	"guidecoat/internal/sheet"
	"guidecoat/internal/whole"
)

// at is where a path of the command line lies.
func (p *program) at(path string) string {
	if filepath.IsAbs(path) {
		return path
	}
	return filepath.Join(p.Dir, path)
}

func writeJSON(w io.Writer, v any) error { return printable.JSON(w, v) }

// hang writes words wrapped to columns behind a first piece of line, further
// lines under them at the indent.
func hang(b *strings.Builder, first string, indent, columns int, words string) {
	for i, l := range printable.Wrap(words, columns-indent) {
		if i > 0 {
			first = strings.Repeat(" ", indent)
		}
		b.WriteString(first + l + "\n")
	}
}

// printedBy heads every JSON answer, so that a script knows what it reads.
type printedBy struct {
	Version string `json:"version"`
	Format  int    `json:"format"`
}

func printed() printedBy { return printedBy{Version: Version, Format: 1} }

// deliver writes what a command has to say to the terminal, or whole to a file:
// a run that is cut short leaves the file that was there. What the shop wrote,
// a sheet, a shelf or a house file, is never put away for it.
func (p *program) deliver(out string, write func(io.Writer) error) error {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return &statusError{exitWrong, err}
	}
	if out == "" {
		if _, err := p.Out.Write(b.Bytes()); err != nil {
			return &statusError{exitWrong, err}
		}
		return nil
	}
	if err := p.mayReport(out); err != nil {
		return err
	}
	return p.replace(out, b.Bytes())
}

// mayReport refuses to write over a sheet, a shelf or a house file. Commands
// that take long or write a sheet ask it before they begin.
func (p *program) mayReport(out string) error {
	if out == "" {
		return nil
	}
	text, err := sheet.ReadFile(p.at(out))
	if err != nil {
		return nil // what cannot be written is told when it is to be
	}
	if kind := sheet.Classify(text); kind != sheet.IsOther {
		return &statusError{exitWrong, fmt.Errorf("%s is %s, and what --out writes would take its place; name another file after --out", printable.Visible(shown(out)), kind)}
	}
	return nil
}

// replace writes a file that the command line names, whole or not at all.
func (p *program) replace(name string, text []byte) error {
	if err := whole.Replace(p.at(name), text, nil); err != nil {
		return &statusError{exitWrong, fmt.Errorf("%s could not be written: %w", printable.Visible(name), err)}
	}
	return nil
}

// page collects labeled lines that fit 80 columns.
type page struct{ b strings.Builder }

// line writes words beside a label, wrapped under themselves. No words, no line.
func (g *page) line(label, words string) {
	words = strings.TrimSpace(printable.Visible(words))
	if words == "" {
		return
	}
	hang(&g.b, fmt.Sprintf("%12s  ", label), 14, 79, words)
}

// head writes words over the whole width.
func (g *page) head(words string) {
	for i, l := range printable.Wrap(printable.Visible(words), 76) {
		if i > 0 {
			l = "  " + l
		}
		g.b.WriteString(l + "\n")
	}
}
