package mend

import (
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
)

const plainSheet = `format = 1 # head

[[step]] # first
do        = "sand"    # by hand
grit      = "P80"
wear      = ["gloves"]

# what the second is for
[[step]]
do        = "spray"
product   = "etch"
# two coats never
coats     = 1
then_wait = "1 h"

[[waiver]]
rule = "x"
`

func scriptOf(t *testing.T, text string) *script {
	t.Helper()
	s, err := newScript("x.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestEditsTouchOnlyTheirLines(t *testing.T) {
	for _, c := range []struct {
		name, in string
		edit     func(*script) ([]byte, error)
		want     string
	}{
		{"a value is replaced and the comment behind it stays", plainSheet,
			func(s *script) ([]byte, error) { return s.write(1, []entry{{"do", `"block"`}}, nil) },
			strings.Replace(plainSheet, `"sand" `, `"block" `, 1)},
		{"a new key stands where a painter would write it, in line with the others", plainSheet,
			func(s *script) ([]byte, error) { return s.write(1, []entry{{"tool", `"sander"`}}, nil) },
			strings.Replace(plainSheet, "\ngrit ", "\ntool      = \"sander\"\ngrit ", 1)},
		{"a new key goes before what is worn", plainSheet,
			func(s *script) ([]byte, error) { return s.write(1, []entry{{"then_wait", `"1 h"`}}, nil) },
			strings.Replace(plainSheet, "\nwear", "\nthen_wait = \"1 h\"\nwear", 1)},
		{"a key longer than the column breaks no line", plainSheet,
			func(s *script) ([]byte, error) { return s.write(1, []entry{{"guide_coat_long", `true`}}, nil) },
			strings.Replace(plainSheet, "\n\n# what", "\nguide_coat_long = true\n\n# what", 1)},
		{"a key is taken out with its line", plainSheet,
			func(s *script) ([]byte, error) { return s.write(2, nil, []string{"coats"}) },
			strings.Replace(plainSheet, "coats     = 1\n", "", 1)},
		{"the comment behind a key that is taken out stays", plainSheet,
			func(s *script) ([]byte, error) { return s.write(1, nil, []string{"do"}) },
			strings.Replace(plainSheet, `do        = "sand"    # by hand`, "# by hand", 1)},
		{"a step goes in before the comment of the one after it", plainSheet,
			func(s *script) ([]byte, error) { return s.insert(2, []entry{{"with", `"x"`}, {"do", `"clean"`}}) },
			strings.Replace(plainSheet, "# what", "[[step]]\ndo        = \"clean\"\nwith      = \"x\"\n\n# what", 1)},
		{"a step goes in behind the last, before what is no step", plainSheet,
			func(s *script) ([]byte, error) { return s.insert(3, []entry{{"do", `"tack"`}}) },
			strings.Replace(plainSheet, "\"1 h\"\n", "\"1 h\"\n\n[[step]]\ndo        = \"tack\"\n", 1)},
		{"a step with notes is taken out and the notes stay", plainSheet,
			func(s *script) ([]byte, error) { return s.drop(2) },
			strings.Replace(plainSheet, "[[step]]\ndo        = \"spray\"\nproduct   = \"etch\"\n# two coats never\ncoats     = 1\nthen_wait = \"1 h\"\n",
				"# taken out here: do = \"spray\" product = \"etch\"\n# two coats never\n", 1)},
		{"a step without notes is taken out with the line behind it", "[[step]]\ndo = \"tack\"\n\n[[step]]\ndo = \"rinse\"\n",
			func(s *script) ([]byte, error) { return s.drop(1) },
			"[[step]]\ndo = \"rinse\"\n"},
		{"a file without an end to its last line gets none", "[[step]]\ndo = \"tack\"",
			func(s *script) ([]byte, error) { return s.insert(2, []entry{{"do", `"rinse"`}}) },
			"[[step]]\ndo = \"tack\"\n\n[[step]]\ndo = \"rinse\""},
		{"line ends of another system stay", "[[step]]\r\ndo = \"sand\"\r\ngrit = \"P80\"\r\n\r\n[[step]]\r\ndo = \"tack\"\r\n",
			func(s *script) ([]byte, error) { return s.insert(2, []entry{{"do", `"rinse"`}}) },
			"[[step]]\r\ndo = \"sand\"\r\ngrit = \"P80\"\r\n\r\n[[step]]\r\ndo = \"rinse\"\r\n\r\n[[step]]\r\ndo = \"tack\"\r\n"},
		{"a new key in a file with those line ends has one too", "[[step]]\r\ndo = \"sand\"\r\ngrit = \"P80\"\r\n",
			func(s *script) ([]byte, error) { return s.write(1, []entry{{"wet", "false"}}, nil) },
			"[[step]]\r\ndo = \"sand\"\r\ngrit = \"P80\"\r\nwet = false\r\n"},
		{"an indented step is followed by indented keys", "  [[step]]\n  do = \"sand\"\n  grit = \"P80\"\n",
			func(s *script) ([]byte, error) { return s.write(1, []entry{{"wet", "false"}}, nil) },
			"  [[step]]\n  do = \"sand\"\n  grit = \"P80\"\n  wet = false\n"},
		{"a byte-order mark stays", "\ufeff[[step]]\ndo = \"sand\"\ngrit = \"P80\"\n",
			func(s *script) ([]byte, error) { return s.write(1, []entry{{"grit", `"P180"`}}, nil) },
			"\ufeff[[step]]\ndo = \"sand\"\ngrit = \"P180\"\n"},
		{"a value over several lines is replaced whole", "[[step]]\ndo = \"inspect\"\nmeasure = [\n  \"film\", # mil\n]\nsays = \"x\"\n",
			func(s *script) ([]byte, error) { return s.write(1, []entry{{"measure", `["lead"]`}}, nil) },
			"[[step]]\ndo = \"inspect\"\nmeasure = [\"lead\"]\nsays = \"x\"\n"},
		{"steps in a list are written in the list", "step = [{do = \"sand\", grit = \"P80\"}, {do = \"tack\"}]\n",
			func(s *script) ([]byte, error) { return s.insert(2, []entry{{"do", `"rinse"`}}) },
			"step = [{do = \"sand\", grit = \"P80\"}, {do = \"rinse\"}, {do = \"tack\"}]\n"},
		{"also each on a line of its own", "step = [\n  {do = \"sand\", grit = \"P80\"},\n  {do = \"tack\"},\n]\n",
			func(s *script) ([]byte, error) { return s.insert(3, []entry{{"do", `"rinse"`}}) },
			"step = [\n  {do = \"sand\", grit = \"P80\"},\n  {do = \"tack\"},\n  {do = \"rinse\"},\n]\n"},
		{"and before the first of them", "step = [\n  {do = \"sand\", grit = \"P80\"},\n]\n",
			func(s *script) ([]byte, error) { return s.insert(1, []entry{{"do", `"rinse"`}}) },
			"step = [\n  {do = \"rinse\"},\n  {do = \"sand\", grit = \"P80\"},\n]\n"},
		{"a key of such a step is written in it", "step = [{do = \"sand\", grit = \"P80\"}]\n",
			func(s *script) ([]byte, error) {
				return s.write(1, []entry{{"wet", "false"}, {"grit", `"P180"`}}, nil)
			},
			"step = [{do = \"sand\", grit = \"P180\", wet = false}]\n"},
		{"or taken out of it", "step = [{do = \"sand\", wet = true, grit = \"P80\"}]\n",
			func(s *script) ([]byte, error) { return s.write(1, nil, []string{"wet"}) },
			"step = [{do = \"sand\", grit = \"P80\"}]\n"},
		{"the last of it too", "step = [{do = \"sand\", grit = \"P80\", wet = true}]\n",
			func(s *script) ([]byte, error) { return s.write(1, nil, []string{"wet"}) },
			"step = [{do = \"sand\", grit = \"P80\"}]\n"},
		{"such a step is taken out with its comma", "step = [{do = \"sand\", grit = \"P80\"}, {do = \"tack\"}]\n",
			func(s *script) ([]byte, error) { return s.drop(1) },
			"step = [{do = \"tack\"}]\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := c.edit(scriptOf(t, c.in))
			if err != nil {
				t.Fatal(err)
			}
			if string(got) != c.want {
				t.Errorf("got\n%s\nwant\n%s", got, c.want)
			}
		})
	}
}

func TestEditsThatCannotBeMadeAreRefused(t *testing.T) {
	s := scriptOf(t, "[[step]]\ndo = \"sand\"\n[step.grit]\nx = 1\n")
	for name, err := range map[string]error{
		"no such step to write":          second(s.write(2, nil, nil)),
		"no such step to drop":           second(s.drop(0)),
		"no such place to insert":        second(s.insert(3, nil)),
		"a key that is written as parts": second(s.write(1, []entry{{"grit", `"P80"`}}, nil)),
		"no steps at all":                second(scriptOf(t, "a = 1\n").insert(1, nil)),
	} {
		if err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	if _, err := newScript("x.toml", []byte("[[step]\n")); err == nil {
		t.Error("what is no TOML was taken for a sheet")
	}
}

func second(_ []byte, err error) error { return err }

// Steps may be written as a list between brackets: what is taken out takes one
// comma along and no comment.
func TestWhatIsTakenOutOfAListTakesOneCommaAndNoComment(t *testing.T) {
	for _, c := range []struct {
		text string
		n    int
		keys []string // of step n; none: the step itself
		want string
	}{
		{`step = [{a=1}, {b=1}, {c=1}]`, 1, nil, `step = [{b=1}, {c=1}]`},
		{`step = [{a=1}, {b=1}, {c=1}]`, 2, nil, `step = [{a=1}, {c=1}]`},
		{`step = [{a=1}, {b=1}, {c=1}]`, 3, nil, `step = [{a=1}, {b=1}]`},
		{"step = [{a=1},]", 1, nil, "step = []"},
		{"step = [{a=1}]", 1, nil, "step = []"},
		{"step = [\n  {a=1},\n  {b=1},\n]", 1, nil, "step = [\n  {b=1},\n]"},
		{"step = [\n  {a=1},\n  {b=1}\n]", 2, nil, "step = [\n  {a=1}\n]"},
		{"step = [\r\n  {a=1},\r\n  {b=1},\r\n]", 2, nil, "step = [\r\n  {a=1},\r\n]"},
		{"step = [\n{a=1},\n# keep\n{b=1},\n]", 1, nil, "step = [\n# keep\n{b=1},\n]"},
		{"step = [\n{a=1},\n# keep\n{b=1},\n]", 2, nil, "step = [\n{a=1},\n# keep\n]"},
		{"step = [\n{a=1}, # first\n{b=1}, # second\n]", 2, nil, "step = [\n{a=1}, # first\n# second\n]"},
		{"step = [\n{a=1} # x\n, # y\n{b=1} # z\n]", 2, nil, "step = [\n{a=1} # x\n# y\n # z\n]"},
		{"step = [\n{a=1}\n# before, with a comma\n, # behind\n]", 1, nil, "step = [\n# before, with a comma\n# behind\n]"},
		{`step = [{do="x", a=1, for="1 h"}]`, 1, []string{"do", "for"}, `step = [{a=1}]`},
		{`step = [{a=1, do="x", for="1 h"}]`, 1, []string{"do", "for"}, `step = [{a=1}]`},
		{`step = [{ do="x", for="1 h", a = 1 }]`, 1, []string{"do", "for"}, `step = [{ a = 1 }]`},
		{`step = [{a.b=1, x=2, a.c=3, do=4, for=5}]`, 1, []string{"do", "for"}, `step = [{a.b=1, x=2, a.c=3}]`},
		{`step = [{a.b=1, do=2, a.c=3, for=4}]`, 1, []string{"do", "for"}, `step = [{a.b=1, a.c=3}]`},
		{`step = [{do=1, a.b=1, for=2, x=2, a.c=3}]`, 1, []string{"do", "for"}, `step = [{a.b=1, x=2, a.c=3}]`},
	} {
		s, err := newScript("x.toml", []byte(c.text))
		if err != nil {
			t.Fatal(err)
		}
		var got []byte
		if c.keys == nil {
			got, err = s.drop(c.n)
		} else {
			got, err = s.write(c.n, nil, c.keys)
		}
		if err != nil || string(got) != c.want {
			t.Errorf("%q, %d %v: got %q (%v), want %q", c.text, c.n, c.keys, got, err, c.want)
		}
		if err := toml.Unmarshal(got, &map[string]any{}); err != nil {
			t.Errorf("%q is no longer TOML: %v", got, err)
		}
	}
}
