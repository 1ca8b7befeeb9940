package sheet

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestAFileThatWasComeUponIsReadOnlyIfItIsASheet(t *testing.T) {
	dir, elsewhere := t.TempDir(), t.TempDir()
	const head = "format = 1\n[sheet]\ntitle = \"x\"\n"
	for name, text := range map[string]string{
		"shelf.toml": "format = 1\n[product.grey]\nkind = \"epoxy primer\"\n", "house.toml": "[house]\n", "other.toml": "x = 1\n", "noise.toml": "[[[",
		"sheet.toml": head + "[panel]\nsubstrate = \"mild steel\"\n[[step]]\ndo = \"tack\"\n", "broken.toml": "[sheet]\ntitle = \n", "half.toml": head,
	} {
		for _, d := range []string{dir, elsewhere} {
			if err := os.WriteFile(filepath.Join(d, name), []byte(text), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	for link, to := range map[string]string{"out-shelf.toml": filepath.Join(elsewhere, "shelf.toml"), "out-sheet.toml": filepath.Join(elsewhere, "sheet.toml"), "dangling.toml": "nowhere"} {
		if err := os.Symlink(to, filepath.Join(dir, link)); err != nil {
			t.Fatal(err)
		}
	}
	r := NewReader(Options{Root: dir})
	defer r.Close()
	for name, want := range map[string]string{
		"shelf.toml": "", "house.toml": "", "other.toml": "", "noise.toml": "", "out-shelf.toml": "",
		"sheet.toml": "read", "broken.toml": "nothing is written after", "half.toml": "panel",
		"out-sheet.toml": "leads out of the folder", "dangling.toml": "there is no such file",
	} {
		s, kind, problems := r.ReadFound(name)
		got := ""
		for _, p := range problems {
			got += p.Key + ": " + p.Message + "\n"
		}
		if s != nil {
			got = "read"
		}
		if (kind == IsSheet) != (want != "") || !strings.Contains(got, want) || want == "" && got != "" {
			t.Errorf("%s is %s: %q, not %q", name, kind, got, want)
		}
		if want == "read" {
			continue
		}
		// What is told of a sheet that was come upon is what is told of one that was named.
		if _, named := r.Read(name); want != "" && (len(named) != len(problems) || named[0].Message != problems[0].Message) {
			t.Errorf("%s: named it is told %+v", name, named)
		}
	}
}
