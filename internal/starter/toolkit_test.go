package starter

import (
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"guidecoat/internal/generate"
	"guidecoat/internal/sheet"
)

// Sheets made up from seeds say whatever a sheet may say.
func TestEveryGeneratedSheetFitsTheSchema(t *testing.T) {
	s := compiled(t)["sheet"]
	for seed := range uint64(300) {
		text := []byte(generate.Sheet(seed, generate.Options{}))
		if err := refusal(t, s, text); err != nil {
			t.Errorf("seed %d is refused: %v", seed, err)
		}
	}
}

// toolkit runs an independent TOML toolkit over files and gives those that it
// refuses. It needs node and the package that testdata/schema/node names; where
// either is missing the test is skipped, and the continuous build installs both.
func toolkit(t *testing.T, dir string, args ...string) map[string]bool {
	t.Helper()
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node here")
	}
	taplo, err := filepath.Abs(filepath.Join(kept, "node", "node_modules", ".bin", "taplo"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(taplo); err != nil {
		t.Skip("the TOML toolkit is not installed: npm install --no-package-lock --prefix testdata/schema/node")
	}
	cmd := exec.Command(node, append([]string{taplo, "lint", "--no-auto-config", "--colors", "never"}, args...)...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "RUST_LOG=error")
	out, err := cmd.CombinedOutput()
	refused := map[string]bool{}
	for _, m := range regexp.MustCompile(`invalid file .*path="([^"]*)"`).FindAllStringSubmatch(string(out), -1) {
		refused[filepath.Base(m[1])] = true
	}
	// It ends with 1 for what is invalid, and so do other mishaps.
	if (err != nil) != (len(refused) > 0) {
		t.Fatalf("taplo %v: %v\n%s", args, err, out)
	}
	return refused
}

func put(t testing.TB, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// Two validators that have nothing in common refuse the same files.
func TestAnIndependentToolkitRefusesWhatTheSchemasRefuse(t *testing.T) {
	schemas := compiled(t)
	dir := t.TempDir()
	files, err := Schemas()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		put(t, filepath.Join(dir, f.Name), string(f.Text))
	}
	names := map[string][]string{} // of each kind
	title := map[string]string{}
	wrong := map[string]bool{}
	add := func(kind, what, text string) {
		name := fmt.Sprintf("%s-%03d.toml", kind, len(names[kind]))
		put(t, filepath.Join(dir, name), text)
		names[kind] = append(names[kind], name)
		title[name] = what
		wrong[name] = refusal(t, schemas[kind], []byte(text)) != nil
	}
	good := goodFiles(t)
	for i, path := range slices.Sorted(maps.Keys(good)) {
		// The toolkit is slow, and the rules' sheets are many and alike.
		kind := good[path]
		if strings.Contains(path, "policies") && i%8 != 0 {
			continue
		}
		text, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		add(kind, path, string(text))
	}
	for _, f := range spoiledOnes(t) {
		add(f.kind, f.name, f.text)
	}
	for kind, files := range names {
		refused := toolkit(t, dir, append([]string{"--schema", "file://" + filepath.ToSlash(filepath.Join(dir, kind+".schema.json"))}, files...)...)
		for _, name := range files {
			if refused[name] != wrong[name] {
				t.Errorf("%s: the toolkit refuses it: %v, and the schema does: %v", title[name], refused[name], wrong[name])
			}
		}
		t.Logf("%s: %d files, %d refused", kind, len(files), len(refused))
	}
}

// The comment at the head of each file is what an editor finds its schema by.
func TestTheToolkitFindsTheSchemaOfEachFileOfAStarter(t *testing.T) {
	dir := t.TempDir()
	files, err := Files()
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		put(t, filepath.Join(dir, f.Name), string(f.Text))
	}
	names := []string{sheet.HouseFile, "shelf.toml", "first-sheet.toml"}
	if refused := toolkit(t, dir, names...); len(refused) > 0 {
		t.Errorf("it refuses %v", refused)
	}
	for _, f := range files {
		if strings.HasSuffix(f.Name, ".toml") {
			put(t, filepath.Join(dir, f.Name), string(f.Text)+"\n[no_such_table]\n")
		}
	}
	refused := toolkit(t, dir, names...)
	for _, name := range names {
		if !refused[name] {
			t.Errorf("it does not look at the schema that %s names", name)
		}
	}
}
