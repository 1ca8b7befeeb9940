package stack

import (
	_ "embed"
	"encoding/json"
)

//go:generate go test -run TestTheSchemaIsMadeFromTheTypes -refresh .

// schemaJSON is the JSON Schema (draft 7) of a Document: made from its types
// by go generate, and held to them by a test.
//
//go:embed stack.schema.json
var schemaJSON []byte

// Schema is the JSON Schema (draft 7) of the document, as bytes to print.
// Every object is closed, so that a misspelt field is found. A value that may
// be null is typed ["object", "null"] and never anyOf: the type checker of the
// rules' compiler would take an anyOf with null for 'anything' and find no
// misspelt field in it.
func Schema() []byte { return append([]byte(nil), schemaJSON...) }

// SchemaValue is the schema decoded, for compilers and validators that take it so.
func SchemaValue() (any, error) {
	var v any
	if err := json.Unmarshal(schemaJSON, &v); err != nil {
		return nil, err
	}
	return v, nil
}
