package rulebook

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

const lone = `verdict contains v if {
	some c in input.contacts
	c.step == 2
	v := lib.verdict(lib.at_contact(c), lib.plain("risk"), "our own way", [])
}`

func TestAShopsRuleIsJudgedLikeOurs(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "c.step == 2"))})
	dir := houseDir(t, map[string]string{
		"no-chrome/rule.rego":      ruleText("house", "no-chrome", "risk", "", lone),
		"no-chrome/rule_test.rego": "package guidecoat.house[\"no-chrome_test\"]\n\ntest_x if true\n",
		"no-chrome/breaks.toml":    "format = 1\n",
		"notes.txt":                "not a rule",
		".git/x.rego":              "no rego",
		"in-a-family.rego":         ruleText("clock", "ours-too", "risk", "", lone),
		"own-family.rego":          ruleText("chrome", "shiny", "risk", "", lone),
	})
	h, err := b.LoadHouse(dir)
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(h.Names(), " "); got != "no-chrome ours-too shiny" {
		t.Errorf("got the rules %s", got)
	}
	r := judged(t, b, twoZones(), nil, Options{House: h})
	if got := ids(r.Findings); got != "near@rub/2:grey risk, no-chrome@rub/2:grey risk, ours-too@rub/2:grey risk, shiny@rub/2:grey risk" {
		t.Errorf("got %s", got)
	}
	f := r.Findings[1]
	if f.Family != "house" || f.Remedy != "Do it again." || f.Safety.Signal != "CAUTION" || len(f.Related) != 1 {
		t.Errorf("got %+v", f)
	}
	if rule, ok := h.Rule("no-chrome"); !ok || !rule.House || rule.Breaks != "format = 1\n" {
		t.Errorf("got %+v, %v", rule, ok)
	}
	if len(h.Rules()) != 3 {
		t.Errorf("got %v", h.Rules())
	}
	if len(r.Broke) != 0 {
		t.Errorf("broke %+v", r.Broke)
	}
}

func TestAShopsPeopleRuleHasTheSafeguardsOfOurs(t *testing.T) {
	b := bookOf(t, nil)
	h := houseOf(t, map[string]string{"x.rego": ruleText("people", "no-gloves", "fails", "", lone)})
	s := houseGrades()
	s.House.Grades = append(s.House.Grades, houseOff("no-gloves"))
	r := judged(t, b, twoZones(), s, Options{House: h})
	if len(r.Findings) != 1 || !r.Findings[0].People || len(r.Off) != 0 {
		t.Errorf("got %s, off %+v", ids(r.Findings), r.Off)
	}
}

func TestAShopsRuleThatIsNotInOrderIsRefusedWithItsPlace(t *testing.T) {
	b := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", onContacts("risk", "c.step == 2"))})
	for name, c := range map[string]struct{ text, says string }{
		"another package":        {strings.Replace(ruleText("house", "x", "risk", "", lone), "package guidecoat.house[\"x\"]", "package shop.x", 1), "x.rego:17:1: the package is shop.x"},
		"a package too short":    {strings.Replace(ruleText("house", "x", "risk", "", lone), "package guidecoat.house[\"x\"]", "package guidecoat", 1), "the package is guidecoat"},
		"the library":            {ruleText("lib", "x", "risk", "", lone), "the library guidecoat.lib is the program's"},
		"a rule of ours":         {ruleText("house", "near", "risk", "", lone), `there is a rule "near" already, in the family clock`},
		"a rule of ours in full": {ruleText("clock", "near", "risk", "", lone), `there is a rule "near" already, in the family clock`},
		"an odd name":            {ruleText("house", "No Chrome", "risk", "", lone), `"No Chrome" is no name of a rule`},
		"no verdict":             {ruleText("house", "x", "risk", "", "other := 1"), "this rule gives no verdict"},
		"no METADATA":            {"package guidecoat.house[\"x\"]\n\nverdict := set()\n", "x.rego:1:1: there is no METADATA block"},
		"misspelt METADATA":      {strings.Replace(ruleText("house", "x", "risk", "", lone), "remedy:", "remdy:", 1), `x.rego:11:5: custom knows no key "remdy"; did you mean "remedy"?`},
		"a misspelt field":       {ruleText("house", "x", "risk", "", onContacts("risk", "c.uper_kind == \"x\"")), `x.rego:23:4: there is no field "uper_kind" here; did you mean "upper_kind"?`},
		"a misspelt field in a function": {
			ruleText("house", "x", "risk", "", onContacts("risk", "odd(c)")+"\nodd(x) if x.uper_kind == \"x\"\n"),
			`x.rego:27:13: there is no field "uper_kind" in a contact; did you mean "upper_kind"?`,
		},
		"a misspelt limit":           {ruleText("house", "x", "risk", "", onContacts("risk", "lib.above(c.gap, input.limits.grase.measure)")), `there is no field "grase" in the limits; did you mean "grace"?`},
		"our rules looked into":      {ruleText("house", "x", "risk", "", onContacts("risk", "count(data.guidecoat.clock.near.verdict) > 0")), "there is no data.guidecoat.clock.near.verdict: a rule reads its own package"},
		"ours silenced":              {ruleText("house", "x", "risk", "near", lone), `covers names "near": a shop's rule cannot silence one of the program's`},
		"covers of nothing":          {ruleText("house", "x", "risk", "y", lone), `covers names "y", and the shop has no such rule`},
		"itself silenced":            {ruleText("house", "x", "risk", "x", lone), "none would speak"},
		"no rego":                    {"package guidecoat.house[\"x\"]\n\nverdict contains {\n", "x.rego:"},
		"nothing":                    {"", "x.rego:1:1:"},
		"the network":                {ruleText("house", "x", "risk", "", onContacts("risk", "http.send({\"url\": c.id}).ok")), "x.rego:23:2: http.send may not be called here: it would reach the network"},
		"the clock":                  {ruleText("house", "x", "risk", "", onContacts("risk", "time.now_ns() > 0")), "x.rego:23:2: time.now_ns may not be called here: it would read the machine's clock"},
		"the environment":            {ruleText("house", "x", "risk", "", onContacts("risk", "opa.runtime().env.HOME")), "x.rego:23:2: opa.runtime may not be called here: it would read the environment"},
		"the disk":                   {ruleText("house", "x", "risk", "", onContacts("risk", "json.match_schema(c, {\"$ref\": \"file:///etc/passwd\"})[0]")), "x.rego:23:2: json.match_schema may not be called here"},
		"a time zone":                {ruleText("house", "x", "risk", "", onContacts("risk", "time.clock([0, \"Local\"])[0] > 0")), "time.clock may not be called here: it would read the machine's clock or its table of time zones"},
		"a shift that eats memory":   {ruleText("house", "x", "risk", "", onContacts("risk", "bits.lsh(1, 100000000000) > 0")), "bits.lsh may not be called here"},
		"paths that never end":       {ruleText("house", "x", "risk", "", onContacts("risk", "count(graph.reachable_paths({}, {1})) > 0")), "graph.reachable_paths may not be called here"},
		"a walk":                     {ruleText("house", "x", "risk", "", onContacts("risk", "walk(input, [_, c.id])")), "walk may not be called here"},
		"chance":                     {ruleText("house", "x", "risk", "", onContacts("risk", "rand.intn(c.id, 2) == 0")), "rand.intn may not be called here: it gives another answer each time"},
		"itself asked for its rules": {ruleText("house", "x", "risk", "", onContacts("risk", "rego.parse_module(\"x\", \"package x\").package")), "rego.parse_module may not be called here"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := b.LoadHouse(houseDir(t, map[string]string{"x.rego": c.text}))
			told(t, err, c.says)
		})
	}
}

func TestTwoFilesOfOneRuleAreRefused(t *testing.T) {
	_, err := bookOf(t, nil).LoadHouse(houseDir(t, map[string]string{
		"a.rego": ruleText("house", "x", "risk", "", lone),
		"b.rego": ruleText("chrome", "x", "risk", "", lone),
	}))
	told(t, err, "b.rego:17:1:", `there is a rule "x" already, in `, "a.rego")
}

func TestAllFaultsOfAFolderAreToldAtOnce(t *testing.T) {
	_, err := bookOf(t, nil).LoadHouse(houseDir(t, map[string]string{
		"a.rego": ruleText("house", "a", "risk", "", onContacts("risk", "time.now_ns() > 0")),
		"b.rego": ruleText("house", "b", "fatal", "", lone),
		"c.rego": "package",
	}))
	told(t, err, "a.rego:", "time.now_ns")
	told(t, err, "b.rego:", `"grade" is "fatal"`)
	told(t, err, "c.rego:")
}

func TestAFolderThatIsNotThereIsTold(t *testing.T) {
	_, err := bookOf(t, nil).LoadHouse(filepath.Join(t.TempDir(), "rules"))
	told(t, err, "rules:1:1: the folder of the shop's own rules cannot be read")
	file := filepath.Join(t.TempDir(), "rules")
	if err := os.WriteFile(file, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	_, err = bookOf(t, nil).LoadHouse(file)
	told(t, err, "cannot be read")
}

func TestAFileLargerThanARuleCanBeIsRefused(t *testing.T) {
	_, err := bookOf(t, nil).LoadHouse(houseDir(t, map[string]string{"x.rego": strings.Repeat("#", houseFileMost+1)}))
	told(t, err, "larger than a rule can be")
}

func TestShopRulesSilenceOneAnother(t *testing.T) {
	h := houseOf(t, map[string]string{
		"a.rego": ruleText("house", "a", "risk", "b", lone),
		"b.rego": ruleText("house", "b", "risk", "", lone),
	})
	if got := ids(judged(t, bookOf(t, nil), twoZones(), nil, Options{House: h}).Findings); got != "a@rub/2:grey risk" {
		t.Errorf("got %s", got)
	}
}

func TestAShopsRuleThatBreaksIsNamedAndTheOthersAreHeard(t *testing.T) {
	h := houseOf(t, map[string]string{
		"a.rego": ruleText("house", "a", "risk", "", lone),
		"b.rego": ruleText("house", "b", "risk", "", onContacts("risk", "both(c) == c.zone")+"\nboth(x) := x.zone\n\nboth(x) := x.upper\n"),
		"c.rego": ruleText("house", "c", "risk", "", "verdict := {1} if input.stack == 9"),
		"d.rego": ruleText("house", "d", "risk", "", "verdict := 7"),
		"e.rego": ruleText("house", "e", "risk", "", onContacts("risk", "to_number(c.id) == 1")),
	})
	r := judged(t, bookOf(t, nil), twoZones(), nil, Options{House: h})
	if got := ids(r.Findings); got != "a@rub/2:grey risk" {
		t.Errorf("got %s", got)
	}
	var broke []string
	for _, b := range r.Broke {
		broke = append(broke, b.Rule)
	}
	if got := strings.Join(broke, " "); got != "b c d e" {
		t.Errorf("broke %+v", r.Broke)
	}
}

// Each runs for ever, or eats memory, by what a shop's rule may call.
var bombs = map[string]string{
	"long":     onContacts("risk", "count([1 | some i in numbers.range(1, 3000); some j in numbers.range(1, 3000); some k in numbers.range(1, 3000); i + j == k]) > 0"),
	"regrows":  onContacts("risk", "count([x | some x in numbers.range(1, 2000000000)]) > 0"),
	"doubling": "verdict contains v if {\n\tsome i in numbers.range(1, 100000)\n\tv := {\"on\": sprintf(\"%d %s\", [i, long])}\n}\n\nlong := concat(\"\", [\"0123456789\" | some _ in numbers.range(1, 10000)])\n",
}

func TestABombIsStoppedAndNamed(t *testing.T) {
	for name, body := range bombs {
		t.Run(name, func(t *testing.T) {
			h := houseOf(t, map[string]string{
				"a.rego": ruleText("house", "a", "risk", "", lone),
				"b.rego": ruleText("house", "bomb", "risk", "", body),
			}).Guarded(150*time.Millisecond, 64<<20, func(rule, why string) { t.Errorf("the process would be ended for %s: %s", rule, why) })
			h.guard.grace = 20 * time.Second // what is tried here is that it stops by itself, however slow the machine
			began := time.Now()
			r := judged(t, bookOf(t, nil), twoZones(), nil, Options{House: h})
			if len(r.Broke) != 1 || r.Broke[0].Rule != "bomb" || !strings.Contains(r.Broke[0].Message, "was stopped") {
				t.Errorf("broke %+v", r.Broke)
			}
			if got := ids(r.Findings); got != "a@rub/2:grey risk" {
				t.Errorf("got %s, want the sound rule heard all the same", got)
			}
			if took := time.Since(began); took > 15*time.Second {
				t.Errorf("it took %v", took)
			}
		})
	}
}

func TestAHouseStopsWithItsContext(t *testing.T) {
	h := houseOf(t, map[string]string{"b.rego": ruleText("house", "bomb", "risk", "", bombs["long"])})
	b := bookOf(t, nil)
	judged(t, b, twoZones(), nil, Options{})
	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	if _, err := b.Judge(ctx, twoZones(), houseGrades(), Options{House: h}); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("got %v", err)
	}
}

func TestRulesTestsRun(t *testing.T) {
	b := bookOf(t, nil)
	dir := houseDir(t, map[string]string{
		"x/rule.rego": ruleText("house", "x", "risk", "", lone),
		"x/rule_test.rego": `package guidecoat.house["x_test"]

import data.guidecoat.house["x"] as rule

contact(step) := {"id": "panel/2:a", "zone": "panel", "step": step, "upper": "2:a", "lower": "1:b", "place": {}}

test_step_two_breaks_it if {
	print("looking at step two")
	count(rule.verdict) == 1 with input as {"contacts": [contact(2)]}
}

test_step_one_does_not if count(rule.verdict) == 1 with input as {"contacts": [contact(1)]}

test_broken if to_number("x") == 1

todo_test_later if true
`})
	results, err := b.RunTests(context.Background(), dir)
	if err != nil {
		t.Fatal(err)
	}
	if len(results) != 4 {
		t.Fatalf("got %+v", results)
	}
	for i, want := range []TestResult{
		{Rule: "x", Test: "test_step_two_breaks_it", Line: 7, Passed: true, Output: "looking at step two"},
		{Rule: "x", Test: "test_step_one_does_not", Line: 12},
		{Rule: "x", Test: "test_broken", Line: 14, Fault: "invalid syntax"},
		{Rule: "x", Test: "todo_test_later", Line: 16, Left: true},
	} {
		got := results[i]
		if got.Rule != want.Rule || got.Test != want.Test || got.Line != want.Line || got.Passed != want.Passed || got.Left != want.Left ||
			!strings.Contains(got.Output, want.Output) || !strings.Contains(got.Fault, want.Fault) || (want.Fault == "") != (got.Fault == "") {
			t.Errorf("test %d: got %+v, want %+v", i, got, want)
		}
		if filepath.Base(got.File) != "rule_test.rego" {
			t.Errorf("test %d is in %s", i, got.File)
		}
	}
}

func TestRulesTestsMayReachOutNoMoreThanRules(t *testing.T) {
	b := bookOf(t, nil)
	for name, c := range map[string]struct{ test, says string }{
		"the network":     {"package guidecoat.house[\"x_test\"]\n\ntest_x if http.send({\"url\": \"x\"}).ok\n", "rule_test.rego:3:11: http.send may not be called here"},
		"another package": {"package guidecoat.lib\n\ntest_x if true\n", "the package is guidecoat.lib"},
		"no rego":         {"package", "rule_test.rego:"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := b.RunTests(context.Background(), houseDir(t, map[string]string{
				"x/rule.rego": ruleText("house", "x", "risk", "", lone), "x/rule_test.rego": c.test}))
			told(t, err, c.says)
		})
	}
	_, err := b.RunTests(context.Background(), houseDir(t, map[string]string{"x.rego": "package x"}))
	told(t, err, "the package is x")
}
