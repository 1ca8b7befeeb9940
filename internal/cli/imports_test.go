package cli

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// layers lists the packages from the ground up: a package may import those
// that stand before it and none that stand after.
var layers = []string{
	"policies", "internal/printable", "internal/raced", "internal/whole", "internal/quantity", "internal/trade", "internal/generate", "internal/sheet", "internal/stack", "internal/rulebook", "internal/mend", "internal/draft", "internal/drill",
	"internal/plan", "internal/picture", "internal/compare", "internal/report", "internal/handout", "internal/editor", "internal/scaffold", "internal/measure", "internal/mutate", "internal/starter", "internal/cli", "cmd/guidecoat",
}

func TestImportsGoOneWay(t *testing.T) {
	rank := map[string]int{}
	for i, p := range layers {
		rank["guidecoat/"+p] = i + 1
	}
	root := "../.."
	seen := 0
	for _, top := range []string{"policies", "internal", "cmd"} {
		err := filepath.WalkDir(filepath.Join(root, top), func(path string, d os.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return err
			}
			rel, err := filepath.Rel(root, filepath.Dir(path))
			if err != nil {
				return err
			}
			own := "guidecoat/" + filepath.ToSlash(rel)
			if rank[own] == 0 {
				t.Errorf("package %s has no place among the layers", own)
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
			if err != nil {
				return err
			}
			for _, imp := range f.Imports {
				p := strings.Trim(imp.Path.Value, `"`)
				if !strings.HasPrefix(p, "guidecoat/") {
					continue
				}
				seen++
				if rank[p] >= rank[own] {
					t.Errorf("%s imports %s, which stands above it", own, p)
				}
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	if seen == 0 {
		t.Error("no import was looked at")
	}
}
