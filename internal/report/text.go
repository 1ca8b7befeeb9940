package report

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"github.com/fatih/color"

	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
)

// TextOptions says how a report looks on a terminal.
type TextOptions struct {
	Columns int  // 80 when 0
	Color   bool // colors beside the words, never instead of them
	Quiet   bool // verdict lines only
}

// The left edge of what belongs to a finding, and of its paragraphs.
const (
	indentVerdict = 9
	indentText    = 13
)

// Text writes the report a person reads: a verdict line, the pair of films as
// they lie, and what to know.
func Text(w io.Writer, sheets []Judged, o TextOptions) error {
	if o.Columns == 0 {
		o.Columns = 80
	}
	t := &textWriter{w: bufio.NewWriter(w), o: o}
	t.inks()
	for i, j := range sheets {
		if i > 0 && !o.Quiet {
			t.line("")
		}
		t.sheet(j)
	}
	if !o.Quiet {
		t.foot(sheets)
	}
	return t.w.Flush()
}

type textWriter struct {
	w *bufio.Writer
	o TextOptions

	fails, risk, advice, faint, strong func(a ...any) string
}

func (t *textWriter) inks() {
	ink := func(attributes ...color.Attribute) func(a ...any) string {
		c := color.New(attributes...)
		if t.o.Color {
			c.EnableColor()
		} else {
			c.DisableColor()
		}
		return c.SprintFunc()
	}
	t.fails = ink(color.FgRed, color.Bold)
	t.risk = ink(color.FgYellow, color.Bold)
	t.advice = ink(color.FgBlue)
	t.faint = ink(color.Faint)
	t.strong = ink(color.Bold)
}

func (t *textWriter) line(s string) {
	t.w.WriteString(strings.TrimRight(s, " "))
	t.w.WriteByte('\n')
}

func (t *textWriter) gradeWord(grade string) string {
	word := printable.Pad(strings.ToUpper(grade), 6)
	switch grade {
	case "fails":
		return t.fails(word)
	case "risk":
		return t.risk(word)
	}
	return t.advice(word)
}

// headName is a sheet's name as its part of the report begins with it: in
// quotes where a blank at its front would let it look like a verdict.
func headName(file string) string {
	name := printable.Visible(file)
	if strings.TrimLeftFunc(name, unicode.IsSpace) != name {
		return `"` + name + `"`
	}
	return name
}

func (t *textWriter) sheet(j Judged) {
	name := headName(j.File)
	if !j.Readable() {
		t.unreadable(j)
		if len(j.Result.Findings) == 0 {
			return
		}
		// What could be judged is told all the same.
		if !t.o.Quiet {
			t.line("")
		}
	}
	if len(j.Result.Findings)+len(j.Result.Waived)+len(j.Result.Off)+len(j.Known) == 0 {
		if !t.o.Quiet {
			t.line(t.strong(name) + ": no fault found")
		}
		return
	}
	if !t.o.Quiet {
		t.line(t.strong(name))
	}
	for i, f := range j.Result.Findings {
		if t.o.Quiet {
			t.quietLine(t.gradeWord(f.Grade), f)
			continue
		}
		if i > 0 {
			t.line("")
		}
		t.finding(j, f)
	}
	t.known(j)
	if t.o.Quiet {
		return
	}
	if len(j.Result.Findings)+len(j.Known) == 0 {
		t.line("  no fault found that is not waived or switched off")
	}
	for _, f := range j.Result.Waived {
		t.line("")
		t.waived(f)
	}
	for _, off := range j.Result.Off {
		t.line("")
		t.wrapped("  OFF    ", indentVerdict, fmt.Sprintf("%s is switched off by the house file: %s", off.Rule, printable.Visible(off.Reason)))
	}
}

func (t *textWriter) unreadable(j Judged) {
	name := headName(j.File)
	if !t.o.Quiet {
		if len(j.Problems) > 0 {
			t.line(t.strong(name) + ": cannot be read, so nothing in it was judged")
		} else {
			t.line(t.strong(name) + ": not every rule could be judged")
		}
	}
	for _, p := range j.Problems {
		at := name
		if p.Place.File != "" {
			at = printable.Visible(p.Place.File)
		}
		if p.Place.Line > 0 {
			at += fmt.Sprintf(", line %d, column %d", p.Place.Line, p.Place.Column)
		}
		if t.o.Quiet {
			t.line(fmt.Sprintf("UNREADABLE %s: %s", at, printable.Visible(p.Message)))
			continue
		}
		t.line("")
		t.wrapped("  "+t.fails("CANNOT READ")+"  ", 15, at)
		message := printable.Visible(p.Message)
		if p.Key != "" {
			message = printable.Visible(p.Key) + ": " + message
		}
		t.paragraph(15, message)
	}
	for _, b := range j.Result.Broke {
		if t.o.Quiet {
			t.line(fmt.Sprintf("UNREADABLE %s: rule %s broke: %s", name, printable.Visible(b.Rule), printable.Visible(b.Message)))
			continue
		}
		t.line("")
		t.wrapped("  "+t.fails("RULE BROKE")+"   ", 15, printable.Visible(b.Rule)+": "+printable.Visible(b.Message))
	}
}

// where is "step 6, dent: " before a message.
func where(f rulebook.Finding) string {
	var b strings.Builder
	if f.Step != nil && *f.Step > 0 {
		fmt.Fprintf(&b, "step %d", *f.Step)
		if f.Call != nil && *f.Call != "" {
			fmt.Fprintf(&b, " (%s)", printable.Visible(*f.Call))
		}
	}
	if n := len(f.Zones); n > 0 && (n > 1 || f.Zones[0] != "panel") {
		if b.Len() > 0 {
			b.WriteString(", ")
		}
		zones := f.Zones
		more := ""
		if n > 4 {
			zones, more = zones[:3], fmt.Sprintf(" and %d more zones", n-3)
		}
		b.WriteString(printable.Visible(strings.Join(zones, ", ")) + more)
	}
	if b.Len() > 0 {
		b.WriteString(": ")
	}
	return b.String()
}

func (t *textWriter) quietLine(word string, f rulebook.Finding) {
	t.line(fmt.Sprintf("%s %s:%d:%d %s%s [%s]", word, printable.Visible(f.File), f.Line, f.Column, where(f), printable.Visible(f.Message), f.Rule))
}

func (t *textWriter) finding(j Judged, f rulebook.Finding) {
	t.verdict("  "+t.gradeWord(f.Grade)+" ", f)
	places := fmt.Sprintf("line %d, column %d", f.Line, f.Column)
	if f.File != "" && f.File != j.File { // a card on a shelf, say
		places = printable.Visible(f.File) + ", " + places
	}
	for _, r := range f.Related {
		if r.Line > 0 {
			text := printable.Visible(r.Text)
			if strings.Contains(text, ", ") {
				text += ","
			}
			places += fmt.Sprintf("; %s is line %d", text, r.Line)
			if r.File != f.File {
				places += " of " + printable.Visible(r.File)
			}
		}
	}
	if f.Certainty == "may" {
		places += "; it may come, it need not"
	}
	t.paragraph(indentVerdict, places)
	if f.Grade == "advice" {
		t.note("do", f.Remedy)
		if f.People {
			t.note("caution", caution(f))
		}
		return
	}
	t.pair(f)
	t.line("")
	t.note("why", f.Why)
	t.note("do", f.Remedy)
	t.note("caution", caution(f))
	t.note("source", strings.Join(f.Source, "; "))
}

// known counts what the baseline holds. What guards people is told all the
// same, with its caution.
func (t *textWriter) known(j Judged) {
	for _, f := range j.Known {
		switch {
		case !f.People:
		case t.o.Quiet:
			t.quietLine("KNOWN", f)
		default:
			if len(j.Result.Findings) > 0 || f.ID != j.Known[0].ID {
				t.line("")
			}
			t.verdict("  KNOWN  ", f)
			t.paragraph(indentVerdict, "line "+strconv.Itoa(f.Line)+"; from the baseline")
			t.note("caution", caution(f))
		}
	}
	if t.o.Quiet || len(j.Known) == 0 {
		return
	}
	if len(j.Result.Findings) > 0 || slices.ContainsFunc(j.Known, func(f rulebook.Finding) bool { return f.People }) {
		t.line("")
		t.line("  " + knownWords(len(j.Known)))
		return
	}
	t.line("  nothing new; " + knownWords(len(j.Known)))
}

func (t *textWriter) waived(f rulebook.Finding) {
	t.verdict("  WAIVED ", f)
	said := "line " + strconv.Itoa(f.Line)
	if f.Waiver != nil {
		said += "; " + printable.Visible(f.Waiver.Reason)
		if f.Waiver.By != nil {
			said += ", by " + printable.Visible(*f.Waiver.By)
		}
		if f.Waiver.Until != nil {
			said += ", until " + *f.Waiver.Until
		}
	}
	t.paragraph(indentVerdict, said)
	if f.People {
		t.note("caution", caution(f))
	}
}

// verdict writes the headline with the rule's name at the right edge.
func (t *textWriter) verdict(head string, f rulebook.Finding) {
	lines := printable.Wrap(where(f)+printable.Visible(f.Message), t.o.Columns-indentVerdict)
	for i, l := range lines {
		left := strings.Repeat(" ", indentVerdict)
		if i == 0 {
			left = head
		}
		if i == len(lines)-1 && indentVerdict+printable.Width(l)+2+printable.Width(f.Rule) <= t.o.Columns {
			l = printable.Pad(l, t.o.Columns-indentVerdict-printable.Width(f.Rule)) + t.faint(f.Rule)
			t.line(left + l)
			return
		}
		t.line(left + l)
	}
	t.line(strings.Repeat(" ", max(0, t.o.Columns-printable.Width(f.Rule))) + t.faint(f.Rule))
}

// wrapped writes text behind head, further lines indented.
func (t *textWriter) wrapped(head string, indent int, text string) {
	for i, l := range printable.Wrap(text, t.o.Columns-indent) {
		if i == 0 {
			t.line(head + l)
			continue
		}
		t.line(strings.Repeat(" ", indent) + l)
	}
}

func (t *textWriter) paragraph(indent int, text string) {
	t.wrapped(strings.Repeat(" ", indent), indent, text)
}

// note writes a labelled paragraph, the label right-aligned before it.
func (t *textWriter) note(label, text string) {
	if strings.TrimSpace(text) == "" {
		return
	}
	head := strings.Repeat(" ", indentText-2-len(label)) + t.faint(label) + "  "
	t.wrapped(head, indentText, printable.Visible(strings.ReplaceAll(text, "\n", " ")))
}

// pair draws the two films a finding is about, as they lie.
func (t *textWriter) pair(f rulebook.Finding) {
	if f.Pair == nil {
		return
	}
	mark := "╳ here: " + f.Defect
	if f.Certainty == "may" {
		mark = "? here: " + f.Defect + " may come"
	}
	t.line("")
	t.film("┌ ", f.Pair.Upper)
	t.line(strings.Repeat(" ", indentVerdict) + t.gradeInk(f.Grade)(printable.Visible(mark)))
	t.film("└ ", f.Pair.Lower)
	if below := f.Pair.Beneath; below != "" {
		t.line(strings.Repeat(" ", indentVerdict+2) + printable.Visible(below))
	}
}

func (t *textWriter) gradeInk(grade string) func(a ...any) string {
	if grade == "fails" {
		return t.fails
	}
	return t.risk
}

func (t *textWriter) film(edge string, l rulebook.Film) {
	name := printable.Visible(l.Name)
	if room := t.o.Columns - indentVerdict - 2 - 26; printable.Width(name) > room {
		name = printable.Wrap(name, room)[0]
	}
	text := printable.Pad(name, 34)
	if l.Step > 0 {
		text = printable.Pad(text+"  "+fmt.Sprintf("step %d", l.Step), 45)
	} else {
		text = printable.Pad(text+"  was there", 45)
	}
	if l.Laid != "" {
		text += "  " + l.Laid
	}
	t.line(strings.Repeat(" ", indentVerdict) + edge + text)
}

func (t *textWriter) foot(sheets []Judged) {
	c := Count(sheets)
	t.line("")
	t.paragraph(0, countLine(c))
	if n := goneFrom(sheets); n > 0 {
		t.paragraph(0, goneWords(n))
	}
	t.paragraph(0, LastLine(c))
}

// goneFrom is how many entries of the baseline stand for nothing any more.
func goneFrom(sheets []Judged) int {
	n := 0
	for _, j := range sheets {
		n += j.Gone
	}
	return n
}

func goneWords(n int) string {
	if n == 1 {
		return "1 entry of the baseline stands for nothing any more; --keep-baseline writes it anew."
	}
	return fmt.Sprintf("%d entries of the baseline stand for nothing any more; --keep-baseline writes it anew.", n)
}

func countLine(c Counts) string {
	parts := []string{}
	add := func(n int, words string) {
		if n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, words))
		}
	}
	fail := "fail"
	if c.Fails == 1 {
		fail = "fails"
	}
	add(c.Unreadable, "cannot be read")
	add(c.Fails, fail)
	add(c.Risk, "at risk")
	// Advice alone would read as if something had been found amiss.
	if c.Unreadable+c.Fails+c.Risk == 0 && c.Advice > 0 {
		parts = append(parts, "nothing fails, nothing is at risk")
	}
	add(c.Advice, "for advice")
	add(c.Waived, "waived")
	add(c.Known, "known from the baseline")
	if len(parts) == 0 {
		parts = append(parts, "no fault found")
	}
	noun := "sheets"
	if c.Sheets == 1 {
		noun = "sheet"
	}
	return fmt.Sprintf("%d %s: %s.", c.Sheets, noun, strings.Join(parts, ", "))
}
