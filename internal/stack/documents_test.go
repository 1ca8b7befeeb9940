package stack_test

import (
	"bytes"
	"encoding/json"
	"io/fs"
	"path"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/policies"
)

// ruleSheets are the sheets that break and hold the rules, by path.
func ruleSheets(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	err := fs.WalkDir(policies.Files, ".", func(p string, d fs.DirEntry, err error) error {
		if err == nil && (d.Name() == "breaks.toml" || d.Name() == "holds.toml") {
			text, err := fs.ReadFile(policies.Files, p)
			if err != nil {
				return err
			}
			out[p] = string(text)
		}
		return err
	})
	if err != nil || len(out) == 0 {
		t.Fatalf("no sheets of rules: %v", err)
	}
	return out
}

func TestDocumentsOfTheRulesSheetsHoldToTheSchemaAndAreTheSameBytes(t *testing.T) {
	raw, err := jsonschema.UnmarshalJSON(bytes.NewReader(stack.Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("stack.schema.json", raw); err != nil {
		t.Fatal(err)
	}
	schema, err := c.Compile("stack.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	build := func(p, text string) []byte {
		r := sheet.NewReader(sheet.Options{NoHouse: true})
		defer r.Close()
		s, problems := r.ReadText(path.Base(p), []byte(text))
		if len(problems) > 0 {
			t.Errorf("%s: %s", p, problems[0].Message)
			return nil
		}
		d, problems := stack.Build(s)
		if len(problems) > 0 {
			t.Errorf("%s: %s", p, problems[0].Message)
			return nil
		}
		out, err := d.JSON()
		if err != nil {
			t.Errorf("%s: %v", p, err)
		}
		return out
	}
	for p, text := range ruleSheets(t) {
		t.Run(strings.TrimSuffix(p, ".toml"), func(t *testing.T) {
			out := build(p, text)
			if out == nil {
				return
			}
			var v any
			if err := json.Unmarshal(out, &v); err != nil {
				t.Fatal(err)
			}
			if err := schema.Validate(v); err != nil {
				t.Error(err)
			}
			if !bytes.Equal(out, build(p, text)) {
				t.Error("built twice, the bytes differ")
			}
		})
	}
}
