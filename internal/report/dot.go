package report

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"guidecoat/internal/printable"
	"guidecoat/internal/stack"
)

// DOT writes the layers and their contacts as a directed graph in the DOT
// language: a node a layer, an edge a contact, from the upper film down.
func DOT(w io.Writer, d *stack.Document) error {
	b := bufio.NewWriter(w)
	b.WriteString("digraph stack {\n  rankdir = TB;\n  node [shape = box];\n")
	for _, l := range d.Layers {
		label := []string{l.Name}
		if l.Step > 0 {
			label = append(label, fmt.Sprintf("step %d", l.Step))
		}
		if !l.Substrate && !l.FilmLaid.Open {
			label = append(label, l.FilmLaid.Text)
		}
		fmt.Fprintf(b, "  %s [label = %s];\n", dotQuote(l.ID), dotLabel(label))
	}
	for _, c := range d.Contacts {
		fmt.Fprintf(b, "  %s -> %s [label = %s];\n", dotQuote(c.Upper), dotQuote(c.Lower), dotQuote(c.Zone))
	}
	b.WriteString("}\n")
	return b.Flush()
}

// dotQuote is a DOT string: backslashes and quotes are escaped, so that no
// string of a sheet can end it.
func dotQuote(s string) string {
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(printable.Visible(s)) + `"`
}

// dotLabel is a DOT string of several lines. The line breaks between them are
// the only ones: a backslash in a line is a backslash.
func dotLabel(lines []string) string {
	parts := make([]string, len(lines))
	for i, l := range lines {
		q := dotQuote(l)
		parts[i] = q[1 : len(q)-1]
	}
	return `"` + strings.Join(parts, `\n`) + `"`
}
