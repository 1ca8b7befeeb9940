package sheet

import (
	"os"
	"reflect"
	"testing"
)

// FuzzRead holds the reader to its promises on any text: no panic, a sheet or
// problems and never both, every place inside the text, the same answer twice.
func FuzzRead(f *testing.F) {
	for _, name := range examples(f) {
		text, err := os.ReadFile(name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(good))
	f.Add([]byte(indexed))
	for _, text := range []string{
		"", "\xef\xbb\xbf", "format", "format = 1\n[[step]]\ndo = \"sand\"\ncuts_to = [[{}]]\n", "step = 3", "step = [3]", "[sheet]\nshelf = [[]]",
		"product = [1]", "[product.a]\nas = 3", "[product]\na.as.b.as.c.kind = \"x\"", "panel.carries = {}", "[[zone]]\nname = []", "waiver = [{}]",
		"[[step]]\ndo = \"spray\"\nfades = {}\n", "[[step]]\ndo = []\n[[step.cuts_to]]\n[[step.cuts_to]]\ncall = 1\n",
		"sheet.title = \"\"\"\n\"\"\"\n[panel]\nsubstrate = '''x'''\r\n",
		"[[step]]\ndo = \"sand\"\ncuts_to.to = \"e-coat\"\ncuts_to.call = \"a\"\n[[step]]\ndo = \"tack\"\non = \"a (a (a\"\n",
	} {
		f.Add([]byte(text))
	}
	_, invalid := corpus(f)
	n := 0
	for _, text := range invalid {
		if n++; n%7 == 0 {
			f.Add(text)
		}
	}
	r := NewReader(Options{Root: f.TempDir(), NoHouse: true, Rules: knownRules})
	f.Fuzz(func(t *testing.T, text []byte) {
		s, problems := r.ReadText("door.toml", text) // one that does not come to an end the fuzzer tells of itself
		if (s == nil) == (len(problems) == 0) {
			t.Fatalf("a sheet: %v, and %d problems", s != nil, len(problems))
		}
		for i, p := range problems {
			if p.Message == "" || p.Place.File == "" || p.Place.Line < 1 || p.Place.Column < 1 || p.Place.EndLine < p.Place.Line {
				t.Errorf("the problem %+v has no place", p)
			}
			if p.Place.Start < 0 || p.Place.End > len(text) || p.Place.End < p.Place.Start {
				t.Errorf("the problem %+v stands outside the %d bytes", p, len(text))
			}
			if i > 0 && p == problems[i-1] {
				t.Errorf("the problem %+v is told twice", p)
			}
		}
		again, same := r.ReadText("door.toml", text)
		if (again == nil) != (s == nil) || !reflect.DeepEqual(problems, same) {
			t.Error("read again, it is not the same")
		}
		Classify(text)
		x, _ := NewIndex("door.toml", text)
		x.Walk(func(n *Node) {
			for _, span := range []Span{n.Key, n.Value, n.Whole, n.Header} {
				if span.Start < 0 || span.End < span.Start || span.End > len(text) {
					t.Errorf("%s stands at %+v of %d bytes", n.Path(), span, len(text))
				}
			}
			x.Find(n.Path())
		})
		for at := 0; at <= len(text); at += 1 + len(text)/40 {
			x.At(at)
			line, column := x.Position(at)
			x.Offset(line, column)
		}
		if s == nil {
			return
		}
		for i, st := range s.Steps {
			if st.N != i+1 || st.Do == "" || st.Coats.Value < 1 || laying[st.Do] && st.Card == nil {
				t.Errorf("step %d is %+v", i+1, st)
			}
		}
		for _, w := range s.Waivers {
			if w.StepN < 0 || w.StepN > len(s.Steps) || w.Step.Written != (w.StepN > 0) {
				t.Errorf("the waiver %+v has no step", w)
			}
		}
	})
}
