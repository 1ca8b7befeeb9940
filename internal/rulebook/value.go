package rulebook

import (
	"encoding/binary"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// toValue turns a Go value into the value OPA works on, straight from the
// fields: the same that encoding/json and OPA's reader would give together, at
// a fraction of the time. It knows the tags of encoding/json.
//
// Parts that are alike and come again and again in a stack (the traits of a
// kind, a contact in a ready-made look) are made once and shared: OPA never
// changes a value.
func toValue(v any) (ast.Value, error) { return toValueOf(v, nil) }

// toValueOf is toValue with only the fields that keep lets in; nil lets in all.
// What rules hand on whole, a shown quantity and a place, stays whole.
func toValueOf(v any, keep func(field string) bool) (ast.Value, error) {
	e := encoding{words: map[string]*ast.Term{}, records: map[string]*ast.Term{}, entries: map[entryKey]entryTerm{}, keep: keep, kept: map[*shape][]field{}}
	t, err := e.term(reflect.ValueOf(v))
	if err != nil {
		return nil, fmt.Errorf("handing the stack to the rules: %w", err)
	}
	return t.Value, nil
}

// handedOn are the records that rules put into their verdicts as they are.
var handedOn = []reflect.Type{reflect.TypeFor[stack.Shown](), reflect.TypeFor[sheet.Place]()}

// limitType is of the one table whose keys rules name, as they name fields.
var limitType = reflect.TypeFor[stack.Limit]()

// encoding is one conversion under way.
type encoding struct {
	words   map[string]*ast.Term
	records map[string]*ast.Term // by type and content
	entries map[entryKey]entryTerm
	scrap   []byte
	keep    func(field string) bool // nil: all
	kept    map[*shape][]field      // the fields that keep lets in
}

// entryKey names an entry of the stack: an entry in a ready-made look is the
// same as the one in its list.
type entryKey struct {
	of reflect.Type
	id string
}

type entryTerm struct {
	value any
	term  *ast.Term
}

// field is one field of a struct as JSON has it.
type field struct {
	index     int
	key       *ast.Term
	omitEmpty bool
	sub       *shape // of a struct
}

// shape is what is known of a struct type: worked out once a type.
type shape struct {
	fields []field
	// small: the struct holds nothing but flags, words, numbers, lists of words
	// and other small structs, so that its content can be written as a short key
	// and shared.
	small bool
	// json: the type writes its own JSON, or embeds another: left to encoding/json.
	json bool
	// id is the field that names an entry, or -1.
	id int
	// whole: rules hand it on as it is.
	whole bool
}

var shapes sync.Map // reflect.Type to *shape

var (
	jsonMarshaler = reflect.TypeFor[json.Marshaler]()
)

func shapeOf(t reflect.Type) *shape {
	if s, ok := shapes.Load(t); ok {
		return s.(*shape)
	}
	s := &shape{small: true, id: -1, whole: slices.Contains(handedOn, t)}
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			s.json = true
		}
		tag := f.Tag.Get("json")
		if !f.IsExported() || tag == "-" {
			continue
		}
		name, options, _ := strings.Cut(tag, ",")
		if name == "" {
			name = f.Name
		}
		if name == "id" && f.Type.Kind() == reflect.String {
			s.id = i
		}
		if options != "" && options != "omitempty" {
			s.json = true
		}
		added := field{index: i, key: ast.StringTerm(name), omitEmpty: options == "omitempty"}
		if f.Type.Kind() == reflect.Struct {
			added.sub = shapeOf(f.Type)
		}
		s.fields = append(s.fields, added)
		s.small = s.small && short(f.Type)
	}
	if t.Implements(jsonMarshaler) || reflect.PointerTo(t).Implements(jsonMarshaler) {
		s.json = true
	}
	shapes.Store(t, s)
	return s
}

// short says whether a value can be a part of a small struct.
func short(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Bool, reflect.String, reflect.Int, reflect.Float64:
		return true
	case reflect.Slice:
		return t.Elem().Kind() == reflect.String
	case reflect.Pointer:
		return t.Elem().Kind() == reflect.Float64
	case reflect.Struct:
		s := shapeOf(t)
		return s.small && !s.json
	}
	return false
}

func (e *encoding) term(v reflect.Value) (*ast.Term, error) {
	if !v.IsValid() {
		return ast.InternedNullTerm, nil
	}
	switch v.Kind() {
	case reflect.Bool:
		return ast.InternedTerm(v.Bool()), nil
	case reflect.String:
		return e.word(v.String()), nil
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		return ast.IntNumberTerm(int(v.Int())), nil
	case reflect.Float32, reflect.Float64:
		return number(v.Float())
	case reflect.Pointer, reflect.Interface:
		if v.IsNil() {
			return ast.InternedNullTerm, nil
		}
		return e.term(v.Elem())
	case reflect.Slice, reflect.Array:
		return e.list(v)
	case reflect.Map:
		return e.table(v)
	case reflect.Struct:
		return e.record(v)
	}
	return nil, fmt.Errorf("a %s has no place in the stack", v.Type())
}

// word shares the terms of words: kinds and zones come hundreds of times.
func (e *encoding) word(s string) *ast.Term {
	if t, ok := e.words[s]; ok {
		return t
	}
	t := ast.InternedTerm(s)
	e.words[s] = t
	return t
}

// number writes a float as encoding/json does, so that the stack read from JSON
// is the same value.
func number(f float64) (*ast.Term, error) {
	if math.IsNaN(f) || math.IsInf(f, 0) {
		return nil, fmt.Errorf("%v is no number", f)
	}
	if f == math.Trunc(f) && math.Abs(f) < 1e9 {
		if f == 0 && math.Signbit(f) {
			return ast.NumberTerm("-0"), nil
		}
		return ast.IntNumberTerm(int(f)), nil
	}
	format := byte('f')
	if abs := math.Abs(f); abs < 1e-6 || abs >= 1e21 {
		format = 'e'
	}
	s := strconv.FormatFloat(f, format, -1, 64)
	if format == 'e' {
		// e-09 is written e-9.
		if n := len(s); n >= 4 && s[n-4] == 'e' && s[n-3] == '-' && s[n-2] == '0' {
			s = s[:n-2] + s[n-1:]
		}
	}
	return ast.NumberTerm(json.Number(s)), nil
}

func (e *encoding) list(v reflect.Value) (*ast.Term, error) {
	if v.Kind() == reflect.Slice && v.IsNil() {
		return ast.InternedNullTerm, nil
	}
	if v.Type().Elem().Kind() == reflect.Uint8 {
		return nil, fmt.Errorf("a %s has no place in the stack", v.Type())
	}
	if v.Len() == 0 {
		return ast.InternedEmptyArray, nil
	}
	items := make([]*ast.Term, v.Len())
	for i := range items {
		t, err := e.term(v.Index(i))
		if err != nil {
			return nil, err
		}
		items[i] = t
	}
	return ast.ArrayTerm(items...), nil
}

func (e *encoding) table(v reflect.Value) (*ast.Term, error) {
	if v.Type().Key().Kind() != reflect.String {
		return nil, fmt.Errorf("a %s has no place in the stack", v.Type())
	}
	if v.IsNil() {
		return ast.InternedNullTerm, nil
	}
	keys := v.MapKeys()
	if e.keep != nil && v.Type().Elem() == limitType {
		keys = slices.DeleteFunc(keys, func(k reflect.Value) bool { return !e.keep(k.String()) })
	}
	sort.Slice(keys, func(i, j int) bool { return keys[i].String() < keys[j].String() })
	pairs := make([][2]*ast.Term, len(keys))
	for i, k := range keys {
		t, err := e.term(v.MapIndex(k))
		if err != nil {
			return nil, err
		}
		pairs[i] = [2]*ast.Term{e.word(k.String()), t}
	}
	return ast.NewTerm(ast.NewObject(pairs...)), nil
}

func (e *encoding) record(v reflect.Value) (*ast.Term, error) {
	s := shapeOf(v.Type())
	if s.json {
		return viaJSON(v)
	}
	key := ""
	if s.small && len(s.fields) > 2 {
		key = e.key(s, v)
		if t, ok := e.records[key]; ok {
			return t, nil
		}
	}
	var entry entryKey
	if s.id >= 0 && !s.small {
		entry = entryKey{v.Type(), v.Field(s.id).String()}
		// Two entries of one id that differ are two entries all the same. Copies
		// share what they point at, so that comparing them is quick.
		if t, ok := e.entries[entry]; ok && reflect.DeepEqual(t.value, v.Interface()) {
			return t.term, nil
		}
	}
	fields := e.fieldsOf(s)
	pairs := make([][2]*ast.Term, 0, len(fields))
	for _, f := range fields {
		fv := v.Field(f.index)
		if f.omitEmpty && empty(fv) {
			continue
		}
		t, err := e.term(fv)
		if err != nil {
			return nil, err
		}
		pairs = append(pairs, [2]*ast.Term{f.key, t})
	}
	t := ast.NewTerm(ast.NewObject(pairs...))
	if key != "" {
		e.records[key] = t
	}
	if entry.of != nil {
		e.entries[entry] = entryTerm{v.Interface(), t}
	}
	return t, nil
}

// fieldsOf are the fields of a record that are handed over.
func (e *encoding) fieldsOf(s *shape) []field {
	if e.keep == nil || s.whole {
		return s.fields
	}
	kept, ok := e.kept[s]
	if !ok {
		for _, f := range s.fields {
			if name, _ := f.key.Value.(ast.String); e.keep(string(name)) {
				kept = append(kept, f)
			}
		}
		e.kept[s] = kept
	}
	return kept
}

// key writes the content of a small struct so that no two contents look alike:
// every word is preceded by its length.
func (e *encoding) key(s *shape, v reflect.Value) string {
	e.scrap = appendWord(e.scrap[:0], v.Type().String())
	e.scrap = appendKey(e.scrap, s, v)
	return string(e.scrap)
}

func appendWord(b []byte, s string) []byte {
	b = strconv.AppendInt(b, int64(len(s)), 10)
	b = append(b, ':')
	return append(b, s...)
}

func appendKey(b []byte, s *shape, v reflect.Value) []byte {
	for _, f := range s.fields {
		switch fv := v.Field(f.index); fv.Kind() {
		case reflect.Bool:
			b = strconv.AppendBool(b, fv.Bool())
		case reflect.Int:
			b = append(strconv.AppendInt(b, fv.Int(), 10), ';')
		case reflect.Float64:
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(fv.Float()))
		case reflect.Pointer:
			if fv.IsNil() {
				b = append(b, '-')
			} else {
				b = binary.LittleEndian.AppendUint64(append(b, '+'), math.Float64bits(fv.Elem().Float()))
			}
		case reflect.String:
			b = appendWord(b, fv.String())
		case reflect.Struct:
			b = appendKey(b, f.sub, fv)
		case reflect.Slice:
			n := fv.Len()
			if fv.IsNil() {
				n = -1
			}
			b = append(strconv.AppendInt(b, int64(n), 10), ';')
			for i := range fv.Len() {
				b = appendWord(b, fv.Index(i).String())
			}
		}
	}
	return b
}

func empty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice, reflect.Map, reflect.Array, reflect.String:
		return v.Len() == 0
	case reflect.Struct:
		return false
	}
	return v.IsZero()
}

func viaJSON(v reflect.Value) (*ast.Term, error) {
	b, err := json.Marshal(v.Interface())
	if err != nil {
		return nil, err
	}
	val, err := ast.ValueFromReader(strings.NewReader(string(b)))
	if err != nil {
		return nil, err
	}
	return ast.NewTerm(val), nil
}

// plain turns a value of OPA back into Go: whole numbers as int, others as
// float64, sets as sorted lists.
func plain(v ast.Value) (any, error) {
	switch v := v.(type) {
	case ast.Null:
		return nil, nil
	case ast.Boolean:
		return bool(v), nil
	case ast.String:
		return string(v), nil
	case ast.Number:
		if i, ok := v.Int(); ok {
			return i, nil
		}
		f, ok := v.Float64()
		if !ok {
			return nil, fmt.Errorf("%s is too large a number", v)
		}
		return f, nil
	case *ast.Array:
		out := make([]any, v.Len())
		for i := range v.Len() {
			x, err := plain(v.Elem(i).Value)
			if err != nil {
				return nil, err
			}
			out[i] = x
		}
		return out, nil
	case ast.Set:
		out := make([]any, 0, v.Len())
		for _, t := range v.Slice() {
			x, err := plain(t.Value)
			if err != nil {
				return nil, err
			}
			out = append(out, x)
		}
		return out, nil
	case ast.Object:
		out := make(map[string]any, v.Len())
		for _, k := range v.Keys() {
			name, ok := k.Value.(ast.String)
			if !ok {
				return nil, fmt.Errorf("the key %v is not a word", k)
			}
			x, err := plain(v.Get(k).Value)
			if err != nil {
				return nil, err
			}
			out[string(name)] = x
		}
		return out, nil
	}
	return nil, fmt.Errorf("%v is not a plain value", v)
}
