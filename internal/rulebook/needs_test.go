package rulebook

import (
	"context"
	"encoding/json"
	"fmt"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"guidecoat/internal/generate"
	"guidecoat/internal/raced"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

func TestNeedsJSONIsWrittenFromTheMetadata(t *testing.T) {
	want, err := builtinBook(t).NeedsJSON()
	writtenFromTheMetadata(t, needsFile, want, err)
}

func builtinBook(t testing.TB) *Book {
	t.Helper()
	b, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// stackOf is the stack of a sheet's text, or nil where it cannot be built.
func stackOf(file, text string) *stack.Document {
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true, Root: filepath.Dir(file)}, filepath.Base(file), []byte(text))
	if len(problems) > 0 {
		return nil
	}
	d, problems := stack.Build(s)
	if len(problems) > 0 {
		return nil
	}
	return d
}

// manyStacks are the stacks of every example and every sheet of the rules, of
// 500 sheets made up, and 300 of the right shape with anything in them; each
// with a name to tell it by.
func manyStacks(t *testing.T, b *Book, each func(name string, d *stack.Document)) {
	t.Helper()
	examples, err := filepath.Glob(filepath.Join("..", "..", "specs-examples", "*", "*.toml"))
	if err != nil || len(examples) == 0 {
		t.Fatalf("there are no examples: %v", err)
	}
	for _, file := range examples {
		s, problems := sheet.Read(sheet.Options{Root: filepath.Join("..", "..", "specs-examples")}, filepath.Join(filepath.Base(filepath.Dir(file)), filepath.Base(file)))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		d, problems := stack.Build(s)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		each(file, d)
	}
	for _, name := range b.Names() {
		r, err := b.Rule(name)
		if err != nil {
			t.Fatal(err)
		}
		for what, text := range map[string]string{"breaks": r.Breaks, "holds": r.Holds} {
			if d := stackOf(name+".toml", text); d != nil {
				each(name+", "+what, d)
			}
		}
	}
	for seed := range uint64(raced.Fewer(500)) {
		d := stackOf("made-up.toml", generate.Sheet(seed, generate.Options{}))
		if d == nil {
			t.Fatalf("the sheet of seed %d cannot be built", seed)
		}
		each(fmt.Sprint("made-up sheet ", seed), d)
	}
	kinds := kindsOf(t, b)
	limits, err := b.LimitNames()
	if err != nil {
		t.Fatal(err)
	}
	for seed := range uint64(raced.Fewer(120)) {
		each(fmt.Sprint("odd stack ", seed), oddDocument(seed, kinds, limits))
	}
}

// raised are verdicts in words that compare, and the rules that gave them.
type raised struct {
	verdicts  []string
	uncovered []string // without those that another silences
	by        map[string]bool
}

func inWordsOf(verdicts []verdict) raised {
	out := raised{by: map[string]bool{}}
	for _, v := range verdicts {
		out.verdicts = append(out.verdicts, v.value.String())
		out.by[v.rule] = true
	}
	slices.Sort(out.verdicts)
	return out
}

// judgedBy is what judging a stack raises.
func judgedBy(t *testing.T, b *Book, d *stack.Document) raised {
	t.Helper()
	verdicts, broke, err := b.raise(context.Background(), d)
	if err != nil || len(broke) > 0 {
		t.Fatal(err, broke)
	}
	return inWordsOf(verdicts)
}

// raisedBy is what the named rules raise before any silences another.
func raisedBy(t *testing.T, b *Book, j *judge, names []string, d *stack.Document) raised {
	t.Helper()
	input, err := toValue(d)
	if err != nil {
		t.Fatal(err)
	}
	verdicts, broke, err := b.raiseAll(context.Background(), j, names, input)
	if err != nil {
		t.Fatal(err)
	}
	if len(broke) > 0 {
		t.Fatalf("rules broke: %v", broke)
	}
	out := inWordsOf(verdicts)
	out.uncovered = inWordsOf(uncovered(verdicts, j.covers)).verdicts
	return out
}

// The proof that needs are right: whatever a stack holds, the rules left out
// have nothing to say of it, so that asking all gives the same verdicts.
func TestLeavingOutRulesThatAStackDoesNotNeedChangesNoVerdict(t *testing.T) {
	raced.Skip(t)
	t.Parallel()
	b := builtinBook(t)
	whole, err := b.compiled(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	told := map[string]bool{}
	spoke, asked, stacks := map[string]int{}, map[string]int{}, 0
	sheets, ofSheets := 0, 0
	manyStacks(t, b, func(name string, d *stack.Document) {
		stacks++
		needed, err := b.needed(d)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(name, "odd") {
			sheets, ofSheets = sheets+1, ofSheets+len(needed)
		}
		for _, n := range needed {
			asked[n]++
		}
		all := raisedBy(t, b, whole, b.names, d)
		if got := judgedBy(t, b, d); !slices.Equal(got.verdicts, all.uncovered) && len(told) == 0 {
			t.Errorf("%s: the verdicts of the rules needed, over what they read:\n%s\nand of all over all:\n%s", name, strings.Join(got.verdicts, "\n"), strings.Join(all.uncovered, "\n"))
		}
		for n := range all.by {
			spoke[n]++
			if !slices.Contains(needed, n) && !told[n] {
				told[n] = true
				t.Errorf("%s: %s speaks, and its needs are not met: %s", name, n, needsText(t, b, n))
			}
		}
	})
	for _, n := range b.names {
		r, err := b.Rule(n)
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case r.Needs == nil:
			t.Errorf("%s tells no needs: it would be asked of every sheet", n)
		case len(r.Needs) > 0 && spoke[n] == 0:
			t.Errorf("%s never speaks, so that its needs are not tried at all", n)
		case asked[n] == stacks:
			t.Errorf("every one of %d stacks meets the needs of %s: they leave nothing out", stacks, n)
		}
	}
	if share := float64(ofSheets) / float64(sheets*len(b.names)); share > 0.25 {
		t.Errorf("a sheet is asked about %.0f %% of the rules; a quarter should do", 100*share)
	} else {
		t.Logf("%d stacks; a sheet is asked about %.1f of %d rules", stacks, float64(ofSheets)/float64(sheets), len(b.names))
	}
}

func needsText(t *testing.T, b *Book, name string) string {
	t.Helper()
	needs, err := b.needs()
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal(needs[name])
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// A judge of a part of the book must say what one of the whole says: compiled
// apart, a rule must not miss what another brought along.
func TestARuleSpeaksTheSameCompiledInPartAndInWhole(t *testing.T) {
	b := builtinBook(t)
	whole, err := b.compiled(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	for seed := range uint64(20) {
		d := stackOf("made-up.toml", generate.Sheet(seed, generate.Options{}))
		needed, err := b.needed(d)
		if err != nil {
			t.Fatal(err)
		}
		part, err := b.compile(context.Background(), needed)
		if err != nil {
			t.Fatal(err)
		}
		got, want := raisedBy(t, b, part, needed, d), raisedBy(t, b, whole, b.names, d)
		if !slices.Equal(got.verdicts, want.verdicts) {
			t.Errorf("seed %d: %v\nand in whole %v", seed, got.verdicts, want.verdicts)
		}
	}
}

// Whoever writes a wrong need is told: the rule's own breaking sheet must meet it.
func TestEveryRulesOwnBreakingSheetMeetsItsNeeds(t *testing.T) {
	b := builtinBook(t)
	for name, d := range stacks(t, b) {
		needed, err := b.needed(d)
		if err != nil {
			t.Fatal(err)
		}
		if r, err := b.Rule(name); err != nil || len(r.Needs) > 0 && !slices.Contains(needed, name) {
			t.Errorf("policies/%s/%s/breaks.toml does not meet the needs of its rule: %s (%v)", b.Family(name), name, needsText(t, b, name), err)
		}
	}
}

func TestWhatANeedAsksOfAField(t *testing.T) {
	one, two := 0.5, 2.0
	comparison := func(sense string, lo float64, hi *float64, open bool) *stack.Comparison {
		return &stack.Comparison{Sense: sense, Over: stack.Range{Lo: lo, Hi: hi}, Open: open}
	}
	d := &stack.Document{
		Sheet: stack.SheetFacts{EndsAs: "finished", Inspects: []string{"film"}},
		Cards: map[string]stack.CardFacts{"grey": {Laid: true, DataSheet: stack.SheetRecord{Age: comparison("most", 1.5, nil, false)}}},
		Steps: []stack.Step{{Do: "sand", Wear: []string{"gloves"}, GradeNumber: 3}, {Do: "block"}},
		Contacts: []stack.Contact{
			{UpperKind: "body filler", LowerTraits: stack.Traits{Acid: true}, RecoatLeast: comparison("least", 0.2, &one, false)},
			{UpperKind: "epoxy primer", RecoatMost: comparison("most", 0.2, &two, false), Sequence: []stack.Ratio{{}, {Fall: *comparison("most", 0, &two, true)}}},
		},
	}
	for text, want := range map[string]bool{
		`{"in": "contacts"}`: true,
		`{"in": "waits"}`:    false,
		`{"in": "sheet"}`:    true,
		`{"in": "contacts", "lower_traits.acid": true}`:                                        true,
		`{"in": "contacts", "lower_traits.acid": true, "upper_kind": "epoxy primer"}`:          false,
		`{"in": "contacts", "lower_traits.acid": false, "upper_kind": "epoxy primer"}`:         true,
		`{"in": "contacts", "upper_kind": ["body solder", "body filler"]}`:                     true,
		`{"in": "contacts", "upper_kind": {"not": ["epoxy primer", "body filler"]}}`:           false,
		`{"in": "contacts", "upper_kind": {"not": "epoxy primer"}}`:                            true,
		`{"in": "contacts", "recoat_least": "past"}`:                                           true,
		`{"in": "contacts", "recoat_most": "past"}`:                                            true,
		`{"in": "contacts", "recoat_most": "past", "recoat_least": "past"}`:                    false,
		`{"in": "contacts", "recoat_most": false, "recoat_least": true}`:                       true,
		`{"in": "contacts", "fill_after": "past"}`:                                             false,
		`{"in": "contacts", "sequence.fall": "past"}`:                                          false,
		`{"in": "contacts", "sequence.fall.open": true}`:                                       true,
		`{"in": "contacts", "sequence": {"over": 1}}`:                                          true,
		`{"in": "contacts", "sequence": {"over": 2}}`:                                          false,
		`{"in": "contacts", "tooth.by": {"not": "none"}}`:                                      true,
		`{"in": "contacts", "tooth.by": "none"}`:                                               false,
		`{"in": "contacts", "tooth.blast": true}`:                                              false,
		`{"in": "cards", "laid": true, "data_sheet.age": "past"}`:                              true,
		`{"in": "cards", "laid": true, "data_sheet.written": true}`:                            false,
		`{"in": "steps", "wear": "gloves", "do": "sand"}`:                                      true,
		`{"in": "steps", "wear": {"not": "gloves"}, "do": "sand"}`:                             false,
		`{"in": "steps", "wear": {"not": "gloves"}}`:                                           true,
		`{"in": "steps", "grade_number": {"over": 2}}`:                                         true,
		`{"in": "steps", "grade_number": {"over": 3}}`:                                         false,
		`{"in": "sheet", "ends_as": "finished", "inspects": {"not": "film"}}`:                  false,
		`{"in": "sheet", "ends_as": ["primed", "finished"], "inspects": {"not": ["profile"]}}`: true,
	} {
		var n Need
		if err := json.Unmarshal([]byte(text), &n); err != nil {
			t.Errorf("%s: %v", text, err)
		} else if got := n.met(reflect.ValueOf(d).Elem()); got != want {
			t.Errorf("%s: %v", text, got)
		}
	}
}

func TestNeedsThatCanNeverBeRightAreRefused(t *testing.T) {
	for needs, says := range map[string]string{
		"{in: contacts, lower_kind: body filler}": "",
		"[]":                                      "",
		"{in: kontacts}":                          `needs, in: there is no field "kontacts" here; did you mean "contacts"?`,
		"{in: contacts, lower_trait.acid: true}":  `there is no field "lower_trait" here; did you mean "lower_traits"?`,
		"{in: contacts, lower_kind.acid: true}":   `there is nothing called "acid" here`,
		"{in: contacts, lower_kind: boddy filer}": `there is no kind "boddy filer"`,
		"{in: contacts, recoat_least: later}":     "past, true or false",
		"{in: contacts, abraded: past}":           "neither a word nor a list of words",
		"{in: contacts, zone: {over: 1}}":         "neither a number nor a list",
		"{in: contacts, zone: {over: one}}":       "over wants a number",
		"{in: contacts, zone: {without: panel}}":  "can be asked of no field",
		"{in: contacts, zone: {not: []}}":         "no words are asked for",
		"{in: contacts, zone: 7}":                 "can be asked of no field",
		"{in: contacts, zone: panel, zone: dent}": "written twice",
		"{abraded: true}":                         `needs, in: there is no field ""`,
		"contacts":                                "must be a table such as",
	} {
		text := strings.Replace(ruleText("clock", "near", "risk", "", "verdict := set()"), "#   limits: []", "#   limits: []\n#   needs:\n#     - "+needs, 1)
		if needs == "[]" {
			text = strings.Replace(text, "needs:\n#     - []", "needs: []", 1)
		}
		b, err := Load(bookFiles(t, map[string]string{"clock/near": text}))
		if err == nil {
			_, err = b.Rule("near")
		}
		switch {
		case says == "" && err != nil:
			t.Errorf("%s: %v", needs, err)
		case says != "" && (err == nil || !strings.Contains(err.Error(), says)):
			t.Errorf("%s: %v; wanted %s", needs, err, says)
		}
	}
}

func TestJudgesAreCompiledInPartsFirstAndThenInWhole(t *testing.T) {
	js := &judges{}
	var compiled []string
	all := strings.Split("abcdefgh", "")
	with := func(names string) *judge {
		j, err := js.with(strings.Split(names, ""), func(names []string) (*judge, error) {
			compiled = append(compiled, strings.Join(names, ""))
			return &judge{names: names}, nil
		}, all)
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
	with("ab")
	with("b")
	if j := with("c"); len(j.names) != 3 {
		t.Errorf("the second judge has only %v", j.names)
	}
	with("a")
	if j := with("ad"); len(j.names) != len(all) {
		t.Errorf("the third judge has only %v", j.names)
	}
	with("h")
	if got := strings.Join(compiled, " "); got != "ab abc abcdefgh" {
		t.Errorf("compiled were %s", got)
	}
	if js.part != nil {
		t.Error("a part is kept though the whole is there")
	}
	js, compiled = &judges{}, nil
	if j := with("abcde"); len(j.names) != len(all) {
		t.Errorf("most of the rules are wanted, and compiled are %v", j.names)
	}
}
