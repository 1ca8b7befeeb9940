package compare

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/stack"
)

func finding(rule, on, grade string, zones ...string) rulebook.Finding {
	step := 1
	return rulebook.Finding{ID: rule + "@" + on, Rule: rule, On: on, Grade: grade, Zones: zones, Step: &step}
}

func doc(steps ...string) *stack.Document {
	d := &stack.Document{}
	for i, s := range steps {
		do, with, _ := strings.Cut(s, " ")
		d.Steps = append(d.Steps, stack.Step{N: i + 1, Do: do, With: with})
	}
	return d
}

func sorted(t *testing.T, b Baseline, d *stack.Document, findings ...rulebook.Finding) (fresh, known []string, gone int) {
	t.Helper()
	f, k, gone := b.Sorter().Sort("a.toml", d, findings)
	for _, x := range f {
		fresh = append(fresh, x.ID)
	}
	for _, x := range k {
		known = append(known, x.ID)
	}
	return fresh, known, gone
}

func baseline(d *stack.Document, findings ...rulebook.Finding) Baseline {
	var b Baseline
	b.Add("a.toml", d, findings)
	return b
}

func TestAKnownFindingIsKnownAgainUnderAnotherNumber(t *testing.T) {
	b := baseline(doc("clean wax", "spray"), finding("rough", "panel/2:grey", "fails", "panel"), finding("no-gloves", "1", "fails"), finding("left", "panel/1-2", "risk", "panel"))
	d := doc("tack", "clean wax", "tack", "spray")
	fresh, known, gone := sorted(t, b, d, finding("rough", "panel/4:grey", "fails", "panel"), finding("no-gloves", "2", "fails"), finding("left", "panel/2-4", "risk", "panel"))
	if len(fresh) > 0 || len(known) != 3 || gone != 0 {
		t.Errorf("new %v, known %v, gone %d", fresh, known, gone)
	}
}

// The number alone is no reason to take a finding for a known one.
func TestANewFindingUnderAnOldNumberIsNew(t *testing.T) {
	b := baseline(doc("clean wax", "spray"), finding("no-gloves", "1", "fails"))
	fresh, known, gone := sorted(t, b, doc("spray", "clean wax"), finding("no-gloves", "1", "fails"))
	if len(fresh) != 1 || len(known) != 0 || gone != 1 {
		t.Errorf("new %v, known %v, gone %d", fresh, known, gone)
	}
}

func TestOfSeveralAlikeOnlyAsManyAreKnownAsThereWere(t *testing.T) {
	d := doc("tack", "tack", "tack")
	b := baseline(d, finding("r", "1", "risk"), finding("r", "2", "risk"))
	fresh, known, _ := sorted(t, b, d, finding("r", "1", "risk"), finding("r", "2", "risk"), finding("r", "3", "risk"))
	if len(fresh) != 1 || len(known) != 2 {
		t.Errorf("new %v, known %v", fresh, known)
	}
}

func TestWhatBecameGraverOrReachedAnotherZoneOrFileIsNew(t *testing.T) {
	d := doc("spray")
	b := baseline(d, finding("r", "panel/1:grey", "risk", "panel"))
	for name, f := range map[string]rulebook.Finding{
		"graver": finding("r", "panel/1:grey", "fails", "panel"), "wider": finding("r", "panel/1:grey", "risk", "dent", "panel"),
		"elsewhere": finding("r", "dent/1:grey", "risk", "dent"), "another rule": finding("q", "panel/1:grey", "risk", "panel"),
	} {
		if fresh, _, _ := sorted(t, b, d, f); len(fresh) != 1 {
			t.Errorf("%s is known", name)
		}
	}
	if fresh, _, _ := b.Sorter().Sort("b.toml", d, []rulebook.Finding{finding("r", "panel/1:grey", "risk", "panel")}); len(fresh) != 1 {
		t.Error("of another file is known")
	}
	if fresh, known, _ := sorted(t, b, d, finding("r", "panel/1:grey", "advice", "panel")); len(fresh) != 0 || len(known) != 1 {
		t.Error("less grave is new")
	}
}

func TestAGraverEntryIsLeftForTheGraverFinding(t *testing.T) {
	d := doc("tack", "tack")
	b := baseline(d, finding("r", "1", "fails"), finding("r", "2", "advice"))
	fresh, known, _ := sorted(t, b, d, finding("r", "1", "advice"), finding("r", "2", "fails"))
	if len(fresh) > 0 || len(known) != 2 {
		t.Errorf("new %v, known %v", fresh, known)
	}
}

func TestAFindingToldForTwoZonesIsKnownWhenTheyComeApart(t *testing.T) {
	d := doc("spray")
	b := baseline(d, finding("r", "dent/1:grey", "risk", "dent", "panel"))
	fresh, known, gone := sorted(t, b, d, finding("r", "dent/1:grey", "risk", "dent"), finding("r", "panel/1:grey", "risk", "panel"))
	if len(fresh) > 0 || len(known) != 2 || gone != 0 {
		t.Errorf("new %v, known %v, gone %d", fresh, known, gone)
	}
}

func TestABaselineIsReadBackAsItWasWrittenSortedAndStable(t *testing.T) {
	d := doc("spray")
	hostile := "z\x1b[31m\"\\\n\u202e'''.toml"
	var a, b Baseline
	list := []rulebook.Finding{finding("r", "panel/1:grey", "risk", "panel", "dent"), finding("q", "1", "fails"), finding("r", "sheet", "advice")}
	a.Add("b.toml", d, list)
	a.Add(hostile, d, list)
	slices.Reverse(list)
	b.Add(hostile, d, list)
	b.Add("b.toml", d, list)
	one, err := a.Encode()
	if err != nil {
		t.Fatal(err)
	}
	two, err := b.Encode()
	if err != nil {
		t.Fatal(err)
	}
	if string(one) != string(two) {
		t.Errorf("the order of the findings shows:\n%s\n%s", one, two)
	}
	if strings.Contains(string(one), "\x1b") {
		t.Error("a control character is written raw")
	}
	back, err := DecodeBaseline(one)
	if err != nil {
		t.Fatal(err)
	}
	if len(back.Known) != 6 || back.Known[0].File != "b.toml" || back.Known[5].File != hostile {
		t.Errorf("read back: %+v", back.Known)
	}
	again, err := back.Encode()
	if err != nil || string(again) != string(one) {
		t.Errorf("written again it differs (%v):\n%s", err, again)
	}
	var any map[string]any
	if _, err := toml.Decode(string(one), &any); err != nil {
		t.Errorf("it is no TOML: %v", err)
	}
}

func TestAnEntryWrittenByHandIsKnownByItsID(t *testing.T) {
	b, err := DecodeBaseline([]byte("format = 1\n[[known]]\nfile = \"a.toml\"\nid = \"r@panel/1:grey\"\ngrade = \"risk\"\nzones = [\"panel\"]\n"))
	if err != nil {
		t.Fatal(err)
	}
	if fresh, known, _ := sorted(t, b, doc("spray"), finding("r", "panel/1:grey", "risk", "panel")); len(fresh) != 0 || len(known) != 1 {
		t.Errorf("new %v, known %v", fresh, known)
	}
}

func TestWhatIsNoBaselineIsToldInWords(t *testing.T) {
	entry := "format = 1\n[[known]]\nfile = \"a.toml\"\nid = \"r@1\"\ngrade = \"risk\"\n"
	for name, tc := range map[string]struct{ text, words string }{
		"empty":            {"", "no format = 1"},
		"a sheet":          {"format = 1\n[sheet]\ntitle = \"x\"\n", "is no key of a baseline"},
		"newer":            {"format = 2\nmore = true\n", "of a newer guidecoat; this one reads format = 1"},
		"before any":       {"format = 0\n", "there is none before 1"},
		"a worded format":  {"format = \"1\"\n", "not a whole number"},
		"half a file":      {entry[:40], "line 4"},
		"not TOML":         {"{\"format\": 1}", "line 1"},
		"no text":          {"\xff\xfe\x00", "line 1"},
		"an unknown key":   {entry + "because = \"x\"\n", "known.because"},
		"no file":          {strings.Replace(entry, "file = \"a.toml\"\n", "", 1), "entry 1 has no file"},
		"an id with no @":  {strings.Replace(entry, "r@1", "r", 1), "an id is a rule, @ and a place"},
		"a like of others": {entry + "like = \"q@spray\"\n", "of two rules"},
		"an odd grade":     {strings.Replace(entry, "\"risk\"", "\"grave\"", 1), "the grades are fails, risk and advice"},
		"an odd type":      {strings.Replace(entry, "\"risk\"", "7", 1), ""},
	} {
		_, err := DecodeBaseline([]byte(tc.text))
		if err == nil || !strings.Contains(err.Error(), tc.words) {
			t.Errorf("%s: told %v, not %q", name, err, tc.words)
		}
	}
	dir := t.TempDir()
	for name, words := range map[string]string{filepath.Join(dir, "none"): "--keep-baseline writes one", dir: "no plain file", os.DevNull: "no plain file"} {
		if _, err := ReadBaseline(name); err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("%s: told %v", name, err)
		}
	}
}

// A place that only looks like one with a step's number is left as it is.
func TestPlacesWithoutAStepKeepTheirWords(t *testing.T) {
	d := doc("spray")
	card := rulebook.Finding{ID: "r@3", Rule: "r", On: "3"} // a card of that name, about no step
	for _, tc := range []struct {
		f    rulebook.Finding
		want string
	}{
		{card, "r@3"}, {finding("r", "sheet", "risk"), "r@sheet"}, {finding("r", "panel/0.1:e-coat", "risk", "panel"), "r@0.1:e-coat"},
		{finding("r", "panel/9:grey", "risk", "panel"), "r@9:grey"}, // no such step
		{finding("r", "a/b/1:grey", "risk", "a/b"), "r@grey"}, {finding("r", "panel/1-0", "risk", "panel"), "r@spray to the end"},
		{finding("r", "99999999999999999999", "risk"), "r@99999999999999999999"},
	} {
		if got := Like(d, tc.f); got != tc.want {
			t.Errorf("%s is like %q, not %q", tc.f.ID, got, tc.want)
		}
	}
}

// Whatever is in the file: it is refused in words, or what was read of it is
// written and read again as the same.
func FuzzBaseline(f *testing.F) {
	b := baseline(doc("spray"), finding("r", "panel/1:grey", "risk", "panel", "dent"), finding("q", "1", "fails"))
	text, err := b.Encode()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(text)
	f.Add([]byte("format = 1\n[[known]]\nfile = \"\\u0000\"\nid = \"r@\\\"\"\ngrade = \"fails\"\nzones = ['''x''', \"\\t\"]\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		b, err := DecodeBaseline(text)
		if err != nil {
			if err.Error() == "" {
				t.Error("refused without a word")
			}
			return
		}
		one, err := b.Encode()
		if err != nil {
			t.Fatal(err)
		}
		back, err := DecodeBaseline(one)
		if err != nil {
			t.Fatalf("what was written cannot be read: %v\n%s", err, one)
		}
		two, err := back.Encode()
		if err != nil || string(two) != string(one) {
			t.Fatalf("written again it differs (%v):\n%s\n%s", err, one, two)
		}
		for _, k := range back.Known {
			b.Sorter().Sort(k.File, doc("spray"), []rulebook.Finding{finding("r", "panel/1:grey", "risk", "panel", "panel")})
		}
	})
}
