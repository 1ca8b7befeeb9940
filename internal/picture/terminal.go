package picture

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/mattn/go-runewidth"

	"guidecoat/internal/printable"
)

// TerminalOptions says how a section is drawn on a terminal.
type TerminalOptions struct {
	Columns int      // 80 when 0
	ASCII   bool     // no character outside ASCII
	Bare    bool     // without the words on how to read it
	Notes   []string // said at the foot
}

// How a film's height is found: one row stands for so many mil, no film gets
// less than one row, and one thicker than maxRows is drawn cut short, with its
// number beside it telling the truth.
const (
	milPerRow = 1
	maxRows   = 6
	// From so many columns on, the number stands in a column of its own, left of the film.
	gutterFrom = 60
	narrowest  = 24
)

type glyphs struct {
	fill                      [roleCount]string
	side, edge, tooth, smooth string
	shortened, hit, perhaps   string
}

var unicodeGlyphs = glyphs{
	fill: [roleCount]string{"▓", "▓ ", "▒", "░", "+ ", "░·", "∘.", "ww", "=", "▚", "/   ", "≈"},
	side: "│", edge: "─", tooth: "ʌ", smooth: "─", shortened: "≀", hit: "╳", perhaps: "?",
}

var asciiGlyphs = glyphs{
	fill: [roleCount]string{"#", "# ", "%", ":", "+ ", ":.", "o.", "w", "=", "\\", "/   ", "~"},
	side: "|", edge: "-", tooth: "^", smooth: "-", shortened: "~", hit: "X", perhaps: "?",
}

// Terminal draws the columns one below the other, at most o.Columns wide.
func Terminal(cols []Column, o TerminalOptions) string {
	t := newTerminal(o)
	t.layout(cols)
	for i, c := range cols {
		if i > 0 {
			t.line("")
		}
		t.column(c)
	}
	if !o.Bare {
		t.line("")
		t.text(0, t.shown(t.howToRead(cols)))
	}
	for _, note := range o.Notes {
		t.line("")
		t.text(0, t.shown(note))
	}
	return t.b.String()
}

// HowToRead is what stands at the foot of a drawing of the columns, for those
// who set several bare ones beside each other and say it once.
func HowToRead(cols []Column, o TerminalOptions) string {
	t := newTerminal(o)
	t.text(0, t.shown(t.howToRead(cols)))
	return t.b.String()
}

// howToRead says what the drawing does not show to scale.
func (t *terminal) howToRead(cols []Column) string {
	words := fmt.Sprintf("One row is %d mil; a film thinner than that has one row, one thicker than %d is drawn short (%s), and one whose words need more rows is drawn with them. "+
		"The number says what is left of the film, and its middle is drawn.", milPerRow, maxRows*milPerRow, t.g.shortened)
	for _, c := range cols {
		for _, f := range c.Films {
			if f.Assumed {
				return words + " * Nobody wrote how much: the film of the card, or what is usual of its kind, stands in."
			}
		}
	}
	return words
}

type terminal struct {
	b strings.Builder
	g glyphs
	o TerminalOptions

	gutter, drawn int // columns of the numbers, and of the films
}

func newTerminal(o TerminalOptions) *terminal {
	if o.Columns == 0 {
		o.Columns = 80
	}
	o.Columns = max(o.Columns, narrowest)
	t := &terminal{g: unicodeGlyphs, o: o}
	if o.ASCII {
		t.g = asciiGlyphs
	}
	return t
}

func (t *terminal) line(s string) {
	t.b.WriteString(strings.TrimRight(s, " "))
	t.b.WriteByte('\n')
}

// shown is a string of the sheet fit for this terminal; to be called before
// its width counts.
func (t *terminal) shown(s string) string {
	s = printable.Visible(s)
	if t.o.ASCII {
		s = ascii(s)
	}
	return s
}

// ascii spells the few signs of the trade that ASCII has not, and puts a
// question mark for any other.
func ascii(s string) string {
	s = strings.NewReplacer("µ", "u", "°", "deg ", "²", "2", "–", "-", "×", "x").Replace(s)
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

// row writes one row of the drawing: what is in the gutter, in the film, and beside it.
func (t *terminal) row(number, body, words string) {
	if t.gutter > 0 {
		number = strings.Repeat(" ", t.gutter-printable.Width(number)) + number + " "
	}
	line := number + t.g.side + printable.Pad(runewidth.Truncate(body, t.drawn, ""), t.drawn) + t.g.side
	if words != "" {
		line += "  " + words
	}
	t.line(line)
}

// beside is how many columns the words beside a film have.
func (t *terminal) beside() int {
	n := t.o.Columns - t.drawn - 4
	if t.gutter > 0 {
		n -= t.gutter + 1
	}
	return n
}

// layout finds how wide the films and the numbers beside them are: the same for
// all zones, as wide as the words leave it, within reason.
func (t *terminal) layout(cols []Column) {
	if t.o.Columns < gutterFrom {
		t.drawn = min(26, max(8, t.o.Columns/3))
		return
	}
	number, name := 0, 0
	for _, c := range cols {
		for _, f := range c.Films {
			number = max(number, printable.Width(t.number(f)))
		}
	}
	t.gutter = min(number, 18)
	for _, c := range cols {
		for _, f := range c.Films {
			name = max(name, printable.Width(t.name(f)))
		}
	}
	t.drawn = min(26, max(14, t.o.Columns-t.gutter-5-name))
}

func (t *terminal) column(c Column) {
	t.text(0, t.shown(headOf(c)))
	edge := strings.Repeat(t.g.edge, t.drawn)
	switch {
	case len(c.Films) == 0:
		t.row("", edge, "")
	default:
		t.seam("open face, ", c.Films[0].Face, c.Films[0].OnTop)
	}
	for i, f := range c.Films {
		t.film(f)
		switch {
		case f.Substrate:
			t.row("", edge, "")
		case i+1 < len(c.Films) && len(c.Films[i+1].OnTop) > 0:
			t.seam("", f.Surface, slices.Concat(f.Marks, c.Films[i+1].OnTop))
		default:
			t.seam("", f.Surface, f.Marks)
		}
	}
}

// number is what is left of a film, for the gutter.
func (t *terminal) number(f Film) string {
	short := t.shown(f.Short)
	if f.Assumed && short != "" {
		return short + "*"
	}
	return short
}

// name is what stands beside a film: with the number, where that has no gutter.
func (t *terminal) name(f Film) string {
	label := t.shown(f.Name)
	if s := stepText(f); s != "" {
		label += ", " + s
	}
	if f.Fades {
		label += ", fades out"
	}
	if n := t.number(f); t.gutter == 0 && n != "" {
		label += ", " + n
	}
	return label
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
	labels := printable.Wrap(t.name(f), t.beside())
	var numbers []string
	if t.gutter > 0 {
		numbers = printable.Wrap(t.number(f), t.gutter)
	}
	rows = max(rows, len(labels), len(numbers))
	fill := strings.Repeat(t.g.fill[roleOf(f)], t.drawn)
	for i := range rows {
		body := fill
		if short && i == rows/2 {
			body = strings.Repeat(t.g.shortened, t.drawn)
		}
		if i == rows/2 && len(f.Within) > 0 {
			sign := t.sign(f.Within)
			body = printable.Pad(runewidth.Truncate(body, t.drawn/2-1, ""), t.drawn/2-1) + " " + sign + " " + body
		}
		t.row(nth(numbers, i), body, nth(labels, i))
	}
	t.say(f.Within)
}

func nth(list []string, i int) string {
	if i < len(list) {
		return list[i]
	}
	return ""
}

// seam is the line of a face: its tooth, what it met, and its marks.
func (t *terminal) seam(which string, of Surface, marks []Mark) {
	sign := t.g.smooth
	if of.Tooth != "" {
		sign = t.g.tooth
	}
	if len(marks) > 0 {
		sign = t.sign(marks)
	}
	said := surfaceText("", of)
	if said != "" {
		said = which + said
	}
	labels := printable.Wrap(t.shown(said), t.beside()-2)
	words := nth(labels, 0)
	if words != "" {
		words = "  " + words
	}
	t.row("", strings.Repeat(sign, t.drawn), words)
	for _, l := range labels[min(1, len(labels)):] { // no row of the drawing: it would look like a film
		t.line(strings.Repeat(" ", t.o.Columns-t.beside()+2) + l)
	}
	t.say(marks)
}

// sign is what a line with marks is drawn with.
func (t *terminal) sign(marks []Mark) string {
	if certain(marks) {
		return t.g.hit
	}
	return t.g.perhaps
}

// say writes marks in words, under the line they are on.
func (t *terminal) say(marks []Mark) {
	indent := 4
	if t.gutter > 0 {
		indent = t.gutter + 3
	}
	for _, m := range marks {
		t.text(indent, t.sign([]Mark{m})+" "+t.shown(m.Label))
	}
}
