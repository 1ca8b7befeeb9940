package editor

import (
	"context"
	"fmt"
	"path"
	"slices"
	"strings"

	"guidecoat/internal/picture"
	"guidecoat/internal/printable"
	"guidecoat/internal/quantity"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/internal/trade"
)

// note is what is told at a spot: paragraphs of plain lines.
type note struct{ paragraphs []string }

// add adds a paragraph, unless it says nothing.
func (n *note) add(format string, args ...any) {
	lines := strings.Split(fmt.Sprintf(format, args...), "\n")
	for i, l := range lines {
		lines[i] = printable.Visible(strings.TrimRight(l, " "))
	}
	if said := strings.TrimSpace(strings.Join(lines, "\n")); said != "" {
		n.paragraphs = append(n.paragraphs, said)
	}
}

func (n *note) String() string { return strings.Join(n.paragraphs, "\n\n") }

// hover tells what stands at a place.
func (s *server) hover(_ context.Context, p *page, q *onDocument) (any, error) {
	at := spotAt(p.index(), p.text.bytes, p.text.offset(q.Position))
	var n note
	switch at.place {
	case inHeader:
		p.noteHeader(&n, at)
	case inKey:
		p.noteKey(&n, at)
	case inValue:
		p.noteValue(&n, at)
	}
	if len(n.paragraphs) == 0 {
		return nil, nil
	}
	return hoverResult{plainText(n.String()), p.text.span(at.start, at.end)}, nil
}

// word is the word at a spot, as it is meant.
func (p *page) word(at spot) string {
	w := string(p.text.bytes[at.start:at.end])
	if at.quote == '"' {
		return unquoted(`"` + w + `"`)
	}
	return w
}

// noteHeader tells of the table that a header begins.
func (p *page) noteHeader(n *note, at spot) {
	var table *sheet.Node
	p.index().Walk(func(c *sheet.Node) {
		if !c.Header.IsZero() && c.Header.Start <= at.start && at.start <= c.Header.End {
			table = c
		}
	})
	if table == nil {
		return
	}
	if i := stepOf(table); i > 0 {
		p.noteStep(n, i)
		return
	}
	parts := keyParts(p.word(at))
	switch {
	case parts[0] == "product" && len(parts) == 2:
		p.noteProduct(n, parts[1])
	case parts[0] == "product" && len(parts) == 4:
		p.noteUse(n, parts[1], parts[3])
	default:
		if k := p.keyAt(parts, ""); k != nil {
			n.add("%s: %s.", strings.Join(parts, "."), k.Meaning)
		}
	}
}

// noteStep tells of a step: what it does, what lies there before it, and what
// the rulebook has to say.
func (p *page) noteStep(n *note, number int) {
	step := p.steps()[number-1]
	do := strings.ToLower(p.value(step, "do"))
	for _, v := range sheet.Verbs() {
		if v.Do == do {
			n.add("Step %d of %d: %s %s.", number, len(p.steps()), v.Do, v.Meaning)
		}
	}
	p.noteBeneath(n, number)
	if out := p.outcomeSoFar(); out != nil {
		for _, f := range out.findings {
			if f.Step != nil && *f.Step == number && p.fileOf(f.Place) == p.file {
				noteFinding(n, f)
			}
		}
	}
}

// outcomeSoFar is what judging the page gave, if it has been judged yet.
func (p *page) outcomeSoFar() *outcome {
	select {
	case <-p.done:
		return p.outcome
	default:
		return nil
	}
}

func noteFinding(n *note, f rulebook.Finding) {
	n.add("%s %s (%s)", strings.ToUpper(f.Grade), f.Message, f.Rule)
	n.add("Why: %s", oneLine(f.Why))
	n.add("Do: %s", oneLine(f.Remedy))
	n.add("%s: %s", f.Safety.Signal, oneLine(f.Safety.Text))
}

func oneLine(s string) string { return strings.Join(strings.Fields(s), " ") }

// mostZones is how many zones are told of at once.
const mostZones = 4

// noteBeneath tells what lies in each zone that a step reaches, before it.
func (p *page) noteBeneath(n *note, number int) {
	s := p.read().sheet
	if p.kind != sheet.IsSheet || s == nil || number > len(s.Steps) || p.built().doc == nil {
		return
	}
	before := *s
	before.Steps = slices.Clone(s.Steps[:number-1])
	doc, problems := stack.Build(&before)
	if len(problems) > 0 {
		return
	}
	reached := p.built().doc.Steps[number-1].Zones
	told := 0
	for _, c := range picture.Columns(doc, nil) {
		if !slices.Contains(reached, c.Zone) {
			continue
		}
		if told++; told > mostZones {
			n.add("... and in %d more zones.", len(reached)-mostZones)
			return
		}
		lines := []string{"Beneath this step in " + c.Zone + ", from the top:"}
		for _, f := range c.Films {
			line := "  " + f.Name
			if !f.Substrate && f.Text != "" {
				line += ", " + f.Text
			}
			if f.Step > 0 {
				line += fmt.Sprintf(" (step %d)", f.Step)
			}
			lines = append(lines, line)
		}
		n.add("%s", strings.Join(lines, "\n"))
	}
}

// noteKey tells of the key at a spot.
func (p *page) noteKey(n *note, at spot) {
	do := p.verbOf(at.table)
	if p.kind == sheet.IsHouse && len(at.path) == 2 && at.path[0] == "grades" {
		p.noteRule(n, at.path[1])
		return
	}
	if p.kind == sheet.IsHouse && len(at.path) == 2 && at.path[0] == "limits" {
		noteLimit(n, at.path[1])
		return
	}
	k := p.keyAt(at.path, do)
	if k == nil {
		return
	}
	n.add("%s: %s.", k.Name, k.Meaning)
	noteForm(n, k)
}

// noteForm tells what may be written behind a key.
func noteForm(n *note, k *sheet.Key) {
	if len(k.Words) > 0 {
		word := "One of"
		if k.Open {
			word = "Such as"
		}
		n.add("%s: %s.", word, strings.Join(k.Words, ", "))
	}
	if k.Example != "" {
		n.add("Written like: %s = %s", k.Name, k.Example)
	}
	if k.Required {
		n.add("It has to be written.")
	}
}

func noteLimit(n *note, name string) {
	l, ok := trade.LimitNamed(name)
	if !ok {
		return
	}
	n.add("%s: %s.", l.Name, l.About)
	if l.Differs {
		n.add("Usual: %s in restoration, %s in collision. This number replaces both.", l.Restoration, l.Collision)
	} else {
		n.add("Usual: %s.", l.Restoration)
	}
	n.add("Source: %s", l.Source)
}

// noteValue tells of the value at a spot.
func (p *page) noteValue(n *note, at spot) {
	do := p.verbOf(at.table)
	k := p.keyAt(at.path, do)
	word := p.word(at)
	if k == nil || strings.TrimSpace(word) == "" {
		return
	}
	switch {
	case takes(k, sheet.TakesProduct, sheet.TakesHelper):
		if p.noteProduct(n, word) {
			if i := stepOf(at.table); i > 0 && k.Name == "product" {
				p.noteBeneath(n, i)
			}
		} else {
			noteKind(n, trade.KindOf(word))
		}
	case takes(k, sheet.TakesRule):
		p.noteRule(n, word)
	case takes(k, sheet.TakesQuantity):
		noteAmount(n, k.Dim, word)
	case takes(k, sheet.TakesGrade, sheet.TakesGrades):
		noteGrade(n, word)
	case takes(k, sheet.TakesMix):
		noteMix(n, word)
	case takes(k, sheet.TakesFile):
		p.noteFile(n, word)
	case k.Name == "do" && stepOf(at.table) > 0:
		p.noteStep(n, stepOf(at.table))
		return
	case k.Name == "as" && stepOf(at.table) > 0:
		p.noteUse(n, p.value(at.table, "product"), word)
	default:
		p.noteName(n, k, word)
	}
	if len(n.paragraphs) == 0 {
		n.add("%s: %s.", k.Name, k.Meaning)
		noteForm(n, k)
	}
}

// noteName tells of a kind, a zone or a call.
func (p *page) noteName(n *note, k *sheet.Key, word string) {
	if takes(k, sheet.TakesCall) || takes(k, sheet.TakesZone) {
		for _, c := range p.calls(0) {
			if c.name == word {
				n.add("%q is step %d.", word, c.step)
				p.noteStep(n, c.step)
				return
			}
		}
	}
	if takes(k, sheet.TakesZone) {
		p.noteZone(n, word)
	}
	if takes(k, sheet.TakesKind) && len(n.paragraphs) == 0 {
		noteKind(n, trade.KindOf(word))
	}
}

// noteZone tells what lies in a zone when the sheet is done.
func (p *page) noteZone(n *note, zone string) {
	doc := p.built().doc
	if doc == nil {
		return
	}
	for _, c := range picture.Columns(doc, nil) {
		if c.Zone != zone {
			continue
		}
		lines := []string{"Zone " + zone + ", when the sheet is done, from the top:"}
		for _, f := range c.Films {
			lines = append(lines, "  "+f.Name)
		}
		n.add("%s", strings.Join(lines, "\n"))
	}
}

func (p *page) noteFile(n *note, written string) {
	cards, _ := func() (map[string]*sheet.Card, *sheet.House) {
		r := p.s.reader(nil)
		defer func() { _ = r.Close() }()
		return r.InReach(p.file, []string{written})
	}()
	file := p.beside(written)
	var names []string
	for name, c := range cards {
		if p.fileOf(c.Place) == file {
			names = append(names, name)
		}
	}
	slices.Sort(names)
	if len(names) > 0 {
		n.add("%s has %d cards: %s.", path.Base(file), len(names), strings.Join(names, ", "))
	}
}

// noteProduct tells what is on a card and what is usual for what is not; false
// where there is no such card.
func (p *page) noteProduct(n *note, name string) bool {
	c, ok := p.products()[name]
	if !ok {
		return false
	}
	head := name
	if c.kind != nil {
		head += " is " + c.kind.Name
	}
	if c.label != "" {
		head += ", on the can: " + c.label
	}
	n.add("%s.", head)
	written := p.cardLines(c)
	lines := make([]string, 0, len(written))
	for _, k := range sheet.CardKeys() {
		if v, ok := written[k.Name]; ok && k.Name != "kind" && k.Name != "label" {
			lines = append(lines, "  "+k.Name+" = "+v)
		}
	}
	if len(lines) > 0 {
		n.add("On its card:\n%s", strings.Join(lines, "\n"))
	}
	if c.kind == nil {
		return true
	}
	noteTypical(n, "Not on the card, so taken from what is usual for "+c.kind.Name+":", c.kind, written)
	noteHazards(n, c.kind)
	return true
}

// noteUse tells of another use of a can.
func (p *page) noteUse(n *note, name, use string) {
	c, ok := p.products()[name]
	if !ok {
		return
	}
	x, table := p.cardTable(c)
	at := table.Get("as").Get(use)
	if at == nil {
		return
	}
	var lines []string
	for _, k := range at.Children {
		lines = append(lines, "  "+k.Name+" = "+oneLine(string(x.Slice(k.Value))))
	}
	n.add("%s used as %s:\n%s", name, use, strings.Join(lines, "\n"))
}

// cardTable is the table of a card, with the index of the file it stands in;
// nil where it is not there any more.
func (p *page) cardTable(c product) (*sheet.Index, *sheet.Node) {
	if c.card == nil {
		return p.index(), c.own
	}
	file := p.fileOf(c.card.Place)
	x := indexed(file, p.textOf(file).bytes)
	return x, x.Root.Get("product").Get(c.name)
}

// cardLines is what a card writes, by key, as it is written.
func (p *page) cardLines(c product) map[string]string {
	lines := map[string]string{}
	x, table := p.cardTable(c)
	if table == nil {
		return lines
	}
	for _, k := range table.Children {
		if k.Name == "as" {
			var uses []string
			for _, u := range k.Children {
				uses = append(uses, u.Name)
			}
			lines["as"] = strings.Join(uses, ", ")
			continue
		}
		lines[k.Name] = oneLine(string(x.Slice(k.Value)))
	}
	return lines
}

// noteTypical tells the usual numbers of a kind but those that are written.
func noteTypical(n *note, head string, kind *trade.Kind, written map[string]string) {
	var lines []string
	for _, k := range sheet.CardKeys() {
		v, usual := kind.Typical[k.Name]
		if _, known := written[k.Name]; usual && !known {
			lines = append(lines, "  "+k.Name+" = "+v)
		}
	}
	if len(lines) > 0 {
		n.add("%s\n%s", head, strings.Join(lines, "\n"))
	}
}

func noteHazards(n *note, kind *trade.Kind) {
	if len(kind.Hazards) > 0 {
		n.add("CAUTION: in it is %s. Follow the safety data sheet, the local code and licensed practice.", strings.Join(kind.Hazards, ", "))
	}
}

var roleWords = map[string]string{"substrate": "a substrate", "finish": "a finish that was there", "film": "a film", "helper": "a helper, never a film"}

// noteKind tells what a kind is.
func noteKind(n *note, kind *trade.Kind) {
	if kind == nil {
		return
	}
	head := kind.Name + ": " + roleWords[kind.Role]
	if kind.Role == "film" && kind.Class != "" {
		head += ", " + kind.Class
	}
	switch kind.Parts {
	case 1:
		head += ", one part"
	case 2:
		head += ", two parts"
	}
	n.add("%s.", head)
	if len(kind.Names) > 0 {
		n.add("Also called: %s.", strings.Join(kind.Names, ", "))
	}
	noteTypical(n, "Usual where a card says nothing:", kind, nil)
	noteHazards(n, kind)
	n.add("Source: %s", kind.Source)
}

// noteRule tells of a rule.
func (p *page) noteRule(n *note, name string) {
	r, ok := p.ruleNamed(name)
	if !ok {
		return
	}
	n.add("%s: %s (%s, %s at the gravest)", r.Name, r.Title, r.Family, r.Grade)
	for _, text := range strings.Split(r.Description, "\n\n") {
		n.add("%s", oneLine(text))
	}
	n.add("Do: %s", oneLine(r.Remedy))
	n.add("%s: %s", r.Safety.Signal, oneLine(r.Safety.Text))
	n.add("Source: %s", strings.Join(r.Source, "; "))
}

// noteAmount tells a quantity in other units.
func noteAmount(n *note, dim quantity.Dimension, text string) {
	q, err := quantity.Parse(dim, text)
	if err != nil || q.Until != "" {
		return
	}
	var same []string
	for _, unit := range usualUnits[dim] {
		if in := quantity.Format(q.Interval, dim, unit); in != text && !slices.Contains(same, in) && in != q.String() {
			same = append(same, in)
		}
	}
	if len(same) == 0 {
		return
	}
	n.add("%s is %s.", text, strings.Join(same, ", or "))
}

// noteGrade tells the particle of an abrasive.
func noteGrade(n *note, text string) {
	r, err := quantity.ParseAbrasiveRange(text)
	if err != nil {
		if a, err := quantity.ParseAbrasive(text); err == nil {
			r = quantity.AbrasiveRange{Coarse: a, Fine: a}
		} else {
			return
		}
	}
	particle := func(a quantity.Abrasive) string {
		said := fmt.Sprintf("%s: median particle %s", a.Name, quantity.Format(a.Microns, quantity.Particle, "µm"))
		if a.System != quantity.FEPA {
			said += "; works about like " + quantity.NearestCoarser(a.Microns.Mid()).Name
		}
		return said
	}
	n.add("%s.", particle(r.Coarse))
	if r.Fine.Name != r.Coarse.Name {
		n.add("%s.", particle(r.Fine))
	}
}

// noteMix tells the parts of a mix as shares of the cup.
func noteMix(n *note, text string) {
	m, err := quantity.ParseMix(text)
	if err != nil || m.Parts == 0 {
		return
	}
	base, hardener, reducer := trade.Cups(quantity.Exactly(100), m)
	parts := []string{"base " + quantity.Format(base, quantity.Share, "%")}
	if hardener.Hi > 0 {
		parts = append(parts, "hardener "+quantity.Format(hardener, quantity.Share, "%"))
	}
	if reducer.Hi > 0 {
		parts = append(parts, "reducer "+quantity.Format(reducer, quantity.Share, "%"))
	}
	n.add("%s by volume: %s of the cup.", text, strings.Join(parts, ", "))
	if r := m.ReducerShare(); r > 0 {
		n.add("Reducer is %s of base and hardener.", quantity.Format(quantity.Exactly(r*100), quantity.Share, "%"))
	}
}
