package picture

import (
	"fmt"
	"math"
	"strings"

	"github.com/mattn/go-runewidth"

	"guidecoat/internal/printable"
)

// TerminalOptions says how a section is drawn on a terminal.
type TerminalOptions struct {
	Columns int      // 80 when 0
	ASCII   bool     // no character outside ASCII
	Notes   []string // said at the foot
}

// How a film's height is found: one row stands for so many mil, no film gets
// less than one row, and one thicker than maxRows is drawn cut short, with its
// number beside it telling the truth.
const (
	milPerRow = 1
	maxRows   = 6
	drawn     = 26 // columns the films themselves take
)

type glyphs struct {
	fill                      [roleCount]string
	side, edge, tooth, smooth string
	shortened, hit, perhaps   string
}

var unicodeGlyphs = glyphs{
	fill: [roleCount]string{"▓", "▓ ", "▒", "░", "+ ", "░·", "∘.", "ww", "=", "▚", " ", "≈"},
	side: "│", edge: "─", tooth: "ʌ", smooth: "─", shortened: "≀", hit: "╳", perhaps: "?",
}

var asciiGlyphs = glyphs{
	fill: [roleCount]string{"#", "# ", "%", ":", "+ ", ":.", "o.", "w", "=", "/\\", " ", "~"},
	side: "|", edge: "-", tooth: "^", smooth: "-", shortened: "~", hit: "X", perhaps: "?",
}

// Terminal draws the columns one below the other, at most o.Columns wide.
func Terminal(cols []Column, o TerminalOptions) string {
	if o.Columns == 0 {
		o.Columns = 80
	}
	g := unicodeGlyphs
	if o.ASCII {
		g = asciiGlyphs
	}
	t := &terminal{g: g, o: o}
	for i, c := range cols {
		if i > 0 {
			t.line("")
		}
		t.column(c)
	}
	t.line("")
	t.text(0, fmt.Sprintf("One row is %d mil; a film thinner than that has one row, one thicker than %d is drawn short (%s). The number beside is what is left at the end, the middle of it drawn.", milPerRow, maxRows*milPerRow, g.shortened))
	for _, note := range o.Notes {
		t.line("")
		t.text(0, printable.Visible(note))
	}
	return t.b.String()
}

type terminal struct {
	b strings.Builder
	g glyphs
	o TerminalOptions
}

func (t *terminal) line(s string) {
	if t.o.ASCII {
		s = ascii(s)
	}
	t.b.WriteString(strings.TrimRight(s, " "))
	t.b.WriteByte('\n')
}

// ascii spells the few signs of the trade that ASCII has not, and puts a
// question mark for any other.
func ascii(s string) string {
	s = strings.NewReplacer("µ", "u", "°", " deg ", "²", "2", "–", "-", "×", "x").Replace(s)
	return strings.Map(func(r rune) rune {
		if r > 0x7e {
			return '?'
		}
		return r
	}, s)
}

// text writes words wrapped to the terminal's width behind an indent.
func (t *terminal) text(indent int, words string) {
	for _, l := range printable.Wrap(words, t.o.Columns-indent) {
		t.line(strings.Repeat(" ", indent) + l)
	}
}

func (t *terminal) column(c Column) {
	head := "zone " + printable.Visible(c.Zone)
	if c.Area != "" {
		head += ", " + c.Area
	}
	if c.Parent != "" {
		head += fmt.Sprintf(", cut from %s at step %d", printable.Visible(c.Parent), c.CutStep)
	}
	t.text(0, head)
	edge := "  " + t.g.side + strings.Repeat(t.g.edge, drawn) + t.g.side
	t.line(edge)
	for _, f := range c.Films {
		t.film(f)
		if !f.Substrate {
			t.seam(f)
		}
	}
	t.line(edge)
}

func (t *terminal) film(f Film) {
	rows := 1
	short := false
	if f.Mil > 0 {
		rows = max(1, int(math.Round(f.Mil/milPerRow)))
	}
	if rows > maxRows {
		rows, short = maxRows, true
	}
	if f.Substrate {
		rows = 2
	}
	label := printable.Visible(f.Name)
	if s := stepText(f); s != "" {
		label += ", " + s
	}
	if f.Text != "" {
		label += ", " + f.Text
	}
	labels := printable.Wrap(label, t.o.Columns-drawn-6)
	rows = max(rows, len(labels))
	fill := strings.Repeat(t.g.fill[roleOf(f)], drawn)
	fill = runewidth.Truncate(fill, drawn, "")
	for i := 0; i < rows; i++ {
		body := fill
		if short && i == rows/2 {
			body = strings.Repeat(t.g.shortened, drawn)
		}
		line := "  " + t.g.side + runewidth.FillRight(body, drawn) + t.g.side
		if i < len(labels) {
			line += "  " + labels[i]
		}
		t.line(line)
	}
}

// seam is the line between a film and what it lies on: its tooth and its marks.
func (t *terminal) seam(f Film) {
	s := t.g.smooth
	said := ""
	if f.Tooth != "" {
		s, said = t.g.tooth, f.Tooth
	}
	if len(f.Marks) > 0 {
		s = t.g.perhaps
		for _, m := range f.Marks {
			if m.Will {
				s = t.g.hit
			}
		}
	}
	if n := len(f.Touched); n > 0 {
		if said != "" {
			said += "; "
		}
		said += "met " + strings.Join(f.Touched, ", ")
	}
	labels := printable.Wrap(printable.Visible(said), t.o.Columns-drawn-8)
	for i := 0; i == 0 || i < len(labels); i++ {
		line := "  " + t.g.side + strings.Repeat(s, drawn) + t.g.side
		if i > 0 {
			line = "  " + t.g.side + strings.Repeat(" ", drawn) + t.g.side
		}
		if i < len(labels) {
			line += "    " + labels[i]
		}
		t.line(line)
	}
	for _, m := range f.Marks {
		sign := t.g.perhaps
		if m.Will {
			sign = t.g.hit
		}
		t.text(4, sign+" "+printable.Visible(m.Label))
	}
}
