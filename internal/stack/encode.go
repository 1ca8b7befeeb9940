package stack

import (
	"bytes"
	"encoding/json"
	"fmt"
	"reflect"

	"guidecoat/internal/printable"
)

// JSON is the document as JSON, on one line with a line end: the same bytes
// for the same document. Names out of a sheet are written as they are, so that
// `<` stays `<`.
func (d *Document) JSON() ([]byte, error) { return d.encode("") }

// IndentedJSON is the same, laid out for reading.
func (d *Document) IndentedJSON() ([]byte, error) { return d.encode("  ") }

func (d *Document) encode(indent string) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", indent)
	if err := e.Encode(d); err != nil {
		return nil, fmt.Errorf("writing the stack document: %w", err)
	}
	return printable.EscapedJSON(b.Bytes()), nil
}

// finish makes a built document ready for its readers: no list and no map in
// it is null, and every card names the typical numbers that were leaned on.
func (d *Document) finish() {
	d.sums()
	fillLists(reflect.ValueOf(d).Elem())
	d.noteCompared()
}

// fillLists puts an empty list or map in the place of every nil one.
func fillLists(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			fillLists(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fillLists(v.Field(i))
		}
	case reflect.Slice:
		if v.IsNil() {
			v.Set(reflect.MakeSlice(v.Type(), 0, 0))
		}
		for i := range v.Len() {
			fillLists(v.Index(i))
		}
	case reflect.Map:
		if v.IsNil() {
			v.Set(reflect.MakeMap(v.Type()))
		}
		for _, k := range v.MapKeys() {
			filled := reflect.New(v.Type().Elem()).Elem()
			filled.Set(v.MapIndex(k))
			fillLists(filled)
			v.SetMapIndex(k, filled)
		}
	}
}
