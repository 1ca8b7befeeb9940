package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"text/template"

	"guidecoat/internal/rulebook"
)

// rule is what is asked of whoever writes a new rule. Nothing is left for
// later: there is no text that stands in for one.
type rule struct {
	Family, Name, Title, Description, Grade, Defect, Remedy string
	Signal, Caution, Source                                 string
	Upper, Lower                                            string
}

var nameForm = regexp.MustCompile(`^[a-z][a-z0-9]*(-[a-z0-9]+)*$`)

func (r rule) check() error {
	var faults []error
	fault := func(format string, args ...any) { faults = append(faults, fmt.Errorf(format, args...)) }
	if !slices.Contains(rulebook.Families, r.Family) {
		fault("-family %q is none of %s", r.Family, strings.Join(rulebook.Families, ", "))
	}
	if !nameForm.MatchString(r.Name) {
		fault("-name %q is no name of a rule: small letters, figures and hyphens", r.Name)
	}
	for _, word := range []struct {
		flag, value string
		among       []string
	}{
		{"grade", r.Grade, []string{"fails", "risk", "advice"}},
		{"signal", r.Signal, []string{"DANGER", "WARNING", "CAUTION", "NOTICE"}},
	} {
		if !slices.Contains(word.among, word.value) {
			fault("-%s %q is none of %s", word.flag, word.value, strings.Join(word.among, ", "))
		}
	}
	for _, text := range []struct{ flag, value string }{
		{"title", r.Title}, {"description", r.Description}, {"defect", r.Defect}, {"remedy", r.Remedy},
		{"caution", r.Caution}, {"source", r.Source}, {"upper", r.Upper}, {"lower", r.Lower},
	} {
		if strings.TrimSpace(text.value) == "" {
			fault("-%s is empty", text.flag)
		}
	}
	return errors.Join(faults...)
}

// files are the four files of the rule's folder, by name.
func (r rule) files() (map[string][]byte, error) {
	out := map[string][]byte{}
	for name, text := range map[string]string{
		"rule.rego": ruleRego, "rule_test.rego": testRego, "breaks.toml": breaksTOML, "holds.toml": holdsTOML,
	} {
		t, err := template.New(name).Funcs(template.FuncMap{"quote": strconv.Quote, "comment": comment}).Parse(text)
		if err != nil {
			return nil, fmt.Errorf("writing %s: %w", name, err)
		}
		var b bytes.Buffer
		if err := t.Execute(&b, r); err != nil {
			return nil, fmt.Errorf("writing %s: %w", name, err)
		}
		out[name] = b.Bytes()
	}
	return out, nil
}

// write writes the folder, which must not be there, and gives the names of what it wrote.
func (r rule) write(dir string) ([]string, error) {
	files, err := r.files()
	if err != nil {
		return nil, err
	}
	if _, err := os.Stat(filepath.Join(dir, "guidecoat.rego")); err != nil {
		return nil, fmt.Errorf("%s is not the folder of the rulebook: it has no guidecoat.rego", dir)
	}
	if there, _ := filepath.Glob(filepath.Join(dir, "*", r.Name)); len(there) > 0 {
		return nil, fmt.Errorf("there is a rule %s already: %s", r.Name, there[0])
	}
	at := filepath.Join(dir, r.Family, r.Name)
	if err := os.MkdirAll(at, 0o755); err != nil {
		return nil, fmt.Errorf("making the rule's folder: %w", err)
	}
	var written []string
	for _, name := range []string{"rule.rego", "rule_test.rego", "breaks.toml", "holds.toml"} {
		file := filepath.Join(at, name)
		if err := os.WriteFile(file, files[name], 0o644); err != nil {
			return written, fmt.Errorf("writing the rule: %w", err)
		}
		written = append(written, file)
	}
	return written, nil
}

// comment breaks a text to lines of a block in METADATA.
func comment(text string) string {
	var b strings.Builder
	width := 0
	for _, word := range strings.Fields(text) {
		switch {
		case width == 0:
			b.WriteString("#   ")
		case width+1+len(word) > 90:
			b.WriteString("\n#   ")
			width = 0
		default:
			b.WriteByte(' ')
			width++
		}
		b.WriteString(word)
		width += len(word)
	}
	return b.String()
}

const ruleRego = `# METADATA
# title: {{quote .Title}}
# description: |
{{comment .Description}}
# custom:
#   grade: {{.Grade}}
#   defect: {{quote .Defect}}
#   remedy: {{quote .Remedy}}
#   safety:
#     signal: {{.Signal}}
#     text: {{quote .Caution}}
#   source:
#     - {{quote .Source}}
#   limits: []
#   needs:
#     - {in: contacts, upper_kind: {{quote .Upper}}, lower_kind: {{quote .Lower}}}
package guidecoat.{{.Family}}[{{quote .Name}}]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_kind == {{quote .Upper}}
	c.lower_kind == {{quote .Lower}}
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain({{quote .Grade}}),
		sprintf("%s lies on %s", [c.upper_name, c.lower_name]),
		[],
	)
}
`

const testRego = `package guidecoat.{{.Family}}["{{.Name}}_test"]

import data.guidecoat.{{.Family}}[{{quote .Name}}] as rule

contact(upper, lower) := {
	"id": "panel/3:a",
	"zone": "panel",
	"step": 3,
	"upper": "3:a",
	"lower": "0:b",
	"upper_name": "a",
	"lower_name": "b",
	"upper_kind": upper,
	"lower_kind": lower,
	"place": {},
}

test_one_on_the_other_breaks_it if {
	vs := rule.verdict with input as {"contacts": [contact({{quote .Upper}}, {{quote .Lower}})]}
	{v.grade | some v in vs} == { {{- quote .Grade -}} }
}

test_one_on_mild_steel_does_not if {
	count(rule.verdict) == 0 with input as {"contacts": [contact({{quote .Upper}}, "mild steel")]}
}

test_another_film_does_not if {
	count(rule.verdict) == 0 with input as {"contacts": [contact("chip guard", {{quote .Lower}})]}
}
`

const sheetTOML = `format = 1

[sheet]
title = {{quote .Title}}
ends_as = "primed"

[booth]
air = "72 F"
panel = "72 F"
humidity = "45 %"
where = "booth"

[panel]
part = "test panel"
substrate = `

const stepsTOML = `
area = "2 ft2"

[product.film]
kind = {{quote .Upper}}

[[step]]
do = "clean"
with = "wax and grease remover"
then_wait = "10 min"

[[step]]
do = "sand"
grit = "P80"
wear = ["particulate respirator"]

[[step]]
do = "clean"
with = "wax and grease remover"
then_wait = "10 min"

[[step]]
do = "spray"
product = "film"
wear = ["supplied-air respirator", "gloves", "eye protection", "coverall"]
`

const (
	breaksTOML = sheetTOML + "{{quote .Lower}}" + stepsTOML
	holdsTOML  = sheetTOML + `"mild steel"` + stepsTOML
)
