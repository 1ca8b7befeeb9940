package starter

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// schema is a JSON Schema of draft 7, as far as it is used here. Its fields
// are written in the order they stand.
type schema struct {
	Dialect     string    `json:"$schema,omitempty"`
	Ref         string    `json:"$ref,omitempty"`
	Title       string    `json:"title,omitempty"`
	Description string    `json:"description,omitempty"`
	Type        string    `json:"type,omitempty"`
	Const       any       `json:"const,omitempty"`
	Enum        []any     `json:"enum,omitempty"`
	Format      string    `json:"format,omitempty"`
	Pattern     string    `json:"pattern,omitempty"`
	Minimum     *int      `json:"minimum,omitempty"`
	Maximum     *int      `json:"maximum,omitempty"`
	Items       *schema   `json:"items,omitempty"`
	MinItems    int       `json:"minItems,omitempty"`
	Required    []string  `json:"required,omitempty"`
	Properties  members   `json:"properties,omitempty"`
	Names       *schema   `json:"propertyNames,omitempty"`
	Additional  any       `json:"additionalProperties,omitempty"` // false, or a *schema
	AnyOf       []*schema `json:"anyOf,omitempty"`
	AllOf       []*schema `json:"allOf,omitempty"`
	Not         *schema   `json:"not,omitempty"`
	If          *schema   `json:"if,omitempty"`
	Then        *schema   `json:"then,omitempty"`
	Else        *schema   `json:"else,omitempty"`
	Definitions members   `json:"definitions,omitempty"`
}

const dialect = "http://json-schema.org/draft-07/schema#"

// members are schemas by name, written in their order. The value is a *schema,
// true or false.
type members []member

type member struct {
	name  string
	value any
}

// MarshalJSON writes the members in their order.
func (m members) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, f := range m {
		if i > 0 {
			b.WriteByte(',')
		}
		value, err := plainJSON(f.value)
		if err != nil {
			return nil, fmt.Errorf("writing %s: %w", f.name, err)
		}
		name, err := plainJSON(f.name)
		if err != nil {
			return nil, err
		}
		b.Write(name)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// plainJSON is JSON that leaves & and < as they are.
func plainJSON(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}

func refTo(name string) *schema { return &schema{Ref: "#/definitions/" + name} }

func anyOf(ways ...*schema) *schema {
	if len(ways) == 1 {
		return ways[0]
	}
	return &schema{AnyOf: ways}
}

// oneWay is a text that one of some patterns lets through. An editor that says
// which of them does not fit would print it; of several it prints none.
func oneWay(patterns []string) *schema {
	s := &schema{Type: "string"}
	for _, p := range patterns {
		s.AnyOf = append(s.AnyOf, &schema{Pattern: p})
	}
	return s
}

// writer makes one schema file. What stands in several places is a definition,
// made when it is first asked for.
type writer struct {
	definitions members
	defined     map[string]string // the JSON of each definition
}

func newWriter() *writer { return &writer{defined: map[string]string{}} }

// define takes a schema into the definitions under a name, or under one with a
// further word if that name has another schema, and refers to it.
func (w *writer) define(name, further string, s *schema) *schema {
	text, err := plainJSON(s)
	if err != nil {
		panic("a schema made of plain values is not written: " + err.Error())
	}
	for {
		if known, ok := w.defined[name]; !ok {
			w.defined[name] = string(text)
			w.definitions = append(w.definitions, member{name, s})
			return refTo(name)
		} else if known == string(text) {
			return refTo(name)
		}
		name += "." + further
	}
}

// root finishes a file's schema.
func (w *writer) root(s *schema, title string) ([]byte, error) {
	s.Dialect, s.Title, s.Definitions = dialect, title, w.definitions
	text, err := plainJSON(s)
	if err != nil {
		return nil, err
	}
	var b bytes.Buffer
	if err := json.Indent(&b, text, "", "  "); err != nil {
		return nil, err
	}
	b.WriteByte('\n')
	return b.Bytes(), nil
}

// table is a table that has these keys and no others.
func (w *writer) table(keys []sheet.Key) *schema {
	t := &schema{Type: "object", Additional: false}
	for _, k := range keys {
		t.Properties = append(t.Properties, member{k.Name, w.key(k)})
		if k.Required {
			t.Required = append(t.Required, k.Name)
		}
	}
	return t
}

// shared is a table whose keys are definitions, named by what it is.
func (w *writer) shared(what string, keys []sheet.Key) *schema {
	t := w.table(keys)
	for i, p := range t.Properties {
		t.Properties[i].value = w.define(what+"."+p.name, "other", p.value.(*schema))
	}
	return t
}

// key is what may stand behind a key, with what it is for.
func (w *writer) key(k sheet.Key) *schema {
	var ways, entries []*schema
	for _, take := range k.Takes {
		these := w.ways(k, take)
		ways = append(ways, these...)
		if take != sheet.TakesFlag {
			entries = append(entries, these...)
		}
	}
	if k.List {
		list := &schema{Type: "array", Items: anyOf(entries...)}
		if k.Some {
			list.MinItems = 1
		}
		ways = append(ways, list)
	}
	s := anyOf(ways...)
	if s.Ref != "" {
		s = &schema{AllOf: []*schema{s}}
	}
	s.Description = described(k)
	return s
}

// ways are the ways that a value may be written, of one of the things that its
// key takes.
func (w *writer) ways(k sheet.Key, take sheet.Takes) []*schema {
	text := func(pattern string) *schema { return &schema{Type: "string", Pattern: pattern} }
	switch take {
	case sheet.TakesWord:
		// The words for an editor to offer; the pattern for other cases of them.
		words := &schema{Enum: values(k.Words)}
		if k.Open {
			return []*schema{words, text("")}
		}
		return []*schema{words, text(wordPattern(sheet.Spellings(k.Words)))}
	case sheet.TakesFlag:
		return []*schema{{Type: "boolean"}}
	case sheet.TakesWhole:
		return []*schema{bounded(&schema{Type: "integer"}, k)}
	case sheet.TakesDay:
		return []*schema{{Type: "string", Format: "date", Pattern: "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}}
	case sheet.TakesQuantity:
		q := w.define(dashed(k.Dim.String()), k.Name, oneWay(quantityPatterns(k.Dim, k.Units...)))
		if k.Dim == quantity.Count {
			return []*schema{q, bounded(&schema{Type: "number"}, k)}
		}
		return []*schema{q}
	case sheet.TakesGrade:
		if k.Name == "pad" {
			return []*schema{w.define("pad", "other", text(padPattern()))}
		}
		return []*schema{w.define("grade", "other", oneWay(gradePatterns())), {Enum: values(quantity.Grades(quantity.FEPA))}}
	case sheet.TakesGrades:
		return []*schema{w.define("grades", "other", oneWay(gradesPatterns()))}
	case sheet.TakesMix:
		return []*schema{w.define("mix", "other", oneWay(mixPatterns()))}
	case sheet.TakesKind:
		return w.kinds(k)
	case sheet.TakesTable:
		return []*schema{w.table(k.Fields)}
	case sheet.TakesText:
		if k.Required || k.List {
			return []*schema{text(written)}
		}
		return []*schema{text("")}
	case sheet.TakesName:
		return []*schema{{Type: "string", Pattern: written, Not: &schema{Const: sheet.RestZone}}}
	case sheet.TakesHelper:
		return []*schema{{Enum: values(k.Words)}, text(written)}
	case sheet.TakesProduct:
		if slices.Contains(k.Takes, sheet.TakesText) {
			return nil // any text will do
		}
	}
	return []*schema{text(written)}
}

// kinds are the kinds of a key's roles: their own names for an editor to
// offer, and every other name they go by.
func (w *writer) kinds(k sheet.Key) []*schema {
	if slices.Contains(k.Takes, sheet.TakesCall) {
		return nil // any call will do
	}
	var ways []*schema
	for _, role := range k.Roles {
		own := trade.Kinds().Names(role)
		var spoken []string
		for _, name := range own {
			kind, _ := trade.Kinds().Lookup(name)
			spoken = append(append(spoken, name), kind.Names...)
		}
		ways = append(ways, w.define("kind."+role, "other", &schema{AnyOf: []*schema{
			{Enum: values(own)},
			{Type: "string", Pattern: kindPattern(spoken)},
		}}))
	}
	if k.Name == "down_to" {
		ways = append(ways, &schema{Type: "string", Pattern: wordPattern([]string{"substrate"})})
	}
	return ways
}

func bounded(s *schema, k sheet.Key) *schema {
	if k.Least != 0 {
		s.Minimum = &k.Least
	}
	if k.Most != 0 {
		s.Maximum = &k.Most
	}
	return s
}

func values[T any](list []T) []any {
	all := make([]any, len(list))
	for i, v := range list {
		all[i] = v
	}
	return all
}

func dashed(s string) string { return strings.ReplaceAll(s, " ", "-") }

// described says what a key is for, how it is written, and an example.
func described(k sheet.Key) string {
	var b strings.Builder
	b.WriteString(strings.ToUpper(k.Meaning[:1]) + k.Meaning[1:] + ".")
	if slices.Contains(k.Takes, sheet.TakesQuantity) {
		units := k.Units
		if units == nil {
			units = k.Dim.Units()
		}
		b.WriteString(" A " + k.Dim.String() + ", or a range of them")
		if len(units) > 0 {
			b.WriteString(", in " + strings.Join(units, ", "))
		}
		b.WriteString(".")
	}
	if slices.Contains(k.Takes, sheet.TakesWord) {
		b.WriteString(" One of: " + strings.Join(k.Words, ", "))
		if k.Open {
			b.WriteString("; or another word")
		}
		b.WriteString(".")
	}
	switch {
	case slices.Contains(k.Takes, sheet.TakesTables):
		b.WriteString(" Each stands under [[" + k.Name + "]].")
	case slices.Contains(k.Takes, sheet.TakesNamed) && k.Example == "":
		b.WriteString(" Each stands under [" + k.Name + ".NAME].")
	case k.Example == "":
		b.WriteString(" It stands under [" + k.Name + "].")
	case strings.HasPrefix(k.Example, "["+"product"):
		b.WriteString(" Example: " + k.Example)
	default:
		b.WriteString(" Example: " + k.Name + " = " + k.Example)
	}
	return b.String()
}

// file is a file's table: its keys, each as key makes it but those that are
// made another way.
func (w *writer) file(keys []sheet.Key, other map[string]*schema) *schema {
	t := &schema{Type: "object", Additional: false}
	for _, k := range keys {
		s := other[k.Name]
		if s == nil {
			s = w.key(k)
		} else {
			s.Description = described(k)
		}
		t.Properties = append(t.Properties, member{k.Name, s})
		if k.Required {
			t.Required = append(t.Required, k.Name)
		}
	}
	return t
}

// cards is the table of product cards.
func (w *writer) cards() *schema {
	var uses sheet.Key
	var keys []sheet.Key
	for _, k := range sheet.CardKeys() {
		if slices.Contains(k.Takes, sheet.TakesNamed) {
			uses = k
			continue
		}
		keys = append(keys, k)
	}
	card := w.shared("card", keys)
	use := w.shared("card", uses.Fields)
	w.define("use", "other", use)
	card.Properties = append(card.Properties, member{uses.Name, &schema{
		Type: "object", Description: described(uses), Additional: refTo("use")}})
	w.define("card", "other", card)
	return &schema{Type: "object", Names: &schema{Pattern: written}, Additional: refTo("card")}
}

// tables is a list of tables, each under a [[header]].
func tables(entry *schema) *schema { return &schema{Type: "array", Items: entry} }

// steps is the list of steps: the keys that each verb has and needs.
func (w *writer) steps() *schema {
	step := &schema{Type: "object", Required: []string{"do"}}
	var verbs []string
	for _, v := range sheet.Verbs() {
		verbs = append(verbs, v.Do)
	}
	meanings := []string{"What is done."}
	for _, v := range sheet.Verbs() {
		meanings = append(meanings, v.Do+": "+v.Meaning+".")
	}
	do := sheet.Key{Name: "do", Takes: []sheet.Takes{sheet.TakesWord}, Words: verbs}
	step.Properties = members{{"do", &schema{Description: strings.Join(meanings, " "), AnyOf: w.ways(do, sheet.TakesWord)}}}

	// Of each key, what it is with each verb that has it.
	var order []string
	with := map[string][]*schema{}
	for _, v := range sheet.Verbs() {
		for _, k := range keysOf(v.Do) {
			s := w.define("step."+k.Name, v.Do, w.key(k))
			if _, known := with[k.Name]; !known {
				order = append(order, k.Name)
			}
			if !slices.ContainsFunc(with[k.Name], func(o *schema) bool { return o.Ref == s.Ref }) {
				with[k.Name] = append(with[k.Name], s)
			}
		}
	}
	for _, name := range order {
		step.Properties = append(step.Properties, member{name, anyOf(with[name]...)})
	}
	for _, v := range sheet.Verbs() {
		then := &schema{Additional: false, Properties: members{{"do", true}}}
		for _, k := range keysOf(v.Do) {
			var value any = true
			if len(with[k.Name]) > 1 {
				value = w.define("step."+k.Name, v.Do, w.key(k))
			}
			then.Properties = append(then.Properties, member{k.Name, value})
			if k.Required {
				then.Required = append(then.Required, k.Name)
			}
		}
		besides(v.Do, then)
		step.AllOf = append(step.AllOf, &schema{
			If:   &schema{Required: []string{"do"}, Properties: members{{"do", &schema{Type: "string", Pattern: wordPattern([]string{v.Do})}}}},
			Then: then,
		})
	}
	return tables(w.define("step", "other", step))
}

// keysOf are the keys of a verb's step, `do` apart, with the helpers that an
// editor offers.
func keysOf(do string) []sheet.Key {
	var keys []sheet.Key
	for _, k := range sheet.KeysOf(do) {
		if slices.Contains(k.Takes, sheet.TakesHelper) {
			k.Words = sheet.HelpersFor(do)
		}
		if k.Name != "do" {
			keys = append(keys, k)
		}
	}
	return keys
}

// besides adds to a verb's schema what its keys ask of each other.
func besides(do string, then *schema) {
	switch do {
	case "scuff":
		then.AnyOf = []*schema{{Required: []string{"grit"}}, {Required: []string{"pad"}}}
	case "strip":
		// What goes with a blast alone.
		then.If = &schema{Required: []string{"tool"}, Properties: members{{"tool", &schema{Type: "string", Pattern: wordPattern([]string{"blast"})}}}}
		then.Else = &schema{Properties: members{{"media", false}, {"profile", false},
			{"where", &schema{Not: &schema{Type: "string", Pattern: wordPattern([]string{"cabinet"})}}}}}
	}
}

// waivers is the list of waivers: the names of the built-in rules are offered,
// and any other may be a shop's own.
func (w *writer) waivers(keys []sheet.Key, rules []string) *schema {
	t := w.table(keys)
	for _, p := range t.Properties {
		if p.name == "rule" {
			p.value.(*schema).Type, p.value.(*schema).Pattern = "", ""
			p.value.(*schema).AnyOf = []*schema{{Enum: values(rules)}, {Type: "string", Pattern: written}}
		}
	}
	return tables(t)
}

func fieldsOf(keys []sheet.Key, name string) []sheet.Key {
	for _, k := range keys {
		if k.Name == name {
			return k.Fields
		}
	}
	return nil
}

// sheetSchema is the schema of a process sheet.
func sheetSchema(rules map[string]string) ([]byte, error) {
	w := newWriter()
	keys := sheet.SheetKeys()
	root := w.file(keys, map[string]*schema{
		"zone":    tables(w.table(fieldsOf(keys, "zone"))),
		"product": w.cards(),
		"step":    w.steps(),
		"waiver":  w.waivers(fieldsOf(keys, "waiver"), sortedNames(rules)),
	})
	root.Description = "A coating process as a shop writes it down: what the panel is, the products, and the steps in the order they are done."
	return w.root(root, "Process sheet")
}

// shelfSchema is the schema of a shelf of product cards.
func shelfSchema() ([]byte, error) {
	w := newWriter()
	root := w.file(sheet.ShelfKeys(), map[string]*schema{"product": w.cards()})
	root.Description = "Product cards: what the data sheets say of the products on the shelf."
	return w.root(root, "Shelf of product cards")
}

// houseSchema is the schema of a house file.
func houseSchema(rules map[string]string) ([]byte, error) {
	w := newWriter()
	limits := &schema{Type: "object", Additional: false}
	for _, l := range trade.Limits() {
		limits.Properties = append(limits.Properties, member{l.Name, w.limit(l)})
	}
	root := w.file(sheet.HouseKeys(), map[string]*schema{"limits": limits, "grades": w.grades(rules)})
	root.Description = "What holds for every sheet of the shop: its shelf, its region, its own limits and grades."
	// Other names of rules are a shop's own, and it has such where it names
	// their folder.
	own := &schema{Required: []string{"house"}, Properties: members{{"house", &schema{Required: []string{"rules"}}}}}
	known := &schema{Properties: members{{"grades", &schema{Names: &schema{Enum: values(sortedNames(rules))}}}}}
	root.If, root.Else = own, known
	return w.root(root, "House file")
}

func sortedNames(rules map[string]string) []string {
	var names []string
	for name := range rules {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// limit is what may stand in a limit's place.
func (w *writer) limit(l trade.Limit) *schema {
	value := l.Restoration
	is := value.String()
	if l.Differs {
		is = l.Restoration.String() + " for restoration and " + l.Collision.String() + " for collision"
	}
	example := l.Name + ` = "` + value.String() + `"`
	about := strings.TrimSuffix(l.About, ".")
	s := &schema{Description: strings.ToUpper(about[:1]) + about[1:] + ". The rulebook has " + is + ". Example: " + example}
	switch {
	case value.IsGrade():
		s.AllOf = []*schema{w.define("numbered-grade", "other", oneWay(numberedPatterns()))}
	case value.Dim == quantity.Count:
		s.AnyOf = []*schema{w.define(dashed(value.Dim.String()), "other", oneWay(limitPatterns(value.Dim))), {Type: "number", Minimum: new(int)}}
	default:
		s.AllOf = []*schema{w.define(dashed(value.Dim.String()), "other", oneWay(limitPatterns(value.Dim)))}
	}
	return s
}

// grades is the table of the grades that a house gives.
func (w *writer) grades(rules map[string]string) *schema {
	word := sheet.Key{Name: "grade", Takes: []sheet.Takes{sheet.TakesWord}, Words: sheet.GradeWords()}
	eased := w.define("eased", "other", &schema{AnyOf: w.ways(word, sheet.TakesWord)})
	off := w.table(sheet.GradeKeys())
	for i, p := range off.Properties {
		s := p.value.(*schema)
		switch p.name {
		case "off":
			s.Const = true
		case "reason":
			s.Pattern = written
		}
		off.Properties[i].value = s
		off.Required = append(off.Required, p.name)
	}
	w.define("off", "other", off)
	given := func(family string) *schema {
		if family == peopleFamily {
			return &schema{AllOf: []*schema{eased}}
		}
		return anyOf(eased, refTo("off"))
	}
	t := &schema{Type: "object", Additional: given("")}
	for _, name := range sortedNames(rules) {
		s := given(rules[name])
		s.Description = "The most that the rule " + name + " can give: fails, risk or advice"
		if rules[name] == peopleFamily {
			s.Description += ". It guards people and is never off"
		} else {
			s.Description += `, or {off = true, reason = "..."}`
		}
		s.Description += `. Example: ` + name + ` = "advice"`
		t.Properties = append(t.Properties, member{name, s})
	}
	return t
}

// peopleFamily is the family of rules that can never be off.
const peopleFamily = "people"
