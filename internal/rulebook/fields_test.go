package rulebook

import (
	"context"
	"strings"
	"testing"
)

// fieldFaults is what CheckFields says of a rule, beside the library.
func fieldFaults(t *testing.T, body string) error {
	t.Helper()
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", body)})
	return b.CheckFields(context.Background())
}

// What OPA's type checker lets pass: each must be found all the same, on its line.
func TestAFieldMisspeltWhereTheCompilerDoesNotLookIsFound(t *testing.T) {
	for name, c := range map[string]struct{ body, says string }{
		"inside a function": {
			onContacts("risk", "bad(c)") + "\nbad(x) if x.uper_kind == \"color\"\n",
			`near/rule.rego:27:13: there is no field "uper_kind" in a contact; did you mean "upper_kind"?`,
		},
		"inside a function of a function": {
			onContacts("risk", "bad(c)") + "\nbad(x) if worse(x.upper_traits)\n\nworse(y) if y.acidic\n",
			`:29:15: there is no field "acidic" in the traits; did you mean "acid"?`,
		},
		"in the value of a function": {
			onContacts("risk", "first(c).uper == 1") + "\nfirst(x) := x.scratch\n",
			`:23:11: there is no field "uper" in a grit`,
		},
		"in a table by name": {
			"verdict contains v if {\n\tsome c in input.cards\n\tc.knd == \"x\"\n\tv := lib.plain(\"risk\")\n}",
			`:23:4: there is no field "knd" in a card; did you mean "kind"?`,
		},
		"under a name in a table": {
			"verdict contains v if {\n\tsome c in input.contacts\n\tinput.layers_by_id[c.lower].nam == \"x\"\n\tv := lib.plain(\"risk\")\n}",
			`there is no field "nam" in a layer; did you mean "name"?`,
		},
		"a limit that does not exist": {
			onContacts("risk", "lib.above(c.gap, input.limits.bare_steel_opn.measure)"),
			`:23:32: there is no field "bare_steel_opn" in the limits; did you mean "bare_steel_open"?`,
		},
		"a field of a limit": {
			onContacts("risk", "lib.above(c.gap, input.limits.grace.mesure)"),
			`there is no field "mesure" in a limit; did you mean "measure"?`,
		},
		"in a comprehension over what a function gives": {
			onContacts("risk", "count([w | some w in wipes(c); w.solvnt]) > 0") + "\nwipes(x) := x.wipes\n",
			`there is no field "solvnt" in a wipe; did you mean "solvent"?`,
		},
		"in every": {
			onContacts("risk", "all_wet(c)") + "\nall_wet(x) if {\n\tevery a in x.abrasions {\n\t\ta.wett\n\t}\n}\n",
			`:29:5: there is no field "wett" in a grit; did you mean "wet"?`,
		},
		"in an else": {
			onContacts("risk", "word(c) == \"\"") + "\nword(x) := x.zone if x.fades\nelse := x.zne\n",
			`:28:11: there is no field "zne" in a contact; did you mean "zone"?`,
		},
		"in a look-up made of objects": {
			onContacts("risk", "by_id[c.lower].stp == 1") + "\nby_id := {l.id: l | some l in input.layers}\n",
			`there is no field "stp" here; did you mean "step"?`,
		},
		"in a set of objects": {
			onContacts("risk", "some s in porous\n\ts.knd == c.lower_kind") + "\nporous contains l if {\n\tsome l in input.layers\n\tl.traits.pore\n}\n",
			`:24:4: there is no field "knd" here; did you mean "kind"?`,
		},
		"in an object of the rule's own": {
			onContacts("risk", "near(c).stpe == 1") + "\nnear(x) := {\"step\": x.step, \"zone\": x.zone}\n",
			`:23:10: there is no field "stpe" here; did you mean "step"?`,
		},
		"handed to the library": {
			"verdict contains v if {\n\tsome x in input.cards\n\tv := lib.verdict(lib.at_contact(x), lib.plain(\"risk\"), \"m\", [])\n}",
			`:23:19: there is no field "id" in a card`,
		},
		"a rule of the library that does not exist": {
			onContacts("risk", "lib.ordr[c.zone] == 1"),
			"there is no data.guidecoat.lib.ordr",
		},
		"a package that does not exist": {
			onContacts("risk", "data.guidecoat.clok.far.verdict"),
			"there is no data.guidecoat.clok.far.verdict",
		},
		"data that does not exist": {
			onContacts("risk", "data.kindz[c.upper_kind]"),
			"there is no data.kindz",
		},
		"a field of a list": {
			onContacts("risk", "count_of(c)") + "\ncount_of(x) if x.wipes.count > 0\n",
			`there is no field "count" here: this is a list`,
		},
	} {
		t.Run(name, func(t *testing.T) { told(t, fieldFaults(t, c.body), c.says) })
	}
}

func TestWhatIsRightIsLetPass(t *testing.T) {
	for name, body := range map[string]string{
		"an optional field": onContacts("risk", "object.get(c, \"nothing\", 1) == 1"),
		"a union of objects": onContacts("risk", "more(c).extra == 1\n\tmore(c).upper_kind == \"x\"") +
			"\nmore(x) := object.union(x, {\"extra\": 1})\n",
		"a function of one name for two things": onContacts("risk", "named(c) == named({\"zone\": 1})") +
			"\nnamed(x) := x.zone\n",
		"a key that is a variable": onContacts("risk", "some k in [\"upper_kind\", \"lower_kind\"]\n\tc[k] == \"x\""),
		"patterns":                 onContacts("risk", "[a, b] := [c.upper_traits, c.lower_traits]\n\ta.acid\n\tb.pore"),
		"a look-up in data":        onContacts("risk", "data.kinds[c.upper_kind].anything.at.all"),
		"a table by a rule": onContacts("risk", "table[c.zone].step == 1") +
			"\ntable[x.zone] := x if some x in input.contacts\n",
		"sets as they are":       onContacts("risk", "kinds[c.upper_kind]") + "\nkinds := {\"body filler\"}\n",
		"a list walked by index": onContacts("risk", "some i\n\tc.wipes[i].solvent\n\tc.wipes[i].step > 0"),
		"every ready-made look": onContacts("risk", "some d in input.contacts_by_upper[c.upper]\n\td.zone == c.zone") +
			"\nmetal contains x.id if some x in input.contacts_on_metal\n",
	} {
		t.Run(name, func(t *testing.T) {
			if err := fieldFaults(t, body); err != nil {
				t.Error(err)
			}
		})
	}
}

func TestAnInputMadeUpInATestHasNoFieldThatNoStackHas(t *testing.T) {
	const body = `verdict contains v if {
	some c in input.contacts
	c.upper_traits.acid
	v := lib.verdict(lib.at_contact(c), lib.plain("risk"), "m", [])
}`
	tests := func(input string) string {
		return `package guidecoat.clock["near_test"]

import data.guidecoat.clock["near"] as rule

contact(more) := object.union({"id": "panel/1:a", "zone": "panel", "step": 1, "upper": "1:a", "lower": "0:b", "place": {}}, more)

test_it if count(rule.verdict) == 1 with input as ` + input + `

test_not if count(rule.verdict) == 0 with input as {"contacts": []}
`
	}
	for name, c := range map[string]struct{ input, says string }{
		"sound":                       {`{"contacts": [contact({"upper_traits": {"acid": true}})]}`, ""},
		"a misspelt field":            {`{"contacts": [contact({"upper_traits": {"acid": true}, "lower_nam": "x"})]}`, `there is no field "lower_nam" in a contact; did you mean "lower_name"?`},
		"a misspelt field of a field": {`{"contacts": [contact({"upper_traits": {"acid": true, "poree": true}})]}`, `there is no field "poree" in the traits; did you mean "pore"?`},
		"a misspelt list":             {`{"contacts": [contact({"upper_traits": {"acid": true}})], "touchs": []}`, `there is no field "touchs" in a stack; did you mean "touches"?`},
		"a limit of nobody's":         {`{"contacts": [contact({"upper_traits": {"acid": true}})], "limits": {"grce": {}}}`, `there is no field "grce" in the limits; did you mean "grace"?`},
	} {
		t.Run(name, func(t *testing.T) {
			b := bookOf(t, map[string]string{
				"clock/near":                ruleText("clock", "near", "risk", "", body),
				"clock/near/rule_test.rego": tests(c.input),
			})
			problems, err := b.CheckRule(context.Background(), "near")
			if err != nil {
				t.Fatal(err)
			}
			var said []string
			for _, p := range problems {
				if !strings.Contains(p.Message, "has no breaks.toml") && !strings.Contains(p.Message, "has no holds.toml") {
					said = append(said, p.Message)
				}
			}
			switch {
			case c.says == "" && len(said) > 0:
				t.Errorf("got %v", said)
			case c.says != "" && !strings.Contains(strings.Join(said, "\n"), c.says):
				t.Errorf("got %v, want %s", said, c.says)
			}
		})
	}
}
