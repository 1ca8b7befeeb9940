package rulebook

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/storage"
	"github.com/open-policy-agent/opa/v1/storage/inmem"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/policies"
)

var refresh = flag.Bool("refresh", false, "write golden files and what is made from METADATA anew")

// ruleText is a whole rule.rego of a made-up rule: METADATA, then what is given.
func ruleText(family, name, grade, covers, body string) string {
	more, lib := "", ""
	if strings.Contains(body, "lib.") {
		lib = "import data.guidecoat.lib\n\n"
	}
	if covers != "" {
		more = "\n#   covers: [" + covers + "]"
	}
	return fmt.Sprintf(`# METADATA
# title: %s happens
# description: |
#   What goes on in the film,
#   and what it looks like.
#
#   How to tell it in the shop.
# custom:
#   grade: %s
#   defect: peeling
#   remedy: Do it again.
#   safety:
#     signal: CAUTION
#     text: Follow the safety data sheet.
#   source: [common practice]
#   limits: []%s
package guidecoat.%s[%q]

%s%s
`, name, grade, more, family, name, lib, body)
}

// onContacts is a verdict on every contact for which the condition holds.
func onContacts(grade, condition string) string {
	return fmt.Sprintf(`verdict contains v if {
	some c in input.contacts
	%s
	v := lib.verdict(lib.at_contact(c), lib.plain(%q), sprintf("%%s lies on %%s", [c.upper_name, c.lower_name]), [])
}
`, condition, grade)
}

// bookFiles is a small rulebook: our library and gatherer, and the rules given
// by family/name or by whole file name.
func bookFiles(t testing.TB, rules map[string]string) fstest.MapFS {
	t.Helper()
	files := fstest.MapFS{}
	for _, f := range []string{"lib/lib.rego", "guidecoat.rego", "limits.json"} {
		text, err := fs.ReadFile(policies.Files, f)
		if err != nil {
			t.Fatal(err)
		}
		files[f] = &fstest.MapFile{Data: text}
	}
	files["covers.json"] = &fstest.MapFile{Data: []byte(`{"covers": {}}`)}
	// The findings about waivers stand in every book.
	for _, r := range []string{waiverWithoutReason, waiverExpired, waiverUnused} {
		files["paper/"+r+"/rule.rego"] = &fstest.MapFile{Data: []byte(ruleText("paper", r, "risk", "", "verdict := set()"))}
	}
	for name, text := range rules {
		if !strings.Contains(name, ".") {
			name += "/rule.rego"
		}
		files[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return files
}

// bookOf is a rulebook of the rules given, with covers.json made from them.
func bookOf(t testing.TB, rules map[string]string) *Book {
	t.Helper()
	files := bookFiles(t, rules)
	first, err := Load(files)
	if err != nil {
		t.Fatal(err)
	}
	covers, err := first.CoversJSON()
	if err != nil {
		t.Fatal(err)
	}
	files["covers.json"] = &fstest.MapFile{Data: covers}
	b, err := Load(files)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// twoZones is a stack with one film on two zones, each on its own lower film, and a
// second film in one of them.
func twoZones() *stack.Document {
	place := func(line int) sheet.Place {
		return sheet.Place{File: "door.toml", Line: line, Column: 1, EndLine: line + 3, EndColumn: 9}
	}
	layer := func(id, name string, step int, p sheet.Place) stack.Layer {
		return stack.Layer{ID: id, Name: name, Step: step, Place: p, Substrate: step == 0}
	}
	contact := func(zone string, step int, upper, lower string, line int) stack.Contact {
		return stack.Contact{ID: fmt.Sprintf("%s/%s", zone, upper), Zone: zone, Step: step, Upper: upper, Lower: lower,
			UpperName: "grey (epoxy primer)", LowerName: "mild steel", UpperKind: "epoxy primer", LowerKind: "mild steel",
			Place: place(line), LowerPlace: place(5)}
	}
	d := &stack.Document{
		Stack: 1,
		Sheet: stack.SheetFacts{Title: "Door", Place: place(3)},
		// Not in alphabetical order: the sheet's order is what counts.
		Zones:    []stack.Zone{{Name: "panel"}, {Name: "dent"}, {Name: "rub", Parent: "dent", CutStep: 2}},
		Steps:    []stack.Step{{ID: "1", N: 1, Call: "prime", Name: `step 1 ("prime")`, Place: place(20)}, {ID: "2", N: 2, Name: "step 2", Place: place(30)}},
		Contacts: []stack.Contact{contact("dent", 1, "1:grey", "0:mild-steel", 20), contact("panel", 1, "1:grey", "0:mild-steel", 20), contact("rub", 2, "2:grey", "1:grey", 30)},
		Limits:   map[string]stack.Limit{},
	}
	d.LayersByID = map[string]stack.Layer{
		"0:mild-steel": layer("0:mild-steel", "mild steel", 0, place(5)),
		"1:grey":       layer("1:grey", "grey (epoxy primer)", 1, place(20)),
		"2:grey":       layer("2:grey", "grey (epoxy primer)", 2, place(30)),
	}
	return d
}

func judged(t testing.TB, b *Book, d *stack.Document, s *sheet.Sheet, o Options) Result {
	t.Helper()
	if s == nil {
		s = &sheet.Sheet{File: "door.toml"}
	}
	r, err := b.Judge(context.Background(), d, s, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// ids are the ids of findings with their grades, in order.
func ids(fs []Finding) string {
	var out []string
	for _, f := range fs {
		out = append(out, f.ID+" "+f.Grade)
	}
	return strings.Join(out, ", ")
}

// told says that an error has all of the parts in one of its problems.
func told(t *testing.T, err error, parts ...string) {
	t.Helper()
	var re *RulesError
	if !errors.As(err, &re) {
		t.Fatalf("got %v (%T), want a *RulesError", err, err)
	}
	for _, line := range strings.Split(re.Error(), "\n") {
		all := true
		for _, p := range parts {
			all = all && strings.Contains(line, p)
		}
		if all {
			return
		}
	}
	t.Errorf("none of these says %q:\n%v", parts, re)
}

// houseDir writes a shop's folder of rules.
func houseDir(t testing.TB, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		at := filepath.Join(dir, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(at, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

// houseOf is the shop's own rules, read beside an otherwise empty book.
func houseOf(t testing.TB, files map[string]string) *House {
	t.Helper()
	h, err := bookOf(t, nil).LoadHouse(houseDir(t, files))
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func emptyStore() storage.Store { return inmem.NewFromASTObject(ast.NewObject()) }

func houseOff(rule string) sheet.HouseGrade {
	return sheet.HouseGrade{Rule: rule, Off: true, Reason: "our own way"}
}
