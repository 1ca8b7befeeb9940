package stack_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

const sheetsDir = "../../testdata/stack"

// cards are the product cards that every sheet of sheetsDir ends with.
func cards(t testing.TB) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(sheetsDir, "cards.toml"))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// read reads a sheet that must be right.
func read(t testing.TB, text string) *sheet.Sheet {
	t.Helper()
	r := sheet.NewReader(sheet.Options{NoHouse: true})
	defer r.Close()
	s, problems := r.ReadText("sheet.toml", []byte(text))
	for _, p := range problems {
		t.Errorf("line %d: %s", p.Place.Line, p.Message)
	}
	if len(problems) > 0 {
		t.FailNow()
	}
	return s
}

// carry reads a sheet and carries it out.
func carry(t testing.TB, text string) *stack.Document {
	t.Helper()
	d, problems := stack.Build(read(t, text))
	for _, p := range problems {
		t.Errorf("line %d: %s", p.Place.Line, p.Message)
	}
	if len(problems) > 0 {
		t.FailNow()
	}
	return d
}

// The sheets are carried out on paper first: each fact stands under the working
// that gives it.
func TestSheetsCarriedOutOnPaper(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(sheetsDir, "*.txtar"))
	if err != nil || len(files) < 12 {
		t.Fatalf("only %d sheets: %v", len(files), err)
	}
	for _, name := range files {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			parts := partsOf(string(text))
			d := carry(t, parts["sheet.toml"]+cards(t))
			raw, err := d.JSON()
			if err != nil {
				t.Fatal(err)
			}
			var doc any
			if err := json.Unmarshal(raw, &doc); err != nil {
				t.Fatal(err)
			}
			held := 0
			for i, line := range strings.Split(parts["facts"], "\n") {
				line = strings.TrimSpace(line)
				if line == "" || strings.HasPrefix(line, "#") {
					continue
				}
				held++
				if err := holds(doc, line); err != nil {
					t.Errorf("facts, line %d: %s: %v", i+1, line, err)
				}
			}
			if held == 0 {
				t.Error("no facts")
			}
		})
	}
}

var header = regexp.MustCompile(`(?m)^-- (.+) --$`)

// partsOf splits a txtar archive into its files.
func partsOf(text string) map[string]string {
	parts := map[string]string{}
	heads := header.FindAllStringSubmatchIndex(text, -1)
	for i, h := range heads {
		end := len(text)
		if i+1 < len(heads) {
			end = heads[i+1][0]
		}
		parts[text[h[2]:h[3]]] = strings.TrimPrefix(text[h[1]:end], "\n")
	}
	return parts
}

var fact = regexp.MustCompile(`^(.+?) (=|~) ?(.*)$`)

// holds checks one line: PATH = VALUE, or PATH ~ NUMBER TOLERANCE. A measure is
// LO..HI, one number where both ends are the same, `open`, or LO.. without an
// upper end; a list is [a, b].
func holds(doc any, line string) error {
	m := fact.FindStringSubmatch(line)
	if m == nil {
		return fmt.Errorf("not a fact")
	}
	got, err := at(doc, m[1])
	if err != nil {
		return err
	}
	if m[2] == "~" {
		var want, off float64
		if _, err := fmt.Sscan(m[3], &want, &off); err != nil {
			return err
		}
		if lo, _, _ := ends(got); math.Abs(lo-want) > off {
			return fmt.Errorf("is %v", lo)
		}
		return nil
	}
	if text := written(got, m[3]); text != m[3] {
		return fmt.Errorf("is %s", text)
	}
	return nil
}

// ends are the ends of a number, a range or a measure.
func ends(v any) (lo, hi float64, ok bool) {
	switch v := v.(type) {
	case float64:
		return v, v, true
	case map[string]any:
		lo, isRange := v["lo"].(float64)
		if !isRange {
			return 0, 0, false
		}
		if h, ok := v["hi"].(float64); ok {
			return lo, h, true
		}
		return lo, math.Inf(1), true
	}
	return 0, 0, false
}

// written writes a value as facts have it.
func written(v any, like string) string {
	switch v := v.(type) {
	case nil:
		return "null"
	case string:
		if v == "" {
			return `""`
		}
		return v
	case bool:
		return strconv.FormatBool(v)
	case []any:
		words := make([]string, len(v))
		for i, w := range v {
			words[i] = written(w, "")
		}
		return "[" + strings.Join(words, ", ") + "]"
	case map[string]any:
		if v["open"] == true {
			return "open"
		}
	}
	lo, hi, ok := ends(v)
	if !ok {
		return fmt.Sprint(v)
	}
	number := func(f float64) string { return strconv.FormatFloat(f, 'g', -1, 64) }
	switch {
	case math.IsInf(hi, 1):
		return number(lo) + ".."
	case lo == hi:
		return number(lo)
	}
	return number(lo) + ".." + number(hi)
}

var part = regexp.MustCompile(`^\.?([a-z_0-9]+)`)

// at finds what a path names: fields by name, entries of a list by id (or name,
// or number where they have neither), entries of a map by key.
func at(doc any, path string) (any, error) {
	v := doc
	for path != "" {
		if path[0] == '[' {
			end := strings.Index(path, "]")
			if end < 0 {
				return nil, fmt.Errorf("the path has no ]")
			}
			key := path[1:end]
			path = path[end+1:]
			list, ok := v.([]any)
			if !ok {
				return nil, fmt.Errorf("%s asks for an entry of no list", key)
			}
			found := false
			for i, e := range list {
				m, _ := e.(map[string]any)
				id, ok := m["id"]
				if !ok {
					id, ok = m["name"]
				}
				if _, zone := m["parent"]; zone {
					id = m["name"]
				}
				if id == key || !ok && strconv.Itoa(i) == key || (ok && id != key && byNumber(m, i, key)) {
					v, found = e, true
					break
				}
			}
			if !found {
				return nil, fmt.Errorf("there is no entry %q", key)
			}
			continue
		}
		name := part.FindStringSubmatch(path)
		if name == nil {
			return nil, fmt.Errorf("the path does not read at %q", path)
		}
		m, ok := v.(map[string]any)
		if !ok {
			return nil, fmt.Errorf("there is nothing to have %q", name[1])
		}
		if v, ok = m[name[1]]; !ok {
			return nil, fmt.Errorf("there is no %q", name[1])
		}
		path = path[len(name[0]):]
	}
	return v, nil
}

// byNumber: entries that have a name but no id of their own are counted.
func byNumber(m map[string]any, i int, key string) bool {
	_, id := m["id"]
	_, zone := m["parent"]
	return !id && !zone && strconv.Itoa(i) == key
}
