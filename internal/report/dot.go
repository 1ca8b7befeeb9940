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
		label := printable.Visible(l.Name)
		if l.Step > 0 {
			label += fmt.Sprintf("\\nstep %d", l.Step)
		}
		if !l.Substrate && !l.FilmLaid.Open {
			label += "\\n" + printable.Visible(l.FilmLaid.Text)
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

// dotLabel keeps the line breaks this package itself puts in.
func dotLabel(s string) string {
	parts := strings.Split(s, "\\n")
	for i, p := range parts {
		q := dotQuote(p)
		parts[i] = q[1 : len(q)-1]
	}
	return `"` + strings.Join(parts, `\n`) + `"`
}
