package stack

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"slices"
	"strings"
	"sync"

	"guidecoat/internal/printable"
)

// JSON is the document as JSON, on one line with a line end: the same bytes
// for the same document. Names out of a sheet are written as they are, so that
// `<` stays `<`.
func (d *Document) JSON() ([]byte, error) {
	text, err := encoded(d, "", "")
	if err != nil {
		return nil, fmt.Errorf("writing the stack document: %w", err)
	}
	return text, nil
}

// WriteJSON writes the same laid out for reading. It does so entry by entry: the
// text of a sheet at the bounds is a gigabyte, and must not lie in memory.
func (d *Document) WriteJSON(w io.Writer) error {
	out := bufio.NewWriter(w)
	v := reflect.ValueOf(d).Elem()
	for i := range v.NumField() {
		out.WriteString(before(i, "{"))
		name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
		out.WriteString("\n  \"" + name + "\": ")
		if err := writeField(out, v.Field(i)); err != nil {
			return fmt.Errorf("writing the stack document, %s: %w", name, err)
		}
	}
	out.WriteString("\n}\n")
	return out.Flush() // which tells of what went wrong before it
}

// writeField writes a list or a table entry by entry, and all else at once.
func writeField(w *bufio.Writer, v reflect.Value) error {
	var entries []reflect.Value
	var keys []string
	brackets := "[]"
	switch {
	case v.Kind() == reflect.Slice && v.Len() > 0:
		for i := range v.Len() {
			entries = append(entries, v.Index(i))
		}
	case v.Kind() == reflect.Map && v.Len() > 0:
		brackets = "{}"
		for _, k := range v.MapKeys() {
			keys = append(keys, k.String())
		}
		slices.Sort(keys)
		for _, k := range keys {
			entries = append(entries, v.MapIndex(reflect.ValueOf(k)))
		}
	default:
		return writeValue(w, v, "  ")
	}
	for i, entry := range entries {
		w.WriteString(before(i, brackets[:1]) + "\n    ")
		if keys != nil {
			if err := writeValue(w, reflect.ValueOf(keys[i]), ""); err != nil {
				return err
			}
			w.WriteString(": ")
		}
		if err := writeValue(w, entry, "    "); err != nil {
			return err
		}
	}
	w.WriteString("\n  " + brackets[1:])
	return nil
}

// before is what stands before an entry: the bracket before the first.
func before(i int, bracket string) string {
	if i == 0 {
		return bracket
	}
	return ","
}

// writeValue writes a value whose further lines are indented so far.
func writeValue(w *bufio.Writer, v reflect.Value, indent string) error {
	text, err := encoded(v.Interface(), indent, "  ")
	if err != nil {
		return err
	}
	_, err = w.Write(bytes.TrimSuffix(text, []byte("\n")))
	return err
}

// encoded is a value as JSON with a line end, laid out as json.Indent has it.
func encoded(v any, prefix, indent string) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent(prefix, indent)
	if err := e.Encode(v); err != nil {
		return nil, err
	}
	return printable.EscapedJSON(b.Bytes()), nil
}

// finish makes a built document ready for its readers: no list and no map in
// it is null, and every card names the typical numbers that were leaned on.
func (d *Document) finish() {
	d.sums()
	listsOf(reflect.TypeFor[Document]()).fill(reflect.ValueOf(d).Elem()) // those that are nil
	d.noteCompared()
}

// lists is where in a type lists and maps are, so that what holds none is not
// looked into.
type lists struct {
	fields []int // of a struct, those that hold some
	of     []*lists
	within *lists // of a list, a map or a pointer: what its elements hold, nil for nothing
}

// fill puts an empty list or map in the place of every nil one.
func (l *lists) fill(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			l.within.fill(v.Elem())
		}
	case reflect.Struct:
		for i, n := range l.fields {
			l.of[i].fill(v.Field(n))
		}
	case reflect.Slice:
		if v.IsNil() {
			v.Set(reflect.MakeSlice(v.Type(), 0, 0))
		}
		for i := 0; l.within != nil && i < v.Len(); i++ {
			l.within.fill(v.Index(i))
		}
	case reflect.Map:
		if v.IsNil() {
			v.Set(reflect.MakeMap(v.Type()))
		}
		if l.within == nil {
			return
		}
		for _, k := range v.MapKeys() {
			filled := reflect.New(v.Type().Elem()).Elem()
			filled.Set(v.MapIndex(k))
			l.within.fill(filled)
			v.SetMapIndex(k, filled)
		}
	}
}

var listsKnown sync.Map // reflect.Type to *lists

func listsOf(t reflect.Type) *lists {
	if known, ok := listsKnown.Load(t); ok {
		return known.(*lists)
	}
	l := &lists{}
	switch t.Kind() {
	case reflect.Struct:
		for i := range t.NumField() {
			if of := t.Field(i).Type; holdsLists(of) {
				l.fields, l.of = append(l.fields, i), append(l.of, listsOf(of))
			}
		}
	case reflect.Slice, reflect.Map, reflect.Pointer:
		if holdsLists(t.Elem()) {
			l.within = listsOf(t.Elem())
		}
	}
	listsKnown.Store(t, l)
	return l
}

// holdsLists tells whether a type is a list or a map, or holds one.
func holdsLists(t reflect.Type) bool {
	switch t.Kind() {
	case reflect.Slice, reflect.Map:
		return true
	case reflect.Pointer:
		return holdsLists(t.Elem())
	case reflect.Struct:
		for i := range t.NumField() {
			if holdsLists(t.Field(i).Type) {
				return true
			}
		}
	}
	return false
}
