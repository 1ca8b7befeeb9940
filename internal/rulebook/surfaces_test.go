package rulebook_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// Each sheet of these archives says in its first line what one rule finds in it
// and in which zones; 'may' where it is not certain. A sheet for each branch of
// each rule about bare surfaces and pores, through cuts, strips, zones and
// cards, beside what stops just short of it.
func TestEveryBranchOfTheSurfaceRulesSpeaksWhereItShould(t *testing.T) {
	book, err := rulebook.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	reader := sheet.NewReader(sheet.Options{NoHouse: true})
	t.Cleanup(func() { reader.Close() })
	for _, archive := range []string{"metal.txtar", "pores.txtar"} {
		text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "surfaces", archive))
		if err != nil {
			t.Fatal(err)
		}
		files := strings.Split("\n"+string(text), "\n-- ")[1:]
		if len(files) == 0 {
			t.Fatalf("%s is empty", archive)
		}
		for _, file := range files {
			name, data, _ := strings.Cut(file, " --\n")
			t.Run(strings.TrimSuffix(name, ".toml"), func(t *testing.T) {
				t.Parallel()
				rule, _, _ := strings.Cut(name, "/")
				head, _, _ := strings.Cut(data, "\n")
				says, ok := strings.CutPrefix(head, "# "+rule+": ")
				if !ok {
					t.Fatalf("the first line is %q; it says what %s finds", head, rule)
				}
				want := []string{}
				if says != "nothing" {
					want = strings.Split(says, "; ")
				}
				if got := foundBy(t, book, reader, rule, name, data); !slices.Equal(got, want) {
					t.Errorf("want %q\n got %q", want, got)
				}
			})
		}
	}
}

// foundBy judges a sheet and tells what one rule finds, sorted.
func foundBy(t *testing.T, book *rulebook.Book, reader *sheet.Reader, rule, name, data string) []string {
	t.Helper()
	s, problems := reader.ReadText(name, []byte(data))
	if len(problems) > 0 {
		t.Fatalf("the sheet cannot be read: %v", problems)
	}
	doc, problems := stack.Build(s)
	if len(problems) > 0 {
		t.Fatalf("the sheet cannot be built: %v", problems)
	}
	result, err := book.Judge(context.Background(), doc, s, rulebook.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(result.Broke) > 0 {
		t.Fatalf("rules broke: %v", result.Broke)
	}
	got := []string{}
	for _, f := range result.Findings {
		if f.Rule != rule {
			continue
		}
		line := f.Grade
		if f.Certainty == "may" {
			line += " may"
		}
		got = append(got, fmt.Sprintf("%s in %s", line, strings.Join(f.Zones, ", ")))
	}
	slices.Sort(got)
	return got
}
