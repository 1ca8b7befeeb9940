package rulebook_test

import (
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"

	"guidecoat/internal/quantity"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
)

// Published processes stand in testdata/published, a folder each: a sheet, its
// shelf, and a house file with the limits of the documents that are nobody's
// can. Behind every number stands the paragraph it was taken from, and how.

type finding = rulebook.Finding

// process is a published process.
type process struct {
	name                string // of its folder
	sheet, shelf, house []table
}

// table is one table of a TOML file whose keys each stand on a line.
type table struct {
	head string // "[booth]", "[[step]]", "[product.cleaner]"; "" before the first
	keys []key
}

// key is one key of a table with what is written behind it.
type key struct{ name, value, note string }

func (t table) get(name string) string {
	for _, k := range t.keys {
		if k.name == name {
			return k.value
		}
	}
	return ""
}

// word is a value without its quotes.
func (t table) word(name string) string { return strings.Trim(t.get(name), `"`) }

// with is the table with a key set.
func (t table) with(name, value string) table {
	t.keys = slices.Clone(t.keys)
	for i := range t.keys {
		if t.keys[i].name == name {
			t.keys[i].value = value
			return t
		}
	}
	t.keys = append(t.keys, key{name: name, value: value})
	return t
}

// without is the table with a key taken out.
func (t table) without(name string) table {
	t.keys = slices.DeleteFunc(slices.Clone(t.keys), func(k key) bool { return k.name == name })
	return t
}

// readTables reads a file of testdata/published.
func readTables(t *testing.T, file string) []table {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	out := []table{{}}
	for i, line := range strings.Split(string(text), "\n") {
		switch at := &out[len(out)-1]; {
		case line == "" || strings.HasPrefix(line, "#"):
		case strings.HasPrefix(line, "["):
			out = append(out, table{head: line})
		default:
			name, rest, ok := strings.Cut(line, " = ")
			if !ok {
				t.Fatalf("%s:%d: a line holds one key", file, i+1)
			}
			value, note, _ := strings.Cut(rest, " # ")
			at.keys = append(at.keys, key{name, value, note})
		}
	}
	return out
}

func writeTables(tables []table) string {
	var b strings.Builder
	for _, t := range tables {
		if t.head != "" {
			fmt.Fprintf(&b, "\n%s\n", t.head)
		}
		for _, k := range t.keys {
			fmt.Fprintf(&b, "%s = %s\n", k.name, k.value)
		}
	}
	return b.String()
}

// processes are the published processes, by name.
func processes(t *testing.T) []process {
	t.Helper()
	root := filepath.Join("..", "..", "testdata", "published")
	entries, err := os.ReadDir(root)
	if err != nil {
		t.Fatal(err)
	}
	var out []process
	for _, e := range entries {
		if e.IsDir() {
			dir := filepath.Join(root, e.Name())
			out = append(out, process{e.Name(), readTables(t, filepath.Join(dir, "sheet.toml")),
				readTables(t, filepath.Join(dir, "shelf.toml")), readTables(t, filepath.Join(dir, sheet.HouseFile))})
		}
	}
	if len(out) < 3 {
		t.Fatalf("there are %d published processes, and three were transcribed", len(out))
	}
	return out
}

// judge judges a sheet in the folder of a published process.
func (p process) judge(t *testing.T, tables []table) []rulebook.Finding {
	t.Helper()
	return findingsIn(t, sheet.Options{Root: filepath.Join("..", "..", "testdata", "published", p.name)}, writeTables(tables))
}

func TestPublishedProcessesAreRightAsTheyStand(t *testing.T) {
	for _, p := range processes(t) {
		for _, f := range p.judge(t, p.sheet) {
			if f.Grade != "advice" {
				t.Errorf("%s: %s %s: %s", p.name, f.Grade, f.Rule, f.Message)
			}
		}
	}
}

// statuses are how a number was come by.
var statuses = []string{"(read)", "(second)", "(memory)", "(calc)", "common practice"}

// notNumbers are keys whose value holds figures and no number of the trade.
var notNumbers = []string{"format", "number", "date"}

func TestEveryNumberOfAPublishedProcessNamesItsParagraph(t *testing.T) {
	for _, p := range processes(t) {
		for file, tables := range map[string][]table{"sheet.toml": p.sheet, "shelf.toml": p.shelf, sheet.HouseFile: p.house} {
			for _, tb := range tables {
				for _, k := range tb.keys {
					if !strings.ContainsAny(k.value, "0123456789") || slices.Contains(notNumbers, k.name) || tb.head == "[product.cleaner]" {
						continue
					}
					named := slices.ContainsFunc(statuses, func(s string) bool { return strings.Contains(k.note, s) })
					if !named && k.name != "goes_on" && k.name != "product" {
						t.Errorf("%s/%s %s %s = %s: no paragraph and status behind it", p.name, file, tb.head, k.name, k.value)
					}
				}
			}
		}
	}
}

// breach is one published limit broken, alone.
type breach struct {
	of        string // the file, table and key the limit stands in
	paragraph string // where it was taken from
	how       string // what was done
	sheet     []table
	// names says whether a finding speaks of this very limit.
	names func(rulebook.Finding) bool
}

func (b breach) name() string { return b.of + ": " + b.how }

// Every number, wipe, layer, stop and protection of each process is broken,
// one at a time, by walking the keys of its shelf, its house file and its
// steps; what is broken must be found by a rule that names that limit.
// testdata/published/uncaught.toml lists what is not found, and why.
func TestEveryBrokenLimitOfAPublishedProcessIsFoundByARuleThatNamesIt(t *testing.T) {
	excused := uncaught(t)
	count := map[bool]struct{ caught, all int }{} // by whether a document has it
	for _, p := range processes(t) {
		was := map[string]bool{}
		for _, f := range p.judge(t, p.sheet) {
			was[f.ID+f.Message] = true
		}
		for _, b := range p.breaches(t) {
			caught := false
			var told []string
			for _, f := range p.judge(t, b.sheet) {
				if was[f.ID+f.Message] {
					continue
				}
				caught = caught || b.names(f)
				told = append(told, f.Grade+" "+f.Rule+": "+f.Message)
			}
			why, isExcused := excused[b.name()]
			delete(excused, b.name())
			switch {
			case caught && isExcused:
				t.Errorf("%s is found, and uncaught.toml says it is not: %s", b.name(), why)
			case !caught && !isExcused:
				t.Errorf("%s (%s): no finding names it; told instead:\n\t%s", b.name(), b.paragraph, strings.Join(told, "\n\t"))
			}
			published := !strings.HasPrefix(b.paragraph, "common practice")
			c := count[published]
			c.all++
			if caught {
				c.caught++
			}
			count[published] = c
		}
	}
	for _, name := range slices.Sorted(maps.Keys(excused)) {
		t.Errorf("uncaught.toml names %q, and nothing of that name is broken", name)
	}
	for _, published := range []bool{true, false} {
		what, c := map[bool]string{true: "limits with a document", false: "limits of common practice"}[published], count[published]
		t.Logf("%s: %d of %d broken are found by a rule that names them (%.1f %%)", what, c.caught, c.all, 100*float64(c.caught)/float64(max(c.all, 1)))
		if c.all == 0 {
			t.Errorf("no %s were broken at all", what)
		}
	}
}

// uncaught is what is broken and not found, with the reason.
func uncaught(t *testing.T) map[string]string {
	t.Helper()
	var f struct {
		Breach []struct{ Name, Because string }
	}
	if _, err := toml.DecodeFile(filepath.Join("..", "..", "testdata", "published", "uncaught.toml"), &f); err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, b := range f.Breach {
		if out[b.Name] != "" || strings.TrimSpace(b.Because) == "" {
			t.Errorf("uncaught.toml: %q stands twice or without a reason", b.Name)
		}
		out[b.Name] = b.Because
	}
	return out
}

// isLimit tells a finding whose limit is v, in the dimension's canonical unit.
func isLimit(dim quantity.Dimension, v float64) func(rulebook.Finding) bool {
	return func(f rulebook.Finding) bool {
		if f.Limit == nil {
			return false
		}
		ends := []float64{f.Limit.Lo}
		if f.Limit.Hi != nil {
			ends = append(ends, *f.Limit.Hi)
		}
		for _, x := range ends {
			// Shown to four significant digits.
			if got, ok := quantity.ToCanonical(x, dim, f.Limit.Unit); ok && math.Abs(got-v) <= 1e-3*math.Max(math.Abs(v), 1e-3) {
				return true
			}
		}
		return false
	}
}

// isRule tells a finding of one of some rules whose message says a word.
func isRule(says string, rules ...string) func(rulebook.Finding) bool {
	return func(f rulebook.Finding) bool {
		return slices.Contains(rules, f.Rule) && strings.Contains(f.Message, says)
	}
}
