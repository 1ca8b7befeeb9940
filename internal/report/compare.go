package report

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"

	"guidecoat/internal/compare"
	"guidecoat/internal/plan"
	"guidecoat/internal/printable"
)

// Compared is one sheet in two revisions. Of two folders a sheet may be in one
// alone: the other is nil. Where a side could not be read, nothing is compared.
type Compared struct {
	Old, New   *Judged
	Comparison compare.Comparison
}

// Readable tells whether what there is of both sides could be judged.
func (c Compared) Readable() bool {
	return (c.Old == nil || c.Old.Readable()) && (c.New == nil || c.New.Readable())
}

// shown tells whether there is a comparison: a side with problems has none.
func (c Compared) shown() bool {
	return (c.Old == nil || c.Old.Doc != nil) && (c.New == nil || c.New.Doc != nil)
}

// CompareCounts is the sum over all pairs.
type CompareCounts struct {
	Pairs      int `json:"pairs"`
	Unreadable int `json:"unreadable"` // pairs with a side that could not be judged whole
	Gone       int `json:"gone"`
	New        int `json:"new"`
	Kept       int `json:"kept"`
	Worse      int `json:"worse"` // among the kept
}

// CountCompared adds up what changed.
func CountCompared(pairs []Compared) CompareCounts {
	var n CompareCounts
	for _, c := range pairs {
		n.Pairs++
		if !c.Readable() {
			n.Unreadable++
		}
		f := c.Comparison.Findings
		n.Gone, n.New, n.Kept = n.Gone+len(f.Gone), n.New+len(f.New), n.Kept+len(f.Kept)
		for _, k := range f.Kept {
			if k.Worse {
				n.Worse++
			}
		}
	}
	return n
}

// compareLastLine is the closing line of a comparison: a change for the better
// is no promise either.
const compareLastLine = "Nothing here says that the work is safe; it says what changed among the faults this rulebook knows."

type comparedJSON struct {
	Readable bool        `json:"readable"`
	Errors   []jsonError `json:"errors"` // of both sides
	compare.Comparison
}

// CompareJSON writes the comparison scripts read: one object. Lists are never null.
func CompareJSON(w io.Writer, pairs []Compared, version string) error {
	out := struct {
		Guidecoat jsonHead       `json:"guidecoat"`
		Pairs     []comparedJSON `json:"pairs"`
		Counts    CompareCounts  `json:"counts"`
		Note      string         `json:"note"`
	}{jsonHead{version, 1}, []comparedJSON{}, CountCompared(pairs), compareLastLine}
	for _, c := range pairs {
		p := comparedJSON{Readable: c.Readable(), Errors: []jsonError{}, Comparison: c.Comparison}
		for _, side := range []*Judged{c.Old, c.New} {
			if side != nil {
				p.Errors = append(p.Errors, jsonErrors(*side)...)
			}
		}
		out.Pairs = append(out.Pairs, p)
	}
	return printable.JSON(w, out)
}

// name is what a pair is called: its title, number and revisions.
func (c Compared) name() string {
	old, new := c.Comparison.Old, c.Comparison.New
	side := new
	if side == nil {
		side = old
	}
	if side == nil {
		return ""
	}
	of := side.Number
	switch {
	case old != nil && new != nil && old.Revision != new.Revision:
		of += " " + orNone(old.Revision) + " to " + orNone(new.Revision)
	case side.Revision != "":
		of += " " + side.Revision
	}
	if of = strings.TrimSpace(of); of != "" {
		return side.Title + " (" + of + ")"
	}
	return side.Title
}

func orNone(s string) string {
	if s == "" {
		return "none"
	}
	return s
}

// stepNow is "step 7, was 6": what a finding's step was called before.
func stepNow(k compare.Kept) string {
	switch {
	case k.Was.Step == nil || k.Step == nil || *k.Was.Step == *k.Step || *k.Step == 0:
		return ""
	}
	return fmt.Sprintf("was step %d", *k.Was.Step)
}

// keptHow says what became of a finding that is on both sides.
func keptHow(k compare.Kept) []string {
	var said []string
	if k.Was.Grade != k.Grade {
		said = append(said, "was "+strings.ToUpper(k.Was.Grade))
	}
	if s := stepNow(k); s != "" {
		said = append(said, s)
	}
	if k.Worse && len(k.Zones) > len(k.Was.Zones) {
		said = append(said, "in more zones than before")
	}
	switch {
	case k.Waived && !k.Was.Waived:
		said = append(said, "waived now")
	case !k.Waived && k.Was.Waived:
		said = append(said, "no longer waived")
	case k.Waived:
		said = append(said, "waived")
	}
	return said
}

// row is a quantity before and after.
type row struct{ name, old, new string }

// table is some rows under a heading; same counts what did not change.
type table struct {
	head string
	rows []row
	same int
}

// tables are what is measured, as far as it changed.
func tables(c compare.Comparison) []table {
	var out []table
	if c.Old == nil || c.New == nil {
		return nil
	}
	add := func(t table) {
		if len(t.rows)+t.same > 0 {
			out = append(out, t)
		}
	}
	out = filmTables(c)
	clock := table{head: "Clock"}
	clock.add("from first to last step", "", c.Clock.Elapsed)
	for _, w := range c.Clock.Windows {
		if !w.Changed() {
			clock.same++
			continue
		}
		r := row{w.Upper + " on " + w.Lower + zonesOf(w.Zones), waited(w.Wait.Old, w.Least.Old, w.Most.Old), waited(w.Wait.New, w.Least.New, w.Most.New)}
		clock.rows = append(clock.rows, r.without(w.Change))
	}
	add(clock)
	voc := table{head: "VOC"}
	for _, v := range c.Voc {
		voc.add(v.Name, v.Change, v.Values)
	}
	add(voc)
	buy := table{head: "To buy"}
	for _, b := range c.Buy {
		if !b.Changed {
			buy.same++
			continue
		}
		buy.rows = append(buy.rows, row{b.Name, poured(b.Old), poured(b.New)})
	}
	if c.Litres.Changed {
		buy.rows = append(buy.rows, row{"all mixed", inGallons(c.Litres.Old, c.Gallons.Old), inGallons(c.Litres.New, c.Gallons.New)})
	}
	add(buy)
	return out
}

// filmTables are the films of the zones; zones in which the same changed are
// told together.
func filmTables(c compare.Comparison) []table {
	var out []table
	var zones [][]string
	for _, z := range c.Films {
		var t table
		t.add("all paint", z.Change, z.Paint)
		if z.Filler.Changed {
			t.add("filler", z.Change, z.Filler)
		}
		for _, f := range z.Films {
			t.add(f.Name, f.Change, f.Values)
		}
		name := z.Zone
		if z.Change != "" {
			name += ", which is " + z.Change
		}
		if i := slices.IndexFunc(out, func(o table) bool { return slices.Equal(o.rows, t.rows) }); i >= 0 {
			out[i].same += t.same
			zones[i] = append(zones[i], name)
			continue
		}
		out, zones = append(out, t), append(zones, []string{name})
	}
	for i, names := range zones {
		out[i].head = "Films of zone " + names[0]
		if len(names) > 1 {
			out[i].head = "Films of zones " + strings.Join(names, ", ")
		}
	}
	return out
}

func (t *table) add(name, change string, v compare.Values) {
	if !v.Changed {
		t.same++
		return
	}
	t.rows = append(t.rows, row{name, amount(v.Old), amount(v.New)}.without(change))
}

// without is a row of what is on one side alone.
func (r row) without(change string) row {
	switch change {
	case "new":
		r.old = "none"
	case "gone":
		r.new = "none"
	}
	return r
}

func amount(a *plan.Amount) string {
	if a == nil {
		return "not known"
	}
	return a.Text
}

// poured is a volume in both units.
func poured(b *plan.Both) string {
	switch {
	case b == nil || b.Metric == nil:
		return "none"
	case b.US == nil:
		return b.Metric.Text
	}
	return b.Metric.Text + " (" + b.US.Text + ")"
}

func inGallons(litres, gallons *plan.Amount) string {
	if litres == nil || gallons == nil {
		return "not known"
	}
	return litres.Text + " (" + gallons.Text + ")"
}

// waited is a wait with the window it has to meet.
func waited(wait, least, most *plan.Amount) string {
	said := "not written"
	if wait != nil {
		said = wait.Text
	}
	var window []string
	if least != nil {
		window = append(window, "from "+least.Text)
	}
	if most != nil {
		window = append(window, "until "+most.Text)
	}
	if len(window) == 0 {
		return said
	}
	return said + " (open " + strings.Join(window, ", ") + ")"
}

func zonesOf(zones []string) string {
	if len(zones) == 1 && zones[0] == "panel" {
		return ""
	}
	if len(zones) > 3 {
		return fmt.Sprintf(", %s and %d more zones", strings.Join(zones[:2], ", "), len(zones)-2)
	}
	return ", " + strings.Join(zones, ", ")
}

// stepLine tells what became of a step.
func stepLine(s compare.StepChange) string {
	name := s.Name
	if s.Call != "" {
		name += " (" + s.Call + ")"
	}
	switch {
	case s.New == nil:
		return fmt.Sprintf("it was step %d: %s", *s.Old, name)
	case s.Old == nil || *s.Old == *s.New:
		return fmt.Sprintf("step %d: %s", *s.New, name)
	}
	return fmt.Sprintf("step %d, was %d: %s", *s.New, *s.Old, name)
}

// keyLine tells what is written otherwise in a step.
func keyLine(k compare.KeyChange) string {
	switch {
	case k.Old == nil:
		return k.Key + " = " + *k.New + " (was not written)"
	case k.New == nil:
		return k.Key + " is no longer written (was " + *k.Old + ")"
	}
	return k.Key + " = " + *k.New + " (was " + *k.Old + ")"
}

// CompareText writes a comparison for a person at a terminal.
func CompareText(w io.Writer, pairs []Compared, o TextOptions) error {
	if o.Columns == 0 {
		o.Columns = 80
	}
	t := &textWriter{w: bufio.NewWriter(w), o: o}
	t.inks()
	some := false
	for _, c := range pairs {
		if len(pairs) > 1 && c.Readable() && !changed(c) {
			continue // counted at the foot
		}
		if some && !o.Quiet {
			t.line("")
		}
		some = true
		t.compared(c)
	}
	if !o.Quiet {
		if some {
			t.line("")
		}
		t.paragraph(0, compareCountLine(pairs))
		t.paragraph(0, compareLastLine)
	}
	return t.w.Flush()
}

// changed tells whether there is anything to tell of a pair.
func changed(c Compared) bool {
	f := c.Comparison.Findings
	if c.Old == nil || c.New == nil || len(f.Gone)+len(f.New)+len(c.Comparison.Steps) > 0 {
		return true
	}
	if slices.ContainsFunc(f.Kept, func(k compare.Kept) bool { return k.Worse || k.Was.Grade != k.Grade || k.Waived != k.Was.Waived }) {
		return true
	}
	return slices.ContainsFunc(tables(c.Comparison), func(t table) bool { return len(t.rows) > 0 })
}

func (t *textWriter) compared(c Compared) {
	if !t.o.Quiet {
		if name := c.name(); name != "" {
			t.wrapped(t.strong(""), 2, t.strong(printable.Visible(name)))
		}
		t.wrapped("  old  ", 7, sideName(c.Old, "not in this folder"))
		t.wrapped("  new  ", 7, sideName(c.New, "not in this folder"))
	}
	for _, side := range []*Judged{c.Old, c.New} {
		if side != nil && !side.Readable() {
			if !t.o.Quiet {
				t.line("")
			}
			t.unreadable(*side)
		}
	}
	if !c.shown() {
		return
	}
	f := c.Comparison.Findings
	for _, x := range f.Gone {
		t.comparedFinding("GONE", c.Old, x, []string{"was " + strings.ToUpper(x.Grade)}, false)
	}
	for _, x := range f.New {
		how := []string{strings.ToUpper(x.Grade)}
		if x.Waived {
			how = append(how, "waived")
		}
		t.comparedFinding("NEW", c.New, x, how, true)
	}
	for _, k := range f.Kept {
		t.comparedFinding(keptWord(k), c.New, k.Told, append([]string{strings.ToUpper(k.Grade)}, keptHow(k)...), k.Worse)
	}
	if t.o.Quiet {
		return
	}
	if len(f.Gone)+len(f.New)+len(f.Kept) == 0 {
		t.line("")
		t.line("  no fault found, before or now")
	}
	t.comparedSteps(c)
	all := tables(c.Comparison)
	if len(all) > 0 && !slices.ContainsFunc(all, func(t table) bool { return len(t.rows) > 0 }) {
		t.line("")
		t.line("  films, clock, VOC and cans: as before")
		return
	}
	for _, tab := range all {
		t.comparedTable(tab)
	}
}

func keptWord(k compare.Kept) string {
	if k.Worse {
		return "WORSE"
	}
	return "KEPT"
}

func sideName(j *Judged, none string) string {
	if j == nil {
		return none
	}
	return printable.Visible(j.File)
}

// comparedFinding writes one finding: what became of it, its grade, and where
// it stands; and of what is new, what to do and what to mind. What guards people
// is told with its caution however long it has been known.
func (t *textWriter) comparedFinding(word string, side *Judged, f compare.Told, how []string, teach bool) {
	ink := t.faint
	switch {
	case teach && f.Grade != "advice":
		ink = t.gradeInk(f.Grade)
	case word == "GONE":
		ink = t.strong
	}
	if t.o.Quiet {
		t.line(fmt.Sprintf("%s %s %s:%d:%d %s%s [%s]", printable.Pad(word, 5), strings.Join(how, ", "), printable.Visible(f.File), f.Line, f.Column, where(f.Finding), printable.Visible(f.Message), f.Rule))
		return
	}
	t.line("")
	t.verdict("  "+ink(printable.Pad(word, 6))+" ", f.Finding)
	place := fmt.Sprintf("line %d", f.Line)
	if side != nil && f.File != side.File {
		place = printable.Visible(f.File) + ", " + place
	}
	t.paragraph(indentVerdict, strings.Join(append(how, place), ", "))
	if teach {
		t.note("do", f.Remedy)
	}
	if word != "GONE" && (f.People || teach && f.Grade != "advice") {
		t.note("caution", caution(f.Finding))
	}
}

func (t *textWriter) comparedSteps(c Compared) {
	if len(c.Comparison.Steps) == 0 || c.Old == nil || c.New == nil {
		return
	}
	t.line("")
	t.line("  " + t.strong("Steps"))
	for _, s := range c.Comparison.Steps {
		t.wrapped("    "+printable.Pad(s.Change, 9)+"  ", 15, printable.Visible(stepLine(s)))
		for _, k := range s.Keys {
			t.wrapped(strings.Repeat(" ", 17), 19, printable.Visible(keyLine(k)))
		}
	}
}

// The columns of a table: what is measured, before, now.
const (
	tableName = 34
	tableOld  = 21
)

func (t *textWriter) comparedTable(tab table) {
	t.line("")
	head := printable.Visible(tab.head)
	if len(tab.rows) == 0 {
		t.wrapped("  ", 4, head+": as before")
		return
	}
	const room = 2 + tableName
	lines := printable.Wrap(head, room-2)
	for i, l := range lines {
		over := ""
		if i == len(lines)-1 {
			over = strings.Repeat(" ", max(0, room-printable.Width(l))) + t.faint(printable.Pad("before", tableOld)+"now")
		}
		t.line("  " + t.strong(l) + over)
	}
	for _, r := range tab.rows {
		name := printable.Wrap(printable.Visible(r.name), tableName-2)
		old := printable.Wrap(printable.Visible(r.old), tableOld-2)
		now := printable.Wrap(printable.Visible(r.new), t.o.Columns-4-tableName-tableOld)
		for i := range max(len(name), len(old), len(now)) {
			t.line("    " + printable.Pad(at(name, i), tableName) + printable.Pad(at(old, i), tableOld) + at(now, i))
		}
	}
	if tab.same > 0 {
		t.line("    " + sameWords(tab.same))
	}
}

func sameWords(n int) string {
	if n == 1 {
		return "1 other is as before"
	}
	return fmt.Sprintf("%d others are as before", n)
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}

func compareCountLine(pairs []Compared) string {
	n := CountCompared(pairs)
	same := 0
	for _, c := range pairs {
		if c.Readable() && !changed(c) {
			same++
		}
	}
	words := fmt.Sprintf("%d gone, %d new, %d kept", n.Gone, n.New, n.Kept)
	if n.Worse > 0 {
		words += fmt.Sprintf(" (%d of them worse)", n.Worse)
	}
	if n.Unreadable > 0 {
		words += fmt.Sprintf("; %d cannot be compared whole", n.Unreadable)
	}
	if n.Pairs == 1 {
		return words + "."
	}
	if same > 0 {
		words += fmt.Sprintf("; %d unchanged", same)
	}
	return fmt.Sprintf("%d sheets: %s.", n.Pairs, words)
}

// CompareMarkdown writes a comparison fit for a comment on a merge request. One
// of more than most characters (MarkdownMost when 0) leaves out what matters
// least, and says so.
func CompareMarkdown(w io.Writer, pairs []Compared, most int) error {
	if most == 0 {
		most = MarkdownMost
	}
	n := CountCompared(pairs)
	b := &strings.Builder{}
	b.WriteString("## Guidecoat: what changed\n\n")
	b.WriteString("| sheets | cannot be compared whole | gone | new | kept | worse |\n| ---: | ---: | ---: | ---: | ---: | ---: |\n")
	fmt.Fprintf(b, "| %d | %d | %d | %d | %d | %d |\n", n.Pairs, n.Unreadable, n.Gone, n.New, n.Kept, n.Worse)
	heads := make([]string, len(pairs))
	var blocks []block
	for i, c := range pairs {
		heads[i] = "\n### Sheet " + plainMarkdown(comparedName(c)) + "\n\n"
		blocks = append(blocks, comparedBlocks(i, c)...)
	}
	return assemble(w, b, blocks, heads, "\n"+compareLastLine+"\n", most, commentWords{"guidecoat compare", "nothing changed"})
}

func comparedName(c Compared) string {
	file := ""
	switch {
	case c.Old == nil:
		file = c.New.File + ", which is new"
	case c.New == nil:
		file = c.Old.File + ", which is gone"
	default:
		file = c.Old.File + " to " + c.New.File
	}
	if name := c.name(); name != "" {
		return name + ": " + file
	}
	return file
}

func comparedBlocks(i int, c Compared) []block {
	if c.Readable() && !changed(c) {
		return []block{{sheet: i, rank: rankClean, text: "- " + plainMarkdown(comparedName(c)) + "\n"}}
	}
	var blocks []block
	add := func(rank int, text string) {
		if text != "" {
			blocks = append(blocks, block{sheet: i, rank: rank, text: text})
		}
	}
	for _, side := range []*Judged{c.Old, c.New} {
		if side != nil && !side.Readable() {
			b := &strings.Builder{}
			markdownUnread(b, *side)
			add(rankUnread, b.String())
		}
	}
	if !c.shown() {
		return blocks
	}
	finding := func(word string, f compare.Told, how []string, teach bool) {
		b := &strings.Builder{}
		fmt.Fprintf(b, "- **%s** %s (%s, %s, line %d)\n", word, plainMarkdown(where(f.Finding)+f.Message), strings.Join(how, ", "), plainMarkdown(f.Rule), f.Line)
		rank := rankSetAside
		switch {
		case teach:
			markdownNotes(b, [][2]string{{"Why", f.Why}, {"Do", f.Remedy}, {"Caution", caution(f.Finding)}})
			rank = gradeRank(f.Grade)
		case f.People && word != "GONE":
			markdownNotes(b, [][2]string{{"Caution", caution(f.Finding)}})
			rank = rankPeople
		}
		add(rank, b.String())
	}
	f := c.Comparison.Findings
	for _, x := range f.New {
		how := []string{x.Grade}
		if x.Waived {
			how = append(how, "waived")
		}
		finding("NEW", x, how, true)
	}
	for _, k := range f.Kept {
		finding(keptWord(k), k.Told, append([]string{k.Grade}, keptHow(k)...), k.Worse)
	}
	for _, x := range f.Gone {
		finding("GONE", x, []string{"was " + x.Grade}, false)
	}
	if c.Old != nil && c.New != nil {
		add(rankAdvice, markdownMeasures(c.Comparison))
	}
	return blocks
}

// markdownMeasures are the steps and the tables, folded away.
func markdownMeasures(c compare.Comparison) string {
	b := &strings.Builder{}
	rows := 0
	for _, t := range tables(c) {
		for i, r := range t.rows {
			if i == 0 {
				fmt.Fprintf(b, "\n| %s | before | now |\n| --- | --- | --- |\n", plainMarkdown(t.head))
			}
			fmt.Fprintf(b, "| %s | %s | %s |\n", plainMarkdown(r.name), plainMarkdown(r.old), plainMarkdown(r.new))
			rows++
		}
	}
	if len(c.Steps) > 0 {
		b.WriteString("\n")
	}
	for _, s := range c.Steps {
		fmt.Fprintf(b, "- %s: %s\n", s.Change, plainMarkdown(stepLine(s)))
		for _, k := range s.Keys {
			fmt.Fprintf(b, "  - %s\n", plainMarkdown(keyLine(k)))
		}
	}
	if b.Len() == 0 {
		return ""
	}
	return "\n<details><summary>films, clock, VOC, cans and steps</summary>\n" + b.String() + "\n</details>\n"
}

// gradeRank is when a finding of that grade is left out of a comment.
func gradeRank(grade string) int {
	switch grade {
	case "fails":
		return rankFails
	case "risk":
		return rankRisk
	}
	return rankAdvice
}

// jsonErrors are a sheet's problems and the rules that broke over it.
func jsonErrors(j Judged) []jsonError {
	out := []jsonError{}
	for _, p := range j.Problems {
		file := p.Place.File
		if file == "" {
			file = j.File
		}
		out = append(out, jsonError{File: file, Line: p.Place.Line, Column: p.Place.Column, Key: p.Key, Message: p.Message})
	}
	for _, b := range j.Result.Broke {
		out = append(out, jsonError{File: j.File, Key: b.Rule, Message: "rule " + b.Rule + " broke: " + b.Message})
	}
	return out
}
