package rulebook

import (
	"context"
	"errors"
	"strings"
	"testing"
	"testing/fstest"
)

func TestAFolderThatIsNoRulebookIsRefused(t *testing.T) {
	sound := ruleText("clock", "near", "risk", "", onContacts("risk", "true"))
	for name, c := range map[string]struct {
		rules map[string]string
		says  []string
	}{
		"a family nobody gathers": {map[string]string{"colour/near": sound}, []string{`"colour" is no family`}},
		"a folder without a rule": {map[string]string{"clock/near/holds.toml": ""}, []string{"clock/near/rule.rego", "has no rule.rego"}},
		"a file among the rules":  {map[string]string{"clock/notes.txt": ""}, []string{"clock/notes.txt", "one folder a rule"}},
		"two rules of one name":   {map[string]string{"clock/near": sound, "film/near": sound}, []string{"film/near/rule.rego", `there is a rule "near" already: clock/near/rule.rego`}},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Load(bookFiles(t, c.rules))
			told(t, err, c.says...)
		})
	}
}

// compiles tells what compiling a book with one rule says.
func compiles(t *testing.T, body string) error {
	t.Helper()
	_, err := bookOf(t, map[string]string{"clock/near": ruleText("clock", "near", "risk", "", body)}).compiled(context.Background())
	return err
}

// The body begins on line 20 of the file, 22 where it needs the library (ruleText).
func TestARuleThatDoesNotFitTheStackDoesNotBuild(t *testing.T) {
	if err := compiles(t, onContacts("risk", "c.upper_traits.acid")); err != nil {
		t.Fatalf("a sound rule does not build: %v", err)
	}
	for name, c := range map[string]struct{ body, says string }{
		"a misspelt field":                 {onContacts("risk", "c.uper_kind == \"color\""), `near/rule.rego:23:4: there is no field "uper_kind" here; did you mean "upper_kind"?`},
		"a misspelt field of a field":      {onContacts("risk", "c.upper_traits.acidic"), `:23:17: there is no field "acidic" here; did you mean "acid"?`},
		"a misspelt list":                  {"verdict contains v if {\n\tsome c in input.contcts\n\tv := c.id\n}", `:20:18: there is no field "contcts" here; did you mean "contacts"?`},
		"a field that may be null":         {onContacts("risk", "c.tooth == null"), "is compared with null by is_null(...)"},
		"an import that is not used":       {"verdict contains 1 if input.stack == 1 # lib.", "import data.guidecoat.lib unused"},
		"a variable that is not used":      {onContacts("risk", "d := c.id"), "assigned var d unused"},
		"a call that reaches the network":  {onContacts("risk", "http.send({\"url\": c.id}).status_code == 200"), "http.send may not be called here: it would reach the network"},
		"a call that asks for the time":    {onContacts("risk", "time.now_ns() > 0"), "time.now_ns may not be called here"},
		"a function that does not exist":   {onContacts("risk", "lib.brokn(c)"), "there is no function data.guidecoat.lib.brokn"},
		"a word compared with a number":    {onContacts("risk", "c.upper_kind == 3"), "match error"},
		"a text that is no rego":           {"verdict contains", "near/rule.rego:20:"},
		"a metadata call":                  {onContacts("risk", "rego.metadata.rule() != {}"), "rego.metadata.rule may not be called here"},
		"the package of another folder":    {"", "the package is guidecoat.clock.far; that of this folder is guidecoat.clock.near"},
		"a value that is not what it says": {onContacts("risk", "sprintf(c.id) == \"\""), "sprintf"},
	} {
		t.Run(name, func(t *testing.T) {
			var err error
			if c.body == "" {
				_, err = bookOf(t, map[string]string{"clock/near": ruleText("clock", "far", "risk", "", onContacts("risk", "true"))}).compiled(context.Background())
			} else {
				err = compiles(t, c.body)
			}
			told(t, err, c.says)
		})
	}
}

func TestDataThatCannotBeReadIsAnErrorThatNamesTheFile(t *testing.T) {
	for name, files := range map[string]map[string]string{
		"no JSON":       {"kinds.json": "{"},
		"a list":        {"kinds.json": "[]"},
		"the same name": {"kinds.json": `{"limits": 1}`},
		"odd covers":    {"covers.json": `{"covers": {"near": "far"}}`},
	} {
		t.Run(name, func(t *testing.T) {
			b, err := Load(bookFiles(t, files))
			if err != nil {
				t.Fatal(err)
			}
			_, err = b.compiled(context.Background())
			told(t, err, "s.json:1:1: ") // the name: limits.json may be the second of two
		})
	}
}

func TestARuleIsReadWithItsSheets(t *testing.T) {
	b := bookOf(t, map[string]string{
		"clock/near":             ruleText("clock", "near", "risk", "", onContacts("risk", "true")),
		"clock/near/breaks.toml": "format = 1\n",
	})
	r, err := b.Rule("near")
	if err != nil {
		t.Fatal(err)
	}
	if r.Name != "near" || r.Family != "clock" || r.Breaks != "format = 1\n" || r.Holds != "" || r.File != "clock/near/rule.rego" || r.House {
		t.Errorf("got %+v", r)
	}
	if _, err := b.Rule("neer"); !errors.Is(err, ErrNoRule) || !strings.Contains(err.Error(), "neer") {
		t.Errorf("got %v", err)
	}
	if got := b.Nearest("neer"); got != "near" {
		t.Errorf("the nearest to neer is %q", got)
	}
	if got := strings.Join(b.Names(), " "); got != "near waiver-expired waiver-unused waiver-without-reason" {
		t.Errorf("got the names %s", got)
	}
}

func TestEveryFaultInAnyMetadataIsToldAtOnce(t *testing.T) {
	files := bookFiles(t, map[string]string{
		"film/thin":  strings.Replace(ruleText("film", "thin", "risk", "", "verdict := set()"), "remedy:", "remdy:", 1),
		"clock/near": strings.Replace(ruleText("clock", "near", "risk", "", "verdict := set()"), "title:", "titel:", 1),
	})
	b, err := Load(files)
	if err != nil {
		t.Fatal(err)
	}
	_, err = b.Rules()
	told(t, err, "film/thin/rule.rego:11:", "remdy")
	told(t, err, "clock/near/rule.rego:2:", "titel")
}

func TestRulesComeByFamilyAndName(t *testing.T) {
	b := bookOf(t, map[string]string{
		"film/b":  ruleText("film", "b", "risk", "", "verdict := set()"),
		"film/a":  ruleText("film", "a", "risk", "", "verdict := set()"),
		"clock/z": ruleText("clock", "z", "risk", "", "verdict := set()"),
	})
	rules, err := b.Rules()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range rules {
		got = append(got, r.Name)
	}
	if s := strings.Join(got, " "); s != "z a b waiver-expired waiver-unused waiver-without-reason" {
		t.Errorf("got %s", s)
	}
}

func TestLimitNamesAreThoseOfTheData(t *testing.T) {
	b, err := Load(fstest.MapFS{"limits.json": {Data: []byte(`{"limits": {"b": {}, "a": {}}}`)}})
	if err != nil {
		t.Fatal(err)
	}
	names, err := b.LimitNames()
	if err != nil || strings.Join(names, " ") != "a b" {
		t.Errorf("got %v, %v", names, err)
	}
}
