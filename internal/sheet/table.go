package sheet

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"guidecoat/internal/quantity"
	"guidecoat/internal/trade"
)

// mostProblems is how many problems are told of one file.
const mostProblems = 1000

// doc is one file on its way to being read: its index, and what is wrong.
type doc struct {
	loc      location
	x        *Index
	problems []Problem
}

// say notes a problem at a span of the file.
func (d *doc) say(at Span, key, format string, args ...any) {
	d.sayAt(d.x.Place(at), key, fmt.Sprintf(format, args...))
}

func (d *doc) sayAt(at Place, key, message string) {
	if len(d.problems) < mostProblems {
		d.problems = append(d.problems, Problem{Place: at, Key: key, Message: message})
	}
}

// full tells that no more problems are noted.
func (d *doc) full() bool { return len(d.problems) >= mostProblems }

// sorted are problems by place, each once; those of the file first, then
// those of the files that it leads to.
func sorted(first string, problems []Problem) []Problem {
	sort.SliceStable(problems, func(i, j int) bool {
		a, b := problems[i], problems[j]
		if a.Place.File != b.Place.File {
			if (a.Place.File == first) != (b.Place.File == first) {
				return a.Place.File == first
			}
			return a.Place.File < b.Place.File
		}
		if a.Place.Line != b.Place.Line {
			return a.Place.Line < b.Place.Line
		}
		if a.Place.Column != b.Place.Column {
			return a.Place.Column < b.Place.Column
		}
		if a.Key != b.Key {
			return a.Key < b.Key
		}
		return a.Message < b.Message
	})
	var out []Problem
	for i, p := range problems {
		if i > 0 && p == problems[i-1] {
			continue
		}
		out = append(out, p)
	}
	return out
}

// table is a table of a file with the keys it may have. The zero table has
// nothing in it.
type table struct {
	d    *doc
	n    *Node
	v    map[string]any
	spec *keySet
}

// at is the span that a fault of the whole table is told at: its header, else
// its key.
func (t table) at() Span { return headOf(t.n) }

func headOf(n *Node) Span {
	switch {
	case n == nil || n.Parent == nil:
		if n != nil {
			return Span{n.Whole.Start, n.Whole.Start}
		}
		return Span{}
	case !n.Header.IsZero():
		return n.Header
	case !n.Key.IsZero():
		return n.Key
	}
	return n.Value
}

func (t table) place() Place {
	if t.d == nil || t.n == nil {
		return Place{}
	}
	return t.d.x.Place(t.n.Whole)
}

// key is the path of one of the table's keys.
func (t table) key(name string) string { return join(t.n.Path(), name, 0) }

// get is a key's value and place; ok is false where it is not written.
func (t table) get(name string) (v any, n *Node, k *Key, ok bool) {
	v, ok = t.v[name]
	if !ok {
		return nil, nil, nil, false
	}
	n = t.n.Get(name)
	k = t.spec.byName[name]
	return v, n, k, n != nil && k != nil
}

func (t table) written(name string) bool {
	_, ok := t.v[name]
	return ok
}

// check notes unknown keys and missing ones. what names the table in
// messages: "a card", "a step that does sand".
func (t table) check(what string) {
	for _, c := range t.n.Children {
		if t.spec.byName[c.Name] == nil {
			t.unknown(c, what)
		}
	}
	t.missing(what)
}

func (t table) unknown(c *Node, what string) {
	kind := "key"
	if c.Form == FormTable || c.Form == FormTables || c.Form == FormInline {
		kind = "table"
	}
	want := didYouMean(nearest(c.Name, t.spec.names()))
	if names := t.spec.names(); want == "" {
		const fewKeys = 16
		want = "it has " + listed(names, "and", asIs)
		if len(names) > fewKeys {
			want = "it has " + strconv.Itoa(len(names)) + " others, such as " + listed(names[:mostNear], "and", asIs)
		}
	}
	t.d.say(headOf(c), c.Path(), "%s has no %s %s; %s", what, kind, quoted(c.Name), want)
}

func (t table) missing(what string) {
	for _, k := range t.spec.keys {
		if k.Required && !t.written(k.Name) {
			t.lacks(k, what)
		}
	}
}

func (t table) lacks(k Key, what string) {
	if k.takes(TakesTable) {
		t.d.say(t.at(), t.key(k.Name), "%s needs a table [%s] (%s)", what, k.Name, k.Meaning)
		return
	}
	example := k.Name + " = " + k.Example
	t.d.say(t.at(), t.key(k.Name), "%s needs %s (%s); write, for example, %s", what, quoted(k.Name), k.Meaning, example)
}

// wanted says what a key takes.
func wanted(k *Key) string {
	var ways []string
	for _, take := range k.Takes {
		var way string
		switch take {
		case TakesFlag:
			way = "true or false without quotes"
		case TakesWhole:
			way = "a whole number without quotes"
		case TakesDay:
			way = "a date without quotes"
		case TakesTable, TakesNamed:
			way = "a table"
		case TakesTables:
			way = "tables, each under [[" + k.Name + "]]"
		case TakesQuantity:
			way = "a quantity in quotes"
		default:
			way = "a text in quotes"
		}
		if len(ways) == 0 || ways[len(ways)-1] != way {
			ways = append(ways, way)
		}
	}
	if k.List {
		ways = append(ways, "a list of them")
	}
	return listed(ways, "or", asIs)
}

var formNames = map[Form]string{
	FormTable: "a table", FormInline: "a table", FormTables: "a list of tables", FormList: "a list", FormText: "a text",
	FormWhole: "a number", FormFraction: "a number with a point", FormFlag: "true or false", FormDay: "a date",
	FormMoment: "a date with a time of day", FormTime: "a time of day",
}

// wrongForm notes that a value is of a form that its key does not take.
func (t table) wrongForm(n *Node, k *Key) {
	example := ""
	if k.Example != "" {
		example = ", such as " + k.Name + " = " + k.Example
		if strings.HasPrefix(k.Example, "[product") {
			example = ", such as " + k.Example
		}
	}
	at := n.Value
	if n.Form == FormTable || n.Form == FormTables {
		at = headOf(n)
	}
	t.d.say(at, n.Path(), "%s stands here, and %s is wanted%s", formNames[n.Form], wanted(k), example)
}

func (t table) text(name string) Text {
	v, n, k, ok := t.get(name)
	if !ok {
		return Text{}
	}
	s, isText := v.(string)
	if !isText {
		t.wrongForm(n, k)
		return Text{}
	}
	if k.Required && strings.TrimSpace(s) == "" {
		t.d.say(n.Value, n.Path(), "nothing is written between the quotes; write, for example, %s = %s", k.Name, k.Example)
		return Text{}
	}
	return Text{Value: s, Written: true, Place: t.d.x.Place(n.Value)}
}

// foldWord is a word of a closed list as two spellings are compared: case and
// blanks do not matter.
func foldWord(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// wordOf finds a word in a closed list.
func wordOf(s string, words []string) (string, bool) {
	folded := foldWord(s)
	for range 2 {
		for _, w := range words {
			if folded == strings.ToLower(w) {
				return w, true
			}
		}
		same, ok := sameWord[folded]
		if !ok {
			break
		}
		folded = same
	}
	return "", false
}

// notOf says that a word is not of a closed list, and which are near.
func notOf(s string, words []string) string {
	message := quoted(s) + " is not known here; "
	if near := nearest(s, words); len(near) > 0 {
		return message + didYouMean(near) + " It is one of " + listed(words, "or", asIs)
	}
	return message + "it is one of " + listed(words, "or", asIs)
}

func (t table) word(name string) Text {
	text := t.text(name)
	if !text.Written {
		return text
	}
	k := t.spec.byName[name]
	w, ok := wordOf(text.Value, k.Words)
	if !ok && k.Open {
		return text
	}
	if !ok {
		t.d.sayAt(text.Place, t.key(name), notOf(text.Value, k.Words))
		return Text{}
	}
	text.Value = w
	return text
}

func (t table) flag(name string) Flag {
	v, n, k, ok := t.get(name)
	if !ok {
		return Flag{}
	}
	b, isFlag := v.(bool)
	if !isFlag {
		t.wrongForm(n, k)
		return Flag{}
	}
	return Flag{Value: b, Written: true, Place: t.d.x.Place(n.Value)}
}

// isQuotedFlag tells, and notes, whether a key that takes true or false beside
// names has one of the two in quotes, or a word for it.
func (t table) isQuotedFlag(name string) bool {
	v, n, _, ok := t.get(name)
	if !ok {
		return false
	}
	s, _ := v.(string)
	word, is := flagMeant(strings.TrimSpace(s))
	if is {
		t.d.say(n.Value, n.Path(), "write %s = %s: true and false stand without quotes", name, word)
	}
	return is
}

// whole reads a whole number between its key's bounds; few and many say what
// is wrong with one beyond them.
func (t table) whole(name string, few, many string) Number {
	v, n, k, ok := t.get(name)
	if !ok {
		return Number{}
	}
	i, isWhole := v.(int64)
	switch {
	case !isWhole:
		t.wrongForm(n, k)
		return Number{}
	case i < int64(k.Least):
		t.d.say(n.Value, n.Path(), "%d is too little: %s", i, few)
		return Number{}
	case i > int64(k.Most):
		t.d.say(n.Value, n.Path(), "%d is too much: %s", i, many)
		return Number{}
	}
	return Number{Value: int(i), Written: true, Place: t.d.x.Place(n.Value)}
}

func (t table) day(name string) Date {
	v, n, k, ok := t.get(name)
	if !ok {
		return Date{}
	}
	if n.Form == FormText {
		if s, _ := v.(string); isDay(s) {
			t.d.say(n.Value, n.Path(), "a date stands without quotes: %s = %s", name, s)
			return Date{}
		}
	}
	day, isDate := v.(time.Time)
	if !isDate || n.Form != FormDay {
		t.wrongForm(n, k)
		return Date{}
	}
	// The day alone, in no zone of the world's clock.
	day = time.Date(day.Year(), day.Month(), day.Day(), 0, 0, 0, 0, time.UTC)
	return Date{Value: day, Written: true, Place: t.d.x.Place(n.Value)}
}

func isDay(s string) bool {
	_, err := time.Parse("2006-01-02", s)
	return err == nil
}

// asText is a value as text where it is a text, or a number that is written
// without quotes; what is wrong with that is for the reading of the text to say.
func asText(v any) (string, bool) {
	switch v := v.(type) {
	case string:
		return v, true
	case int64:
		return strconv.FormatInt(v, 10), true
	case float64:
		switch {
		case math.IsNaN(v):
			return "nan", true
		case math.IsInf(v, 0):
			return "inf", true
		}
		return strconv.FormatFloat(v, 'g', -1, 64), true
	}
	return "", false
}

// words of an error for a painter.
func words(err error) string {
	var q *quantity.Error
	if errors.As(err, &q) {
		return q.Problem + "; " + q.Want
	}
	return err.Error()
}

// amount reads a quantity of the key's dimension.
func (t table) amount(name string) Amount {
	v, n, k, ok := t.get(name)
	if !ok {
		return Amount{}
	}
	return t.amountAt(v, n, k)
}

func (t table) amountAt(v any, n *Node, k *Key) Amount {
	s, isText := asText(v)
	if !isText {
		t.wrongForm(n, k)
		return Amount{}
	}
	q, err := quantity.Parse(k.Dim, s)
	if err != nil {
		message := words(err)
		// The units of its dimension are not all its own.
		if of := new(quantity.Error); k.Units != nil && errors.As(err, &of) {
			message = of.Problem + "; " + inUnits(k)
		}
		t.d.say(n.Value, n.Path(), "%s", message)
		return Amount{}
	}
	if why := cannotBe(k, q); why != "" {
		t.d.say(n.Value, n.Path(), "%s %s", quoted(s), why)
		return Amount{}
	}
	return Amount{Quantity: q, Place: t.d.x.Place(n.Value)}
}

// inUnits says which units a key may be written in.
func inUnits(k *Key) string {
	return "write it in " + listed(k.Units, "or", asIs) + ", such as " + k.Example
}

// cannotBe says what keeps a quantity from being the key's, though it has the
// right dimension.
func cannotBe(k *Key, q quantity.Quantity) string {
	switch {
	case k.Dim == quantity.Share && k.Name != "reduce_up_to" && !math.IsInf(q.Hi, 1) && q.Hi > 100:
		return "is more than there can be; write a share of at most 100 %"
	case k.Units != nil && q.Unit != "" && !slices.Contains(k.Units, q.Unit):
		return "is not how a " + k.Meaning + " is named; " + inUnits(k)
	case k.Dim == quantity.Count && q.Lo < float64(k.Least):
		return "is less than one coat; write 1 or more, such as " + k.Example
	}
	return ""
}

func (t table) grade(name string) Grade {
	v, n, k, ok := t.get(name)
	if !ok {
		return Grade{}
	}
	s, isText := asText(v)
	if !isText {
		t.wrongForm(n, k)
		return Grade{}
	}
	if name == "pad" {
		if folded := foldWord(s); !strings.HasSuffix(folded, "pad") {
			for _, p := range quantity.PadNames() {
				if folded+" pad" == p {
					s = p
				}
			}
		}
	}
	a, err := quantity.ParseAbrasive(s)
	if err != nil {
		t.d.say(n.Value, n.Path(), "%s", words(err))
		return Grade{}
	}
	if name == "pad" && a.System != quantity.Pad {
		t.d.say(n.Value, n.Path(), "%s is no pad; write %s, or name a grade with grit", quoted(s), listed(quantity.PadNames(), "or", quoted))
		return Grade{}
	}
	return Grade{Abrasive: a, Written: true, Place: t.d.x.Place(n.Value)}
}

func (t table) grades(name string) quantity.AbrasiveRange {
	text := t.text(name)
	if !text.Written {
		return quantity.AbrasiveRange{}
	}
	r, err := quantity.ParseAbrasiveRange(text.Value)
	if err != nil {
		t.d.sayAt(text.Place, t.key(name), words(err))
		return quantity.AbrasiveRange{}
	}
	return r
}

func (t table) mix(name string) MixText {
	v, n, k, ok := t.get(name)
	if !ok {
		return MixText{}
	}
	s, isText := asText(v)
	if !isText {
		t.wrongForm(n, k)
		return MixText{}
	}
	if n.Form != FormText {
		t.d.say(n.Value, n.Path(), "a mix stands in quotes: %s = %s", name, quoted(s))
		return MixText{}
	}
	m, err := quantity.ParseMix(s)
	if err != nil {
		t.d.say(n.Value, n.Path(), "%s", words(err))
		return MixText{}
	}
	if m.Paste.Written && m.Paste.Hi > 100 {
		t.d.say(n.Value, n.Path(), "%s is more than there can be; write the share of paste hardener by weight, such as \"2 %%\"", quoted(s))
		return MixText{}
	}
	return MixText{Mix: m, Place: t.d.x.Place(n.Value)}
}

// item is one value of a list, or the one that stands alone.
type item struct {
	v any
	n *Node
}

// items are the values of a key that takes a list or one alone. ok is false
// where nothing is written.
func (t table) items(name string) (items []item, n *Node, ok bool) {
	v, n, k, ok := t.get(name)
	if !ok {
		return nil, nil, false
	}
	var list []any
	switch v := v.(type) {
	case []any:
		list = v
	case []map[string]any:
		for _, m := range v {
			list = append(list, m)
		}
	case map[string]any:
		if !k.takes(TakesTable) {
			t.wrongForm(n, k)
			return nil, n, false
		}
		return []item{{v, n}}, n, true
	default:
		return []item{{v, n}}, n, true
	}
	for i, v := range list {
		if e := n.Entry(i + 1); e != nil {
			items = append(items, item{v, e})
		}
	}
	return items, n, true
}

func (k *Key) takes(what Takes) bool {
	for _, t := range k.Takes {
		if t == what {
			return true
		}
	}
	return false
}

// texts reads a list of words; each is a word of the key's closed list where
// it has one. A word that stands twice is taken once.
func (t table) texts(name string) Texts {
	items, n, ok := t.items(name)
	if !ok {
		return Texts{}
	}
	k := t.spec.byName[name]
	out := Texts{Written: true, Place: t.d.x.Place(n.Value), Values: []string{}}
	seen := map[string]bool{}
	for _, it := range items {
		s, isText := it.v.(string)
		if !isText {
			t.wrongForm(it.n, k)
			continue
		}
		if strings.TrimSpace(s) == "" {
			t.d.say(it.n.Value, it.n.Path(), "nothing is written between the quotes")
			continue
		}
		if len(k.Words) > 0 {
			w, known := wordOf(s, k.Words)
			if !known {
				t.d.say(it.n.Value, it.n.Path(), "%s", notOf(s, k.Words))
				continue
			}
			s = w
		}
		if !seen[s] {
			seen[s] = true
			out.Values = append(out.Values, s)
			out.Places = append(out.Places, t.d.x.Place(it.n.Value))
		}
	}
	return out
}

// kindOf reads the name of a kind of one of some roles.
func (t table) kindOf(s string, at Span, key string, roles []string) (*trade.Kind, bool) {
	k, ok := trade.Kinds().Lookup(s)
	if !ok {
		message := "there is no kind " + quoted(s)
		if near := trade.Kinds().Near(s, roles...); len(near) > 0 {
			message += "; " + didYouMean(near)
		} else {
			message += "; `guidecoat rulebook --kinds` lists them"
		}
		t.d.say(at, key, "%s", message)
		return nil, false
	}
	for _, r := range roles {
		if k.Role == r {
			return k, true
		}
	}
	t.d.say(at, key, "%s", wrongRole(s, k, roles))
	return nil, false
}

var roleNames = map[string]string{
	"substrate": "a substrate", "finish": "a finish that is there before", "film": "a film", "helper": "a helper, never a film",
}

// wrongRole says that a kind is not of the sort that is wanted.
func wrongRole(s string, k *trade.Kind, roles []string) string {
	var want []string
	for _, r := range roles {
		if r == "helper" {
			want = append(want, "a helper")
			continue
		}
		want = append(want, roleNames[r])
	}
	return quoted(s) + " is " + roleNames[k.Role] + ", and " + listed(want, "or", asIs) + " is wanted"
}

// kind reads a kind and gives it its own name.
func (t table) kind(name string) Text {
	text := t.text(name)
	if !text.Written {
		return text
	}
	k, ok := t.kindOf(text.Value, t.n.Get(name).Value, t.key(name), t.spec.byName[name].Roles)
	if !ok {
		return Text{}
	}
	text.Value = k.Name
	return text
}

// kinds reads a list of kinds and gives them their own names.
func (t table) kinds(name string) Texts {
	texts := t.texts(name)
	if !texts.Written {
		return texts
	}
	out := Texts{Written: true, Place: texts.Place, Values: []string{}}
	seen := map[string]bool{}
	for i, s := range texts.Values {
		at := texts.Places[i]
		key := t.key(name)
		if n := t.d.x.At(at.Start); n != nil {
			key = n.Path()
		}
		k, ok := t.kindOf(s, Span{at.Start, at.End}, key, t.spec.byName[name].Roles)
		if ok && !seen[k.Name] {
			seen[k.Name] = true
			out.Values = append(out.Values, k.Name)
			out.Places = append(out.Places, at)
		}
	}
	return out
}

// sub is the table under a key. ok is false where none is written.
func (t table) sub(name string, spec *keySet) (table, bool) {
	v, n, k, ok := t.get(name)
	if !ok {
		return table{}, false
	}
	return t.subAt(v, n, k, spec)
}

func (t table) subAt(v any, n *Node, k *Key, spec *keySet) (table, bool) {
	m, isTable := v.(map[string]any)
	if !isTable {
		if n.Form == FormTables {
			t.d.say(headOf(n.Entry(1)), n.Path(), "there is only one %s; write [%s] with single brackets", n.Name, n.Path())
			return table{}, false
		}
		t.wrongForm(n, k)
		return table{}, false
	}
	return table{d: t.d, n: n, v: m, spec: spec}, true
}

// subs are the tables of a list of tables, each under a [[header]].
func (t table) subs(name string) []item {
	v, n, k, ok := t.get(name)
	if !ok {
		return nil
	}
	if _, isTable := v.(map[string]any); isTable {
		t.d.say(headOf(n), n.Path(), "write [[%s]] with two brackets: a sheet may have many of them", name)
		return nil
	}
	items, _, ok := t.items(name)
	if !ok {
		return nil
	}
	var tables []item
	for _, it := range items {
		if _, isTable := it.v.(map[string]any); !isTable {
			t.wrongForm(it.n, k)
			continue
		}
		tables = append(tables, it)
	}
	return tables
}

// keyPlaces are the places of each key's `key = value`.
func (t table) keyPlaces() map[string]Place {
	places := make(map[string]Place, len(t.n.Children))
	for _, c := range t.n.Children {
		places[c.Name] = t.d.x.Place(c.Whole)
	}
	return places
}
