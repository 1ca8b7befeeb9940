package mend

import (
	"bytes"
	"context"
	"testing"

	"github.com/BurntSushi/toml"

	"guidecoat/internal/generate"
)

// FuzzEdits makes edits in any text with steps: what was TOML stays TOML, with
// one step more or less, and the rest of the text as it was.
func FuzzEdits(f *testing.F) {
	for _, path := range corpus(f) {
		f.Add(textOf(f, path), uint8(1), uint8(0))
		f.Add(textOf(f, path), uint8(2), uint8(1))
	}
	for i, text := range []string{plainSheet, "step = [{do = \"sand\"}, {do = \"tack\"}]", "step = []", "[[step]]", "[[ step ]]\r\n[[step.a]]\n[[step]]\na.b = 1\n",
		"\ufeff[[step]]\ndo = '''x\n#'''\n#\n", "[[step]]\n[step.x]\n[[step]]\n[other]\n[[step]]\n", "step = [\n#a\n{do = \"x\"}, # b\n]\n",
		"step = [{},]", "step = [\n{do = 1}\n#a\n,\n#b\n{then_wait = 2, do = 3}\n]", "step = [{a.b = 1, do = 2, a.c = 3, then_wait = 4}, {}]"} {
		f.Add([]byte(text), uint8(1), uint8(i))
		f.Add([]byte(text), uint8(2), uint8(i+1))
	}
	f.Fuzz(func(t *testing.T, text []byte, n, what uint8) {
		var was map[string]any
		if toml.Unmarshal(text, &was) != nil {
			return
		}
		s, err := newScript("x.toml", text)
		if err != nil {
			return
		}
		more, touched := 0, []byte(nil)
		switch what % 4 {
		case 0:
			more = 1
			touched, err = s.insert(int(n), []entry{{"do", `"tack"`}, {"on", `["a"]`}})
		case 1:
			more = -1
			touched, err = s.drop(int(n))
		case 2:
			touched, err = s.write(int(n), []entry{{"then_wait", `"1 h"`}, {"do", `"x"`}}, nil)
		default:
			touched, err = s.write(int(n), nil, []string{"do", "then_wait"})
		}
		if err != nil {
			return
		}
		var is map[string]any
		if err := toml.Unmarshal(touched, &is); err != nil {
			t.Fatalf("no longer TOML: %v\n%q\n%q", err, text, touched)
		}
		steps := func(m map[string]any) int {
			switch l := m["step"].(type) {
			case []map[string]any:
				return len(l)
			case []any:
				return len(l)
			}
			return 0
		}
		if steps(is) != steps(was)+more {
			t.Fatalf("%d steps, and were %d\n%q\n%q", steps(is), steps(was), text, touched)
		}
		if bytes.Contains(text, []byte("'''")) || bytes.Contains(text, []byte(`"""`)) {
			return // a line of such a text may begin with a # and be no comment
		}
		for _, line := range bytes.Split(text, []byte("\n")) {
			if i := bytes.IndexByte(line, '#'); i == 0 && !bytes.Contains(touched, bytes.TrimSpace(line)) {
				t.Fatalf("the comment %q is gone\n%q\n%q", line, text, touched)
			}
		}
	})
}

// FuzzMend mends any text that is a small sheet: no panic, and a sheet again.
func FuzzMend(f *testing.F) {
	for _, path := range corpus(f) {
		f.Add(textOf(f, path))
	}
	for seed := range uint64(20) {
		f.Add([]byte(generate.Sheet(seed, generate.Options{Steps: 3 + int(seed)%8, Zones: 1 + int(seed)%3})))
	}
	m := mender(f)
	m.Budget = 8
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) <= 6000 && bytes.Count(text, []byte("[[step]]")) <= 20 {
			keepsPromises(t, m, text)
		}
	})
}

// FuzzMendValues mends sheets that mostly read, with values at the edge.
func FuzzMendValues(f *testing.F) {
	for seed := range uint64(30) {
		f.Add(seed, seed*31, seed*17, seed*101, seed*7)
	}
	m := mender(f)
	m.Budget = 8
	f.Fuzz(func(t *testing.T, seed, at, with, at2, with2 uint64) {
		keepsPromises(t, m, []byte(generate.Changed(seed, [2]uint64{at, with}, [2]uint64{at2, with2})))
	})
}

// keepsPromises holds one mending to its promises.
func keepsPromises(t *testing.T, m *Mender, text []byte) {
	t.Helper()
	r, problems, err := m.Mend(context.Background(), "door.toml", text)
	if err != nil {
		t.Fatal(err)
	}
	if (r == nil) == (len(problems) == 0) {
		t.Fatalf("a result: %v, and %d problems", r != nil, len(problems))
	}
	if r == nil {
		return
	}
	if !bytes.Equal(r.Before, text) || (len(r.Edits) == 0) != bytes.Equal(r.After, text) {
		t.Fatalf("%d edits, and the text changed: %v", len(r.Edits), !bytes.Equal(r.After, text))
	}
	if _, problems := m.Reader.ReadText("door.toml", r.After); len(problems) > 0 {
		t.Fatalf("the mended sheet cannot be read: %+v", problems)
	}
	_ = r.Diff()
}
