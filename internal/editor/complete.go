package editor

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"guidecoat/internal/printable"
	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// choice is something that may stand at a spot.
type choice struct {
	text   string // as it is meant, without quotes
	insert string // how it is written; "" for text, in quotes where it needs some
	bare   bool   // written without quotes
	kind   itemKind
	detail string // beside it
	about  string // at more length
	rank   int    // the lower the likelier; in order of the list where alike
	asSnip bool   // insert is a snippet
	skip   int    // how many UTF-16 units of the word at the spot stay before it
}

// mostChoices is how many are offered at once; the rest comes as more is typed.
const mostChoices = 400

// complete offers what may stand at a place.
func (s *server) complete(_ context.Context, p *page, q *onDocument) (any, error) {
	list := completionList{Items: []completionItem{}}
	offset := p.text.offset(q.Position)
	at := spotAt(p.index(), p.text.bytes, offset)
	if p.kind == sheet.IsOther && !p.isBlank() {
		return list, nil
	}
	from, to := at.start, at.end
	var all []choice
	switch at.place {
	case inHeader:
		all = p.tableChoices(p.text.bytes[at.of.start:at.of.end])
		from, to = p.brackets(at)
	case inKey:
		all = p.keyChoices(at, offset)
	case inValue:
		if p.valueFollows(at) {
			return list, nil
		}
		all = p.valueChoices(at, string(p.text.bytes[at.start:offset]))
	}
	slices.SortStableFunc(all, func(a, b choice) int { return a.rank - b.rank })
	if len(all) > mostChoices {
		all, list.IsIncomplete = all[:mostChoices], true
	}
	where := p.text.span(from, to)
	if where.Start.Line != where.End.Line {
		return list, nil // in a text over several lines nothing is chosen from a list
	}
	for i, c := range all {
		if at.fits(c) {
			over := where
			over.Start.Character += uint32(c.skip)
			list.Items = append(list.Items, at.item(c, i, over))
		}
	}
	return list, nil
}

// item is a choice as the protocol has it, written so that it fits the spot.
func (at spot) item(c choice, i int, where span) completionItem {
	item := completionItem{Label: printable.Visible(c.text), Kind: c.kind, Detail: printable.Visible(c.detail), SortText: fmt.Sprintf("%04d", i), FilterText: c.text}
	if c.about != "" {
		about := plainText(c.about)
		item.Documentation = &about
	}
	text := c.insert
	if text == "" {
		text = c.text
	}
	if at.place == inValue && !c.bare {
		text = at.quoted(text)
	}
	if c.asSnip {
		item.InsertTextFormat = asSnippet
	}
	item.TextEdit = &textEdit{where, text}
	return item
}

// fits tells whether a choice can be written at the spot: single quotes take
// what is within them as it is.
func (at spot) fits(c choice) bool {
	return at.place != inValue || at.quote != '\'' || c.bare || c.insert != "" || !strings.ContainsFunc(c.text, func(r rune) bool {
		return r == '\'' || r < 0x20 && r != '\t' || r == 0x7f
	})
}

// quoted writes a text so that the spot's quotes come out right.
func (at spot) quoted(text string) string {
	quoted := sheet.Quote(text)
	if at.quote == '\'' {
		quoted = "'" + text + "'"
	}
	switch {
	case at.quote == 0:
		return quoted
	case !at.closed:
		return quoted[1:]
	}
	return quoted[1 : len(quoted)-1]
}

// isBlank tells that nothing is written yet that would make the page another
// program's file.
func (p *page) isBlank() bool {
	return !slices.ContainsFunc(p.index().Root.Children, func(n *sheet.Node) bool { return n.Name != "format" })
}

// valueFollows tells that a spot before which nothing is typed has its value
// behind it already.
func (p *page) valueFollows(at spot) bool {
	if at.quote != 0 || at.start != at.end {
		return false
	}
	rest := bytes.TrimLeft(p.text.bytes[at.end:p.text.lineEnd(p.text.line(at.end))], " \t")
	return len(rest) > 0 && !bytes.ContainsRune([]byte(",]}#"), rune(rest[0]))
}

// brackets is the whole of a header, its brackets included.
func (p *page) brackets(at spot) (from, to int) {
	from = at.start
	for from > at.of.start && p.text.bytes[from-1] == '[' {
		from--
	}
	for to = at.end; to < at.of.end && p.text.bytes[to] == ']'; {
		to++
	}
	return from, to
}

// tableChoices are the tables that may begin; header is the header that is
// being written, which does not count as written.
func (p *page) tableChoices(header []byte) []choice {
	kind := p.kind
	if kind == sheet.IsOther {
		kind = sheet.IsSheet
	}
	var all []choice
	for _, k := range keysOfFile(kind) {
		written := p.index().Root.Get(k.Name)
		being := written != nil && !written.Header.IsZero() && bytes.Contains(header, p.index().Slice(written.Header))
		c := choice{kind: itemModule, about: k.Meaning}
		switch {
		case takes(&k, sheet.TakesTables):
			c.text = "[[" + k.Name + "]]"
		case takes(&k, sheet.TakesNamed):
			c.text = "[" + k.Name + ".NAME]"
			if p.s.client.snippets {
				c.insert, c.asSnip = "["+k.Name+".${1:NAME}]", true
			}
		case takes(&k, sheet.TakesTable) && (written == nil || being):
			c.text = "[" + k.Name + "]"
		default:
			continue
		}
		if k.Required {
			c.detail = "has to be there"
		}
		all = append(all, c)
	}
	return all
}

// keyChoices are the keys that may stand in a table and do not yet.
func (p *page) keyChoices(at spot, offset int) []choice {
	if p.kind == sheet.IsOther {
		all := p.tableChoices(nil)
		if p.index().Root.Get("format") == nil {
			all = append([]choice{{text: "format", insert: "format = 1", kind: itemField, about: "version of the sheet's language"}}, all...)
		}
		return all
	}
	do := p.verbOf(at.table)
	keys, named := p.keysIn(at.in, do)
	written := p.writtenKeys(at, offset)
	var all []choice
	for i := range keys {
		k := &keys[i]
		if written[k.Name] || len(at.in) == 0 && !takes(k, sheet.TakesWhole) {
			continue
		}
		c := choice{text: k.Name, kind: itemField, about: k.Meaning, detail: k.Example}
		if named {
			c.kind = itemReference
		}
		if !k.Required {
			c.rank = 1
		}
		if !at.assigned {
			c.insert, c.asSnip = k.Name+" = "+p.valueSnippet(k), p.s.client.snippets
		} else {
			c.insert = k.Name
		}
		all = append(all, c)
	}
	// Where a line begins, the next table may begin too.
	if !at.assigned && p.beginsLine(at) {
		for _, c := range p.tableChoices(nil) {
			c.rank = 2
			all = append(all, c)
		}
	}
	return all
}

var bracedKey = regexp.MustCompile(`([\w\-]+)[ \t]*=`)

// beginsLine tells that nothing stands before a spot in its statement.
func (p *page) beginsLine(at spot) bool {
	return len(bytes.TrimSpace(p.text.bytes[at.of.start:at.start])) == 0
}

// writtenKeys are the keys beside the one at a spot.
func (p *page) writtenKeys(at spot, offset int) map[string]bool {
	written := map[string]bool{}
	statement := p.text.bytes[at.of.start:at.of.end]
	if p.beginsLine(at) {
		for _, n := range at.table.Children {
			if n.Key.Start != at.start || n.Key.End != at.end {
				written[n.Name] = true
			}
		}
		return written
	}
	// Inside braces: what stands between them.
	cursor := offset - at.of.start
	open := bytes.LastIndexByte(statement[:cursor], '{')
	end := bytes.IndexByte(statement[cursor:], '}')
	if end < 0 {
		end = len(statement) - cursor
	}
	for _, m := range bracedKey.FindAllSubmatchIndex(statement[open+1:cursor+end], -1) {
		if from := at.of.start + open + 1 + m[2]; from != at.start {
			written[string(statement[open+1+m[2]:open+1+m[3]])] = true
		}
	}
	return written
}

// valueSnippet is what stands behind a key that is put in: the form of its value
// with a place to type in, or nothing for a client that knows no such places.
func (p *page) valueSnippet(k *sheet.Key) string {
	if !p.s.client.snippets {
		return ""
	}
	escape := strings.NewReplacer(`\`, `\\`, `$`, `\$`, `}`, `\}`).Replace
	choices := func(words []string) string {
		for i, w := range words {
			words[i] = strings.NewReplacer(`\`, `\\`, ",", `\,`, "|", `\|`).Replace(w)
		}
		return "${1|" + strings.Join(words, ",") + "|}"
	}
	switch {
	case takes(k, sheet.TakesFlag) && len(k.Takes) == 1:
		return choices([]string{"true", "false"})
	case len(k.Words) > 0 && k.List:
		return `["` + choices(slices.Clone(k.Words)) + `"]`
	case len(k.Words) > 0:
		return `"` + choices(slices.Clone(k.Words)) + `"`
	case strings.HasPrefix(k.Example, `"`):
		return `"${1:` + escape(strings.Trim(k.Example, `"`)) + `}"`
	}
	return "${1:" + escape(k.Example) + "}"
}

// valueChoices are the values that may stand behind a key. typed is what is
// there before the cursor.
func (p *page) valueChoices(at spot, typed string) []choice {
	do, step := p.verbOf(at.table), stepOf(at.table)
	k := p.keyAt(at.path, do)
	if k == nil {
		return nil
	}
	var all []choice
	add := func(more ...choice) { all = append(all, more...) }
	switch {
	case k.Name == "do" && step > 0:
		for _, v := range sheet.Verbs() {
			add(choice{text: v.Do, kind: itemFunction, detail: v.Meaning})
		}
	case k.Name == "as" && step > 0:
		add(p.useChoices(p.value(at.table, "product"))...)
	}
	for _, take := range k.Takes {
		switch take {
		case sheet.TakesWord:
			for _, w := range k.Words {
				add(choice{text: w, kind: itemEnum})
			}
		case sheet.TakesFlag:
			add(choice{text: "true", bare: true, kind: itemValue}, choice{text: "false", bare: true, kind: itemValue})
		case sheet.TakesWhole:
			add(choice{text: k.Example, bare: true, kind: itemValue})
		case sheet.TakesDay:
			add(choice{text: p.s.o.Today().Format("2006-01-02"), bare: true, kind: itemValue, detail: "today"})
		case sheet.TakesQuantity:
			add(amountChoices(k, typed, at.quote != 0)...)
		case sheet.TakesGrade:
			add(gradeChoices(k)...)
		case sheet.TakesMix:
			add(p.mixChoices(at, k)...)
		case sheet.TakesKind:
			add(p.kindChoices(k, step)...)
		case sheet.TakesProduct, sheet.TakesHelper:
			add(p.productChoices(k, do)...)
		case sheet.TakesZone:
			for _, z := range p.zones(step) {
				add(choice{text: z.name, kind: itemVariable, detail: "zone"})
			}
		case sheet.TakesCall:
			for _, c := range p.calls(step) {
				if c.lays || step == 0 {
					add(choice{text: c.name, kind: itemReference, detail: fmt.Sprintf("step %d", c.step)})
				}
			}
		case sheet.TakesRule:
			add(p.ruleChoices()...)
		case sheet.TakesFile:
			add(p.fileChoices(k)...)
		}
	}
	if len(all) == 0 && k.Example != "" && !k.List && !takes(k, sheet.TakesTable, sheet.TakesText) {
		add(choice{text: strings.Trim(k.Example, `"`), kind: itemValue, detail: "for example"})
	}
	return p.butWritten(all, at)
}

// butWritten leaves out what a list has already, and what stands twice.
func (p *page) butWritten(all []choice, at spot) []choice {
	seen := map[string]bool{}
	if at.list {
		for _, had := range at.had {
			seen[had] = true
		}
		for _, n := range entries(at.table.Get(at.path[len(at.path)-1])) {
			if n.Value.Start > at.end { // what stands behind the spot
				seen[words(p.index(), n)] = true
			}
		}
	}
	return slices.DeleteFunc(all, func(c choice) bool {
		twice := seen[c.text]
		seen[c.text] = true
		return twice
	})
}

// numberThenUnit is an amount that is being typed: its number, or the range up
// to its last number, and what there is of a unit.
var numberThenUnit = regexp.MustCompile(`^(.*?[\d.]+)(\s*)([A-Za-z°µ%][\w/°µ]*)?$`)

// amountChoices, in quotes or yet without, are units behind the number that is typed; before any, an
// example, and the habits of the shop where a wait is asked for.
func amountChoices(k *sheet.Key, typed string, quoted bool) []choice {
	var all []choice
	if m := numberThenUnit.FindStringSubmatch(typed); m != nil {
		for _, unit := range usualUnits[k.Dim] {
			q, err := quantity.Parse(k.Dim, m[1]+" "+unit)
			if err != nil {
				continue
			}
			// The unit alone is put in: not every client takes a number back.
			c := choice{text: unit, kind: itemUnit, detail: k.Dim.String(), skip: unitsOf(m[1] + m[2])}
			switch {
			case !quoted:
				c.text, c.skip = q.Text, 0
			case m[2] == "":
				c.insert = " " + unit
			}
			for _, other := range usualUnits[k.Dim] {
				if other != unit {
					c.about = q.Text + " is " + quantity.Format(q.Interval, k.Dim, other)
					break
				}
			}
			all = append(all, c)
		}
		return all
	}
	all = append(all, choice{text: strings.Trim(k.Example, `"`), kind: itemValue, detail: "for example"})
	if k.Dim == quantity.Time && slices.Contains([]string{"then_wait", "for", "between"}, k.Name) {
		for _, h := range habits {
			all = append(all, choice{text: h.word, kind: itemValue, detail: h.means})
		}
	}
	return all
}

// gradeChoices are the abrasives, the pads alone where a pad is asked for.
func gradeChoices(k *sheet.Key) []choice {
	var all []choice
	add := func(name string) {
		c := choice{text: name, kind: itemValue}
		if a, err := quantity.ParseAbrasive(name); err == nil {
			c.detail = "median particle " + quantity.Format(a.Microns, quantity.Particle, "µm")
			all = append(all, c)
		}
	}
	if k.Name != "pad" {
		for _, g := range quantity.Grades(quantity.FEPA) {
			add(fmt.Sprintf("P%d", g))
		}
	}
	for _, pad := range quantity.PadNames() {
		add(pad)
	}
	return all
}

// mixChoices are the card's own mix for a step, else an example.
func (p *page) mixChoices(at spot, k *sheet.Key) []choice {
	if c, ok := p.products()[p.value(at.table, "product")]; ok {
		if mix := p.cardLines(c)["mix"]; mix != "" {
			return []choice{{text: unquoted(mix), kind: itemValue, detail: "as on the card"}}
		}
	}
	return []choice{{text: strings.Trim(k.Example, `"`), kind: itemValue, detail: "for example"}}
}

// kindChoices are the kinds of the key's roles by their own names, and after
// them by everyday ones.
func (p *page) kindChoices(k *sheet.Key, step int) []choice {
	var all []choice
	if step > 0 {
		all = append(all, choice{text: "substrate", kind: itemClass, detail: "down to what the panel is made of"})
	}
	for _, name := range trade.Kinds().Names(k.Roles...) {
		kind := trade.KindOf(name)
		about := note{}
		noteKind(&about, kind)
		all = append(all, choice{text: name, kind: itemClass, detail: kind.Class, about: about.String()})
		for _, everyday := range kind.Names {
			all = append(all, choice{text: everyday, kind: itemClass, detail: name, rank: 1})
		}
	}
	return all
}

// productChoices are the cards of the right sort for a key of a step or card,
// and the helper kinds where the key takes them.
func (p *page) productChoices(k *sheet.Key, do string) []choice {
	fits := func(kind *trade.Kind) bool { return kind != nil && kind.Role == "film" }
	helpers := sheet.HelpersFor(do)
	switch k.Name {
	case "with":
		fits = func(kind *trade.Kind) bool { return kind != nil && slices.Contains(helpers, kind.Name) }
	case "hardener":
		fits = func(kind *trade.Kind) bool { return kind != nil && kind.Name == "hardener" }
	case "reducer":
		fits = func(kind *trade.Kind) bool {
			return kind != nil && slices.Contains([]string{"reducer", "retarder", "lacquer thinner"}, kind.Name)
		}
	case "additive":
		fits = func(kind *trade.Kind) bool { return kind != nil && strings.HasSuffix(kind.Name, "additive") }
	}
	likely := map[string]string{"spread": "filler", "caulk": "seam"}
	all := p.products()
	var out []choice
	for _, name := range productNames(all, func(c product) bool { return fits(c.kind) }) {
		c := choice{text: name, kind: itemValue, detail: all[name].kind.Name}
		if all[name].label != "" {
			c.detail += ", " + all[name].label
		}
		class, isFiller := likely[do], all[name].kind.Class == "filler" || all[name].kind.Class == "seam"
		if k.Name == "product" && (class != "" && all[name].kind.Class != class || class == "" && isFiller) {
			c.rank = 1
		}
		out = append(out, c)
	}
	if k.Name == "with" {
		for _, h := range helpers {
			out = append(out, choice{text: h, kind: itemClass, detail: "helper kind", rank: 2})
		}
	}
	return out
}

// useChoices are the other uses of a can.
func (p *page) useChoices(name string) []choice {
	c, ok := p.products()[name]
	if !ok {
		return nil
	}
	var all []choice
	if c.card != nil {
		for _, use := range slices.Sorted(maps.Keys(c.card.Uses)) {
			all = append(all, choice{text: use, kind: itemValue, detail: c.card.Uses[use].Kind})
		}
	} else {
		for _, n := range entriesOf(c.own.Get("as")) {
			all = append(all, choice{text: n.Name, kind: itemValue, detail: p.value(n, "kind")})
		}
	}
	return all
}

// ruleChoices are the rules a waiver may name: those found on this page first.
func (p *page) ruleChoices() []choice {
	found := map[string]bool{}
	if out := p.outcomeSoFar(); out != nil {
		for _, f := range out.findings {
			found[f.Rule] = true
		}
	}
	var all []choice
	for _, r := range p.rules() {
		c := choice{text: r.Name, kind: itemReference, detail: r.Title, about: oneLine(r.Remedy), rank: 1}
		if found[r.Name] {
			c.rank, c.detail = 0, "found on this sheet: "+r.Title
		}
		all = append(all, c)
	}
	return all
}

// mostFiles is how many entries of a folder are looked at.
const mostFiles = 100

// fileChoices are the shelves, or the folders of rules, beside the page.
func (p *page) fileChoices(k *sheet.Key) []choice {
	dir, err := os.Open(filepath.Dir(filepath.FromSlash(p.file)))
	if err != nil {
		return nil
	}
	defer func() { _ = dir.Close() }()
	found, err := dir.ReadDir(mostFiles)
	if err != nil && err != io.EOF {
		return nil
	}
	var all []choice
	for _, f := range found {
		switch {
		case k.Name == "rules" && f.IsDir() && !strings.HasPrefix(f.Name(), "."):
			all = append(all, choice{text: f.Name(), kind: itemFile, detail: "folder"})
		case k.Name == "shelf" && f.Type().IsRegular() && filepath.Ext(f.Name()) == ".toml":
			c := choice{text: f.Name(), kind: itemFile, rank: 1}
			text := p.textOf(p.beside(f.Name()))
			if sheet.Classify(text.bytes) == sheet.IsShelf {
				c.rank, c.detail = 0, "shelf"
			}
			all = append(all, c)
		}
	}
	slices.SortFunc(all, func(a, b choice) int { return strings.Compare(a.text, b.text) })
	return all
}
