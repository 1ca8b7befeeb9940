package stack

import (
	"bytes"
	"encoding/json"
	"fmt"
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
	return b.Bytes(), nil
}
