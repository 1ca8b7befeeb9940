package rulebook

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"go.yaml.in/yaml/v3"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/internal/trade"
)

// A rule's needs say what a stack must hold for the rule to be able to speak: a
// rule about zinc has nothing to say of a sheet without any. The judge compiles
// and asks only the rules whose needs a stack meets; to leave the others out
// changes no verdict. Needs are no judgement: they are tested in Go over the
// facts of the stack, and whatever a rule weighs stays in the rule.
//
// Needs are a list, and one entry that is met is enough. An entry names with
// `in` one of the stack's lists, tables or records, and is met when one thing
// in it meets every other key of the entry. Such a key is the way to a field;
// through a list it means any of its elements. What it asks of the field:
//
//	true, false     it says something, or nothing: false, null, 0, "" and
//	                an empty list say nothing
//	past            of a comparison: what is measured lies past its limit, at
//	                one end at least
//	WORD, [WORDS]   the word is one of these, or the list holds one of these
//	{not: WORDS}    the word is none of these, or the list holds none of these
//	{over: NUMBER}  the number is larger, or the list longer
//
// An empty list of needs is of a rule that no stack makes speak.

// needsFile holds the needs of every rule, so that the judge need not read the
// METADATA of all to know which it wants. It is written by go generate.
const needsFile = "needs.json"

// Need is one entry of a rule's needs.
type Need struct {
	In string
	// If are the keys, with what each asks: a bool, a word, a list of words, or a
	// map of one key, "not" or "over".
	If map[string]any

	list  []int // way to what In names in a document
	tests []fieldTest
}

// fieldTest is one key of an entry, made ready.
type fieldTest struct {
	way []int // fields to go through; lists, tables and pointers are gone through as they come
	ok  func(reflect.Value) bool
}

// MarshalJSON writes an entry as METADATA has it.
func (n Need) MarshalJSON() ([]byte, error) {
	flat := maps.Clone(n.If)
	if flat == nil {
		flat = map[string]any{}
	}
	flat["in"] = n.In
	return json.Marshal(flat)
}

// UnmarshalJSON reads an entry and makes it ready.
func (n *Need) UnmarshalJSON(text []byte) error {
	var flat map[string]any
	if err := json.Unmarshal(text, &flat); err != nil {
		return err
	}
	n.In, _ = flat["in"].(string)
	delete(flat, "in")
	n.If = flat
	key, err := n.ready()
	if err != nil {
		return fmt.Errorf("%s: %w", key, err)
	}
	return nil
}

// ready finds the fields an entry names. An error is about key.
func (n *Need) ready() (key string, err error) {
	list, of, err := way(reflect.TypeFor[stack.Document](), n.In)
	if err != nil {
		return "in", err
	}
	n.list, n.tests = list, nil
	for _, path := range slices.Sorted(maps.Keys(n.If)) {
		w, leaf, err := way(of, path)
		if err != nil {
			return path, err
		}
		ok, err := asks(path, n.If[path], leaf)
		if err != nil {
			return path, err
		}
		n.tests = append(n.tests, fieldTest{w, ok})
	}
	return "", nil
}

// way finds the fields that a path of names goes through from a type, and the
// type at its end.
func way(t reflect.Type, path string) ([]int, reflect.Type, error) {
	var out []int
	for name := range strings.SplitSeq(path, ".") {
		for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Map {
			t = t.Elem()
		}
		if t.Kind() != reflect.Struct {
			return nil, nil, fmt.Errorf("there is nothing called %q here: what stands before it has no fields", name)
		}
		i, ok := fieldsOf(t)[name]
		if !ok {
			return nil, nil, errors.New(noField(name, "", slices.Collect(maps.Keys(fieldsOf(t)))))
		}
		out, t = append(out, i), t.Field(i).Type
	}
	return out, t, nil
}

// fieldsOf are the fields of a type by the names that JSON gives them.
func fieldsOf(t reflect.Type) map[string]int {
	if known, ok := fieldsByName.Load(t); ok {
		return known.(map[string]int)
	}
	byName := make(map[string]int, t.NumField())
	for i := range t.NumField() {
		tag, _, _ := strings.Cut(t.Field(i).Tag.Get("json"), ",")
		byName[tag] = i
	}
	fieldsByName.Store(t, byName)
	return byName
}

var fieldsByName sync.Map // reflect.Type to map[string]int

// asks makes what a key asks into a test of the field it names.
func asks(path string, wanted any, t reflect.Type) (func(reflect.Value) bool, error) {
	switch w := wanted.(type) {
	case bool:
		return func(v reflect.Value) bool { return says(v) == w }, nil
	case string:
		if under(t) == reflect.TypeFor[stack.Comparison]() {
			if w != "past" {
				return nil, fmt.Errorf("%q is asked of a comparison; of those it can be asked whether they are past, true or false", w)
			}
			return past, nil
		}
		return wordTest(path, []any{w}, t, true)
	case []any:
		return wordTest(path, w, t, true)
	case map[string]any:
		if not, ok := w["not"]; ok && len(w) == 1 {
			if one, ok := not.(string); ok {
				not = []any{one}
			}
			words, _ := not.([]any)
			return wordTest(path, words, t, false)
		}
		if over, ok := w["over"]; ok && len(w) == 1 {
			least, ok := over.(float64)
			if !ok {
				return nil, fmt.Errorf("over wants a number, and is %v", over)
			}
			return overTest(least, t)
		}
	}
	return nil, fmt.Errorf("%v can be asked of no field: write true, false, past, a word, a list of words, {not: ...} or {over: ...}", wanted)
}

// under is a type without its pointers.
func under(t reflect.Type) reflect.Type {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	return t
}

// says is true of what is neither false, null, 0, "" nor empty.
func says(v reflect.Value) bool {
	if !v.IsValid() {
		return false
	}
	switch v.Kind() {
	case reflect.Slice, reflect.Map:
		return v.Len() > 0
	case reflect.Struct:
		return true
	}
	return !v.IsZero()
}

// past is true of a comparison that is broken at one end at least; see
// lib.broken, which also tells at which.
func past(v reflect.Value) bool {
	if !v.IsValid() {
		return false
	}
	c, ok := v.Addr().Interface().(*stack.Comparison)
	if !ok || c.Open {
		return false
	}
	if c.Sense == "least" {
		return c.Over.Lo < 1 || c.Over.Hi != nil && *c.Over.Hi < 1
	}
	return c.Over.Lo > 1 || c.Over.Hi != nil && *c.Over.Hi > 1
}

func wordTest(path string, words []any, t reflect.Type, in bool) (func(reflect.Value) bool, error) {
	list := make([]string, 0, len(words))
	for _, w := range words {
		s, ok := w.(string)
		if !ok {
			return nil, fmt.Errorf("%v is no word", w)
		}
		if k := trade.KindOf(s); (k == nil || k.Name != s) && (path == "kind" || strings.HasSuffix(path, "_kind")) {
			return nil, fmt.Errorf("there is no kind %q", s)
		}
		list = append(list, s)
	}
	if len(list) == 0 {
		return nil, errors.New("no words are asked for")
	}
	switch t := under(t); {
	case t.Kind() == reflect.String:
		return func(v reflect.Value) bool {
			return (v.IsValid() && slices.Contains(list, v.String())) == in
		}, nil
	case t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.String:
		return func(v reflect.Value) bool {
			for i := range lengthOf(v) {
				if slices.Contains(list, v.Index(i).String()) {
					return in
				}
			}
			return !in
		}, nil
	}
	return nil, errors.New("words are asked of what is neither a word nor a list of words")
}

func overTest(least float64, t reflect.Type) (func(reflect.Value) bool, error) {
	switch under(t).Kind() {
	case reflect.Int:
		return func(v reflect.Value) bool { return v.IsValid() && float64(v.Int()) > least }, nil
	case reflect.Float64:
		return func(v reflect.Value) bool { return v.IsValid() && v.Float() > least }, nil
	case reflect.Slice:
		return func(v reflect.Value) bool { return float64(lengthOf(v)) > least }, nil
	}
	return nil, errors.New("over is asked of what is neither a number nor a list")
}

func lengthOf(v reflect.Value) int {
	if !v.IsValid() {
		return 0
	}
	return v.Len()
}

// met tells whether a document holds what an entry asks for.
func (n *Need) met(doc reflect.Value) bool {
	return reach(doc, n.list, func(v reflect.Value) bool {
		return each(v, func(entry reflect.Value) bool {
			for _, t := range n.tests {
				if !reach(entry, t.way, t.ok) {
					return false
				}
			}
			return true
		})
	})
}

// reach goes a way from a value and tells whether the test holds of one thing at
// its end. Where the way ends early the test is put to no value at all.
func reach(v reflect.Value, way []int, test func(reflect.Value) bool) bool {
	if len(way) == 0 {
		for v.IsValid() && v.Kind() == reflect.Pointer {
			v = v.Elem()
		}
		return test(v)
	}
	if !v.IsValid() {
		return test(v)
	}
	switch v.Kind() {
	case reflect.Pointer:
		return reach(v.Elem(), way, test)
	case reflect.Struct:
		return reach(v.Field(way[0]), way[1:], test)
	}
	return each(v, func(entry reflect.Value) bool { return reach(entry, way, test) })
}

// each tells whether a test holds of one entry of a list or table, or of a
// record itself.
func each(v reflect.Value, test func(reflect.Value) bool) bool {
	switch v.Kind() {
	case reflect.Slice:
		for i := range v.Len() {
			if test(v.Index(i)) {
				return true
			}
		}
		return false
	case reflect.Map:
		for i := v.MapRange(); i.Next(); {
			// What lies in a table has no address; a copy has.
			entry := reflect.New(v.Type().Elem()).Elem()
			entry.Set(i.Value())
			if test(entry) {
				return true
			}
		}
		return false
	}
	return test(v)
}

// needed are the names of the rules that a stack can make speak, sorted. A rule
// whose needs are not told is always among them.
func (b *Book) needed(doc *stack.Document) ([]string, error) {
	needs, err := b.needs()
	if err != nil {
		return nil, err
	}
	v := reflect.ValueOf(doc).Elem()
	out := make([]string, 0, len(b.names))
	for _, name := range b.names {
		list, told := needs[name]
		if !told || slices.ContainsFunc(list, func(n Need) bool { return n.met(v) }) {
			out = append(out, name)
		}
	}
	return out, nil
}

// needs are those of needsFile, read once; none where the book has no such file.
func (b *Book) needs() (map[string][]Need, error) {
	b.told.once.Do(func() {
		text, err := fs.ReadFile(b.files, needsFile)
		if err != nil {
			return // every rule is always needed
		}
		var file struct {
			Needs map[string][]Need `json:"needs"`
		}
		if err := json.Unmarshal(text, &file); err != nil {
			b.told.err = rulesError([]sheet.Problem{problem(needsFile, 1, 1, "%v; write it anew by go generate", err)})
			return
		}
		b.told.needs = file.Needs
	})
	return b.told.needs, b.told.err
}

// NeedsJSON is what needsFile must hold: the needs of every rule, sorted.
func (b *Book) NeedsJSON() ([]byte, error) {
	rules, err := b.Rules()
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	out.WriteString("{\"needs\": {")
	rules = slices.DeleteFunc(rules, func(r Rule) bool { return r.Needs == nil })
	slices.SortFunc(rules, func(x, y Rule) int { return strings.Compare(x.Name, y.Name) })
	for i, r := range rules {
		list := make([]string, len(r.Needs))
		for i, n := range r.Needs {
			line, err := json.Marshal(n)
			if err != nil {
				return nil, fmt.Errorf("writing %s: %w", needsFile, err)
			}
			list[i] = string(line)
		}
		if i > 0 {
			out.WriteByte(',')
		}
		fmt.Fprintf(&out, "\n  %q: [%s]", r.Name, strings.Join(list, ", "))
	}
	out.WriteString("\n}}\n")
	return out.Bytes(), nil
}

// needsOf reads the needs of a METADATA block.
func (m *metadata) needsOf(custom table) []Need {
	node, ok := custom.keys["needs"]
	if !ok {
		return nil
	}
	if node.Kind != yaml.SequenceNode {
		m.at(node, `"needs" must be a list of entries such as {in: contacts, lower_traits.acid: true}`)
		return nil
	}
	out := []Need{}
	for _, item := range node.Content {
		if item.Kind != yaml.MappingNode {
			m.at(item, `an entry of "needs" must be a table such as {in: contacts, lower_traits.acid: true}`)
			continue
		}
		n := Need{If: map[string]any{}}
		at := map[string]*yaml.Node{"in": item}
		for i := 0; i+1 < len(item.Content); i += 2 {
			k, v := item.Content[i], item.Content[i+1]
			if at[k.Value] != nil && k.Value != "in" || k.Value == "in" && n.In != "" {
				m.at(k, fmt.Sprintf("%q is written twice", k.Value))
			}
			at[k.Value] = v
			if k.Value == "in" {
				n.In = v.Value
				continue
			}
			n.If[k.Value] = asked(v)
		}
		if key, err := n.ready(); err != nil {
			m.at(at[key], fmt.Sprintf("needs, %s: %v", key, err))
			continue
		}
		out = append(out, n)
	}
	return out
}

// asked is what a key of an entry asks, as JSON would have it. Words are words,
// whatever else YAML could take them for.
func asked(v *yaml.Node) any {
	switch v.Kind {
	case yaml.SequenceNode:
		out := make([]any, len(v.Content))
		for i, x := range v.Content {
			out[i] = x.Value
		}
		return out
	case yaml.MappingNode:
		out := map[string]any{}
		for i := 0; i+1 < len(v.Content); i += 2 {
			out[v.Content[i].Value] = asked(v.Content[i+1])
		}
		return out
	}
	switch v.Tag {
	case "!!bool":
		return v.Value == "true"
	case "!!int", "!!float":
		if f, err := strconv.ParseFloat(v.Value, 64); err == nil {
			return f
		}
	}
	return v.Value
}
