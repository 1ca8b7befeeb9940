package starter

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"testing"
	"time"

	"github.com/pelletier/go-toml/v2"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
	"guidecoat/policies"
)

var refresh = flag.Bool("refresh", false, "write the schemas in testdata anew; read the diff before committing it")

// kept is where the schemas stand for whoever reads the repository, and for
// tools that are no Go.
const kept = "../../testdata/schema"

// compiled are the schemas by what they are of: sheet, shelf, house.
func compiled(t testing.TB) map[string]*jsonschema.Schema {
	t.Helper()
	files, err := Schemas()
	if err != nil {
		t.Fatal(err)
	}
	of := map[string]*jsonschema.Schema{}
	for _, f := range files {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(f.Text))
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		c := jsonschema.NewCompiler()
		c.AssertFormat()
		if err := c.AddResource(f.Name, doc); err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		s, err := c.Compile(f.Name)
		if err != nil {
			t.Fatalf("%s: %v", f.Name, err)
		}
		kind, _, _ := strings.Cut(f.Name, ".")
		of[kind] = s
	}
	return of
}

// asJSON is a TOML file as editors hand it to a schema: dates as texts, and
// nothing for a number that JSON has not.
func asJSON(text []byte) (any, error) {
	var m map[string]any
	if err := toml.Unmarshal(text, &m); err != nil {
		return nil, err
	}
	return plain(m), nil
}

func plain(v any) any {
	switch v := v.(type) {
	case map[string]any:
		m := map[string]any{}
		for k, e := range v {
			m[k] = plain(e)
		}
		return m
	case []any:
		list := make([]any, len(v))
		for i, e := range v {
			list[i] = plain(e)
		}
		return list
	case time.Time:
		return v.Format(time.RFC3339)
	case fmt.Stringer:
		return v.String() // a date, a time of day, or both
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return nil
		}
	}
	return v
}

// refusal is why a schema refuses a TOML file; nil where it does not.
func refusal(t testing.TB, s *jsonschema.Schema, text []byte) error {
	t.Helper()
	v, err := asJSON(text)
	if err != nil {
		return err
	}
	return s.Validate(v)
}

func TestTheSchemasAreThoseKeptBesideTheCode(t *testing.T) {
	files, err := Schemas()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		path := filepath.Join(kept, f.Name)
		if *refresh {
			if err := os.WriteFile(path, f.Text, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(f.Text, want) {
			t.Errorf("%s is not what the program makes; refresh it", path)
		}
	}
}

// goodFiles are the files of the repository that the program reads.
func goodFiles(t testing.TB) map[string]string {
	t.Helper()
	kinds := map[string]string{}
	for pattern, kind := range map[string]string{
		"../../specs-examples/*/*.toml":        "sheet",
		"../../policies/*/*/breaks.toml":       "sheet",
		"../../policies/*/*/holds.toml":        "sheet",
		"../../testdata/published/*.toml":      "sheet",
		"../../testdata/stack/*.toml":          "sheet",
		"../../testdata/sheet/full.toml":       "sheet",
		"../../testdata/sheet/full-shelf.toml": "shelf",
		"../../specs-examples/shelf.toml":      "shelf",
		"../../specs-examples/guidecoat.toml":  "house",
		"files/first-sheet.toml":               "sheet",
		"files/shelf.toml":                     "shelf",
		"files/guidecoat.toml":                 "house",
	} {
		found, err := filepath.Glob(pattern)
		if err != nil || len(found) == 0 {
			t.Fatalf("%s: %v", pattern, err)
		}
		for _, f := range found {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			if sheet.Classify(text) != sheet.IsOther { // a table of what is expected
				kinds[f] = kind
			}
		}
	}
	return kinds
}

func TestEveryFileThatTheProgramReadsFitsItsSchema(t *testing.T) {
	schemas := compiled(t)
	files := goodFiles(t)
	if len(files) < 250 {
		t.Errorf("only %d files were found", len(files))
	}
	for name, kind := range files {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if got := sheet.Classify(text).String(); !strings.Contains(got, kind) {
			t.Errorf("%s is %s, not a %s", name, got, kind)
		}
		if err := refusal(t, schemas[kind], text); err != nil {
			t.Errorf("%s is refused: %v", name, err)
		}
	}
}

// spoiledFile is a file that the program refuses.
type spoiledFile struct{ name, kind, text string }

// spoiledOnes are the files that the tests of internal/sheet spoil.
func spoiledOnes(t testing.TB) []spoiledFile {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(kept, "errors.json"))
	if err != nil {
		t.Fatal(err)
	}
	var list struct {
		Good  string
		Files []struct {
			Name, Kind, Text string
			Edits            []string
		}
	}
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	all := []spoiledFile{}
	for _, f := range list.Files {
		text := f.Text
		if f.Edits != nil {
			text = list.Good
			for i := 0; i < len(f.Edits); i += 2 {
				text = strings.Replace(text, f.Edits[i], f.Edits[i+1], 1)
			}
		}
		all = append(all, spoiledFile{f.Name, f.Kind, text})
	}
	return all
}

// beyond are the errors that no schema can tell, by case, with the reason.
func beyond(t testing.TB) map[string]string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(kept, "beyond.json"))
	if err != nil {
		t.Fatal(err)
	}
	var list []struct {
		Reason string
		Errors []string
	}
	if err := json.Unmarshal(text, &list); err != nil {
		t.Fatal(err)
	}
	why := map[string]string{}
	for _, l := range list {
		if len(l.Reason) < 20 {
			t.Errorf("%q is no reason", l.Reason)
		}
		for _, e := range l.Errors {
			if why[e] != "" {
				t.Errorf("%s stands twice", e)
			}
			why[e] = l.Reason
		}
	}
	return why
}

func TestEveryErrorThatTheProgramTellsIsRefusedByTheSchemaOrListedAsBeyondIt(t *testing.T) {
	schemas, why := compiled(t), beyond(t)
	refused, listed := 0, 0
	for _, f := range spoiledOnes(t) {
		key := f.kind + ": " + f.name
		err := refusal(t, schemas[f.kind], []byte(f.text))
		switch _, known := why[key]; {
		case err != nil && known:
			t.Errorf("%q is refused, and need not be listed as beyond the schema", key)
		case err != nil:
			refused++
		case !known:
			t.Errorf("%q is not refused", key)
		default:
			listed++
		}
		delete(why, key)
	}
	for key := range why {
		t.Errorf("%q is listed as beyond the schema, and there is no such error", key)
	}
	t.Logf("%d errors are refused by the schemas, %d are beyond them", refused, listed)
	if refused < 130 {
		t.Errorf("only %d are refused", refused)
	}
}

// examples are the examples that stand in the descriptions, each with where it
// stands.
func examples(v any, path string, found map[string]string) {
	switch v := v.(type) {
	case map[string]any:
		if text, ok := v["description"].(string); ok {
			if _, example, ok := strings.Cut(text, "Example: "); ok {
				found[path] = example
			}
		}
		for k, e := range v {
			examples(e, path+"/"+k, found)
		}
	case []any:
		for i, e := range v {
			examples(e, fmt.Sprintf("%s/%d", path, i), found)
		}
	}
}

// Every example is TOML, and the schema that it stands in takes it.
func TestTheExamplesOfTheSchemasAreRight(t *testing.T) {
	files, err := Schemas()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(f.Text))
		if err != nil {
			t.Fatal(err)
		}
		c := jsonschema.NewCompiler()
		c.AssertFormat()
		if err := c.AddResource(f.Name, doc); err != nil {
			t.Fatal(err)
		}
		found := map[string]string{}
		examples(doc, "", found)
		tried := 0
		for path, example := range found {
			if strings.HasPrefix(example, "[product.") {
				example += "\n"
			}
			v, err := asJSON([]byte(example))
			if err != nil {
				t.Errorf("%s%s: %q is no TOML: %v", f.Name, path, example, err)
				continue
			}
			if strings.HasPrefix(example, "[") {
				continue // a header
			}
			for name, value := range v.(map[string]any) {
				s, err := c.Compile(f.Name + "#" + strings.NewReplacer("~", "~0", " ", "%20").Replace(path))
				if err != nil {
					t.Fatal(err)
				}
				if err := s.Validate(value); err != nil {
					t.Errorf("%s%s: the example %s is refused: %v", f.Name, path, name, err)
				}
				tried++
			}
		}
		if tried < 20 {
			t.Errorf("%s has only %d examples", f.Name, tried)
		}
	}
}

// Every key of the language has its description, units and all.
func TestEveryKeyIsInItsSchemaWithWhatItIsFor(t *testing.T) {
	files, err := Schemas()
	if err != nil {
		t.Fatal(err)
	}
	text := map[string]string{}
	for _, f := range files {
		kind, _, _ := strings.Cut(f.Name, ".")
		text[kind] = string(f.Text)
	}
	var look func(kind string, keys []sheet.Key)
	look = func(kind string, keys []sheet.Key) {
		for _, k := range keys {
			encoded, err := plainJSON(described(k))
			if err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(text[kind], `"`+k.Name+`": {`) || !strings.Contains(text[kind], string(encoded)) {
				t.Errorf("the %s's schema says nothing of %s", kind, k.Name)
			}
			look(kind, k.Fields)
		}
	}
	look("sheet", sheet.SheetKeys())
	look("shelf", sheet.ShelfKeys())
	look("house", sheet.HouseKeys())
	look("sheet", sheet.CardKeys())
	for _, v := range sheet.Verbs() {
		for _, k := range keysOf(v.Do) {
			look("sheet", []sheet.Key{k})
		}
	}
	for _, l := range trade.Limits() {
		if !strings.Contains(text["house"], `"`+l.Name+`": {`) {
			t.Errorf("the limit %s is not in the house's schema", l.Name)
		}
	}
}

// The values that the rulebook itself has may stand in a house file.
func TestEveryLimitOfTheRulebookFitsTheHousesSchema(t *testing.T) {
	house := compiled(t)["house"]
	for _, l := range trade.Limits() {
		for _, v := range []trade.LimitValue{l.Restoration, l.Collision} {
			text := fmt.Sprintf("[limits]\n%s = %q\n", l.Name, v.String())
			if _, err := l.ParseHouse(v.String()); err != nil {
				t.Errorf("%s: %v", text, err)
			}
			if err := refusal(t, house, []byte(text)); err != nil {
				t.Errorf("%s: %v", text, err)
			}
		}
	}
}

// Every name that a kind goes by fits, in every case and with every dash.
func TestEveryNameOfAKindFits(t *testing.T) {
	shelf := compiled(t)["shelf"]
	for _, name := range trade.Kinds().Names("film", "helper", "finish") {
		kind, _ := trade.Kinds().Lookup(name)
		for _, spoken := range append([]string{name}, kind.Names...) {
			for _, way := range []string{spoken, strings.ToUpper(spoken), strings.ReplaceAll(spoken, " ", "  "), " " + strings.ReplaceAll(spoken, " ", "-"), strings.ReplaceAll(spoken, " and ", "&")} {
				if k, ok := trade.Kinds().Lookup(way); !ok || k.Name != name {
					t.Errorf("%q is not read as %s", way, name)
				}
				if err := refusal(t, shelf, []byte(fmt.Sprintf("format = 1\n[product.a]\nkind = %q\n", way))); err != nil {
					t.Errorf("%q is refused", way)
				}
			}
		}
	}
}

func TestEverySpellingOfAWordFits(t *testing.T) {
	for _, v := range sheet.Verbs() {
		for _, k := range sheet.KeysOf(v.Do) {
			if len(k.Words) == 0 {
				continue
			}
			p := compile(t, wordPattern(sheet.Spellings(k.Words)))
			for _, w := range sheet.Spellings(k.Words) {
				for _, way := range []string{w, strings.ToUpper(w), "  " + strings.ReplaceAll(w, " ", "\t ")} {
					if !p.MatchString(way) {
						t.Errorf("%s: %q is refused", k.Name, way)
					}
				}
			}
			if p.MatchString(k.Words[0]+"x") || p.MatchString("") {
				t.Errorf("%s: any word fits", k.Name)
			}
		}
	}
}

// What the house file says in comments is right when the marks are taken off.
func TestWhatTheHouseFileProposesIsRight(t *testing.T) {
	text, err := own.ReadFile("files/guidecoat.toml")
	if err != nil {
		t.Fatal(err)
	}
	var lines []string
	proposed := 0
	for _, line := range strings.Split(string(text), "\n") {
		if words, ok := strings.CutPrefix(line, "# "); ok && strings.Contains(words, " = ") {
			line = words
			proposed++
		}
		lines = append(lines, line)
	}
	if proposed < 4 {
		t.Errorf("it proposes only %d lines", proposed)
	}
	whole := []byte(strings.Join(lines, "\n"))
	if err := refusal(t, compiled(t)["house"], whole); err != nil {
		t.Error(err)
	}
	dir := t.TempDir()
	shelf, err := own.ReadFile("files/shelf.toml")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "shelf.toml"), shelf, 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "rules"), 0o755); err != nil {
		t.Fatal(err)
	}
	rules, err := sheet.RulesIn(policies.Files)
	if err != nil {
		t.Fatal(err)
	}
	r := sheet.NewReader(sheet.Options{Root: dir, Rules: rules})
	defer func() { _ = r.Close() }()
	for _, p := range r.Check(sheet.IsHouse, "guidecoat.toml", whole) {
		t.Errorf("line %d: %s", p.Place.Line, p.Message)
	}
}

func TestAShopsOwnRulesMayBeNamedOnlyWhereItHasSome(t *testing.T) {
	house := compiled(t)["house"]
	own := "[grades]\nour-own = \"risk\"\n"
	if refusal(t, house, []byte(own)) == nil {
		t.Error("a rule that nobody has is let through")
	}
	if err := refusal(t, house, []byte("[house]\nrules = \"rules\"\n"+own)); err != nil {
		t.Error(err)
	}
}

func TestTheFilesOfAStarterAreTheSameEveryTime(t *testing.T) {
	first, err := Files()
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for range 3 {
		again, err := Files()
		if err != nil {
			t.Fatal(err)
		}
		names = nil
		for i, f := range again {
			names = append(names, f.Name)
			if !bytes.Equal(f.Text, first[i].Text) || f.About == "" {
				t.Errorf("%s is made otherwise", f.Name)
			}
		}
	}
	want := []string{"first-sheet.toml", "guidecoat.toml", "house.schema.json", "sheet.schema.json", "shelf.schema.json", "shelf.toml"}
	sort.Strings(names)
	if !slices.Equal(names, want) {
		t.Errorf("it has %q", names)
	}
}

// Each file names its schema in the comment that editors look for.
func TestEachFileNamesItsSchema(t *testing.T) {
	for name, schema := range map[string]string{sheet.HouseFile: "house", "shelf.toml": "shelf", "first-sheet.toml": "sheet"} {
		text, err := own.ReadFile("files/" + name)
		if err != nil {
			t.Fatal(err)
		}
		if line, _, _ := strings.Cut(string(text), "\n"); line != "#:schema ./"+schema+".schema.json" {
			t.Errorf("%s begins with %q", name, line)
		}
	}
}
