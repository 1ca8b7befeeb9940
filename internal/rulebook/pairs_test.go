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

// Each sheet of the archive says in its first line what the rules about pairs
// of films and the scratch between them find in it, at which grade; 'may'
// where it is not certain. Nothing else of the two families is to speak.
func TestEveryBranchOfThePairAndScratchRulesSpeaksWhereItShould(t *testing.T) {
	book, err := rulebook.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "pairs", "pairs.txtar"))
	if err != nil {
		t.Fatal(err)
	}
	files := strings.Split("\n"+string(text), "\n-- ")[1:]
	if len(files) == 0 {
		t.Fatal("the archive is empty")
	}
	reader := sheet.NewReader(sheet.Options{NoHouse: true})
	t.Cleanup(func() { reader.Close() })
	for _, file := range files {
		name, data, _ := strings.Cut(file, " --\n")
		t.Run(strings.TrimSuffix(name, ".toml"), func(t *testing.T) {
			t.Parallel()
			head, _, _ := strings.Cut(data, "\n")
			says, ok := strings.CutPrefix(head, "# finds: ")
			if !ok {
				t.Fatalf("the first line is %q; it says what is found", head)
			}
			want := []string{}
			if says != "nothing" {
				want = strings.Split(says, "; ")
			}
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
				t.Errorf("rules broke: %v", result.Broke)
			}
			got := []string{}
			for _, f := range result.Findings {
				if f.Family != "adhesion" && f.Family != "abrasive" {
					continue
				}
				line := fmt.Sprintf("%s %s", f.Rule, f.Grade)
				if f.Certainty == "may" {
					line += " may"
				}
				got = append(got, line)
			}
			slices.Sort(want)
			slices.Sort(got)
			if got = slices.Compact(got); !slices.Equal(got, want) {
				t.Errorf("want %q\n got %q", want, got)
			}
		})
	}
}
