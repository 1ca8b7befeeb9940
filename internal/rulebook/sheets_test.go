package rulebook_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// findingsOf judges the text of a sheet by the built-in rules.
func findingsOf(t *testing.T, text string) []rulebook.Finding {
	t.Helper()
	return findingsIn(t, sheet.Options{NoHouse: true}, text)
}

// findingsIn is the same for a sheet in a folder, with its shelf and house file,
// and with limits that replace those of the rulebook.
func findingsIn(t *testing.T, o sheet.Options, text string, limits ...sheet.HouseLimit) []rulebook.Finding {
	t.Helper()
	s, problems := sheet.ReadText(o, "sheet.toml", []byte(text))
	if len(problems) > 0 {
		t.Fatalf("the sheet cannot be read: line %d: %s\n%s", problems[0].Place.Line, problems[0].Message, text)
	}
	if len(limits) > 0 {
		s.House = &sheet.House{Limits: limits}
	}
	d, problems := stack.Build(s)
	if len(problems) > 0 {
		t.Fatalf("the sheet cannot be built: line %d: %s\n%s", problems[0].Place.Line, problems[0].Message, text)
	}
	book, err := rulebook.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	r, err := book.Judge(context.Background(), d, s, rulebook.Options{Today: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Broke) > 0 {
		t.Fatalf("rules broke: %v\n%s", r.Broke, text)
	}
	return r.Findings
}

// archived is one sheet of an archive; says is the rest of its first line
// after "# ", which tells what is to be found in it.
type archived struct{ name, says, text string }

// archive reads an archive of sheets under testdata. Each file begins with a
// line "-- NAME.toml --".
func archive(t *testing.T, path ...string) []archived {
	t.Helper()
	file := filepath.Join(append([]string{"..", "..", "testdata"}, path...)...)
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	var out []archived
	for _, part := range strings.Split("\n"+string(text), "\n-- ")[1:] {
		name, data, _ := strings.Cut(part, " --\n")
		head, _, _ := strings.Cut(data, "\n")
		says, ok := strings.CutPrefix(head, "# ")
		if !ok {
			t.Fatalf("%s: the first line is %q; it says what is found", name, head)
		}
		out = append(out, archived{strings.TrimSuffix(name, ".toml"), says, data})
	}
	if len(out) == 0 {
		t.Fatalf("%s is empty", file)
	}
	return out
}

// expected is what the first line says behind a prefix, one finding an entry;
// none where it says nothing.
func (a archived) expected(t *testing.T, prefix string) []string {
	t.Helper()
	says, ok := strings.CutPrefix(a.says, prefix+": ")
	if !ok {
		t.Fatalf("the first line is %q; it says what %s", a.says, prefix)
	}
	if says == "nothing" {
		return []string{}
	}
	return strings.Split(says, "; ")
}
