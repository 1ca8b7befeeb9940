package stack

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	opa "github.com/open-policy-agent/opa/v1/ast"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

var refresh = flag.Bool("refresh", false, "write golden files and the schema anew")

// schemaMaker turns Go types into definitions, with the comments on their
// fields as descriptions.
type schemaMaker struct {
	comments map[string]string // "Layer" and "Layer.kind"
	defs     map[string]any
}

// readComments collects the comments on every type and field of the files.
func readComments(files ...string) (map[string]string, error) {
	out := map[string]string{}
	set := token.NewFileSet()
	for _, name := range files {
		f, err := parser.ParseFile(set, name, nil, parser.ParseComments)
		if err != nil {
			return nil, err
		}
		for _, d := range f.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != token.TYPE {
				continue
			}
			for _, sp := range g.Specs {
				ts := sp.(*ast.TypeSpec)
				if g.Doc != nil {
					out[ts.Name.Name] = words(g.Doc.Text())
				}
				st, ok := ts.Type.(*ast.StructType)
				if !ok {
					continue
				}
				for _, field := range st.Fields.List {
					text := strings.TrimSpace(words(field.Doc.Text()) + " " + words(field.Comment.Text()))
					for _, n := range field.Names {
						if text != "" {
							out[ts.Name.Name+"."+n.Name] = text
						}
					}
				}
			}
		}
	}
	return out, nil
}

func words(s string) string { return strings.Join(strings.Fields(s), " ") }

// schemaOf is the schema of a type. A struct is a reference to its definition.
func (m *schemaMaker) schemaOf(t reflect.Type) map[string]any {
	switch t.Kind() {
	case reflect.String:
		return map[string]any{"type": "string"}
	case reflect.Bool:
		return map[string]any{"type": "boolean"}
	case reflect.Int:
		return map[string]any{"type": "integer"}
	case reflect.Float64:
		return map[string]any{"type": "number"}
	case reflect.Slice:
		return map[string]any{"type": "array", "items": m.schemaOf(t.Elem())}
	case reflect.Map:
		return map[string]any{"type": "object", "additionalProperties": m.schemaOf(t.Elem())}
	case reflect.Pointer:
		if t.Elem().Kind() == reflect.Struct {
			return map[string]any{"$ref": "#/definitions/" + m.define(t.Elem(), true)}
		}
		s := m.schemaOf(t.Elem())
		s["type"] = []any{s["type"], "null"}
		return s
	case reflect.Struct:
		return map[string]any{"$ref": "#/definitions/" + m.define(t, false)}
	}
	panic(fmt.Sprintf("a document field of type %s has no schema", t))
}

// define makes the definition of a struct and returns its name. One that may
// be null is a definition of its own.
func (m *schemaMaker) define(t reflect.Type, orNull bool) string {
	name := t.Name()
	if orNull {
		name += "OrNull"
	}
	if _, done := m.defs[name]; done {
		return name
	}
	def := map[string]any{}
	m.defs[name] = def
	properties := map[string]any{}
	var required []any
	for i := range t.NumField() {
		f := t.Field(i)
		key, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		if key == "-" {
			continue
		}
		s := m.schemaOf(f.Type)
		if text := m.comments[t.Name()+"."+f.Name]; text != "" {
			s["description"] = text
		}
		properties[key] = s
		required = append(required, key)
	}
	def["type"] = "object"
	if orNull {
		def["type"] = []any{"object", "null"}
	}
	if text := m.comments[t.Name()]; text != "" {
		def["description"] = text
	}
	def["properties"] = properties
	def["required"] = required
	def["additionalProperties"] = false
	return name
}

// makeSchema is the whole schema, as it is checked in.
func makeSchema() ([]byte, error) {
	comments, err := readComments("document.go", "../sheet/model.go")
	if err != nil {
		return nil, err
	}
	m := &schemaMaker{comments: comments, defs: map[string]any{}}
	top := m.define(reflect.TypeOf(Document{}), false)
	schema := m.defs[top].(map[string]any)
	delete(m.defs, top)
	schema["$schema"] = "http://json-schema.org/draft-07/schema#"
	schema["title"] = "guidecoat stack document, version 1"
	schema["properties"].(map[string]any)["stack"].(map[string]any)["const"] = 1
	schema["definitions"] = m.defs
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(schema); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

func TestTheSchemaIsMadeFromTheTypes(t *testing.T) {
	want, err := makeSchema()
	if err != nil {
		t.Fatal(err)
	}
	if *refresh {
		if err := os.WriteFile("stack.schema.json", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if !bytes.Equal(want, Schema()) {
		t.Fatal("stack.schema.json is not what document.go says; run: go generate ./internal/stack")
	}
}

func TestEveryFieldOfTheDocumentIsDescribedOrSpeaksForItself(t *testing.T) {
	// A type that rules read has a comment; its fields may be named well enough.
	var v struct {
		Definitions map[string]struct {
			Description string `json:"description"`
		} `json:"definitions"`
	}
	if err := json.Unmarshal(Schema(), &v); err != nil {
		t.Fatal(err)
	}
	if len(v.Definitions) < 30 {
		t.Fatalf("only %d definitions", len(v.Definitions))
	}
	for name, d := range v.Definitions {
		if d.Description == "" {
			t.Errorf("%s has no comment", name)
		}
	}
}

// compiled is the schema ready to validate with.
func compiled(t *testing.T) *jsonschema.Schema {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("stack.schema.json", v); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("stack.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// check compiles one rule with the schema, as the rulebook does.
func check(t *testing.T, rego string) error {
	t.Helper()
	v, err := SchemaValue()
	if err != nil {
		t.Fatal(err)
	}
	set := opa.NewSchemaSet()
	set.Put(opa.SchemaRootRef, v)
	mod, err := opa.ParseModule("rule.rego", "package shop\n\n"+rego)
	if err != nil {
		t.Fatal(err)
	}
	c := opa.NewCompiler().WithSchemas(set).WithStrict(true)
	c.Compile(map[string]*opa.Module{"rule.rego": mod})
	if c.Failed() {
		return c.Errors
	}
	return nil
}

func TestTheRulesCompilerFindsMisspeltFields(t *testing.T) {
	for _, tc := range []struct {
		name, rego string
		misspelt   string // the word the compiler complains of; "" where it should not
	}{
		{"a rule over contacts reads", "v contains c.id if {\n\tsome c in input.contacts\n\tc.lower_traits.acid\n}", ""},
		{"a misspelt field of a contact", "v contains c.id if {\n\tsome c in input.contacts\n\tc.lower_kindd == \"x\"\n}", "lower_kindd"},
		{"a misspelt trait", "v contains c.id if {\n\tsome c in input.contacts\n\tc.lower_traits.acidic\n}", "acidic"},
		{"a misspelt field of a comparison that may be null", "v contains c.id if {\n\tsome c in input.contacts\n\tc.recoat_least.mesured.lo < 1\n}", "mesured"},
		{"a field that may be null is asked for it", "v contains c.id if {\n\tsome c in input.contacts\n\tc.recoat_least != null\n}", ""},
		{"a misspelt list", "v contains c.id if {\n\tsome c in input.contactz\n}", "contactz"},
		{"a grit inside a tooth", "v contains c.tooth.grit.microns.lo if {\n\tsome c in input.contacts\n}", ""},
		{"a misspelt field deep in a tooth", "v contains c.tooth.grit.micron.lo if {\n\tsome c in input.contacts\n}", "micron"},
		{"the end of a measure is asked for null", "v contains l.id if {\n\tsome l in input.layers\n\tl.film_laid.hi != null\n}", ""},
	} {
		t.Run(tc.name, func(t *testing.T) {
			err := check(t, tc.rego)
			switch {
			case tc.misspelt == "" && err != nil:
				t.Fatalf("refused: %v", err)
			case tc.misspelt != "" && err == nil:
				t.Fatal("not found")
			case tc.misspelt != "" && !strings.Contains(err.Error(), tc.misspelt):
				t.Fatalf("the error does not name %q: %v", tc.misspelt, err)
			}
		})
	}
}

func TestTheSampleRuleCompilesWithTheSchema(t *testing.T) {
	v, err := SchemaValue()
	if err != nil {
		t.Fatal(err)
	}
	set := opa.NewSchemaSet()
	set.Put(opa.SchemaRootRef, v)
	mods := map[string]*opa.Module{}
	names, err := filepath.Glob("../../policies/lib/*.rego")
	if err != nil || len(names) == 0 {
		t.Fatalf("no library: %v", err)
	}
	for _, name := range append(names, "../../policies/adhesion/filler-on-acid-primer/rule.rego") {
		if strings.HasSuffix(name, "_test.rego") {
			continue
		}
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		mods[name], err = opa.ParseModuleWithOpts(name, string(text), opa.ParserOptions{ProcessAnnotation: true})
		if err != nil {
			t.Fatal(err)
		}
	}
	c := opa.NewCompiler().WithSchemas(set).WithStrict(true)
	c.Compile(mods)
	if c.Failed() {
		t.Fatal(c.Errors)
	}
}
