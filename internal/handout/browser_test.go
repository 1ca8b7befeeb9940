package handout

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"guidecoat/internal/sheet"
)

// seenPage is what testdata/handout/check.mjs says of one page.
type seenPage struct {
	File  string
	Views map[string]struct {
		Steps, Drawings, Sections, Words int
		Stepper, Styled                  bool
		Wide                             []any // by how much it is wider than the screen, then what sticks out
		Heard, Faults                    []string
		Walked                           *walk
	}
	Printed map[string]*struct {
		Pages, Marked int
		Cut           []any
	}
}

// walk is what stepping through the build by keyboard showed.
type walk struct {
	First struct {
		Text   string
		InView bool
	}
	Skipped string
	Focus   struct {
		ID      string
		Outline bool
	}
	Steps                     int
	Start, Before, Next, Last []string
	StartSaid, NextSaid       string
	Faults                    []string
	Wide                      []any
	Drawn, All                int
	Back                      string
}

// browse has the pages opened in Chromium by node, the first few printed. It
// is skipped where one of them is missing; the continuous build has both.
func browse(t *testing.T, printed int, pages map[string][]byte, order ...string) map[string]seenPage {
	t.Helper()
	if testing.Short() {
		t.Skip("a browser takes long")
	}
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node here")
	}
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("no chromium here: apt-get install chromium")
	}
	dir := t.TempDir()
	args := []string{filepath.Join(root, "testdata/handout/check.mjs"), chromium, dir, fmt.Sprint(printed)}
	for _, name := range order {
		file := filepath.Join(dir, name+".html")
		if err := os.WriteFile(file, pages[name], 0o644); err != nil {
			t.Fatal(err)
		}
		args = append(args, file)
	}
	cmd := exec.Command(node, args...)
	var errs strings.Builder
	cmd.Stderr = &errs
	out, err := cmd.Output()
	var exit *exec.ExitError
	if errors.As(err, &exit) && exit.ExitCode() == 3 {
		t.Skip("the browser's driver is not installed: npm install --no-package-lock --prefix testdata/handout/node")
	}
	if err != nil {
		t.Fatalf("node check.mjs: %v\n%s", err, errs.String())
	}
	var seen []seenPage
	if err := json.Unmarshal(out, &seen); err != nil {
		t.Fatal(err)
	}
	byName := map[string]seenPage{}
	for _, s := range seen {
		byName[strings.TrimSuffix(s.File, ".html")] = s
	}
	return byName
}

var screens = []string{"phone", "phone without script", "desktop"}

func TestPagesAreReadableByEverybodyOnPhoneAndDesktopAndOnPaper(t *testing.T) {
	written, _ := hostileSheet()
	hostile, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "hostile.toml", []byte(written))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	sheets := map[string]*sheet.Sheet{
		"many-zones": read(t, "specs-examples/good/spot-rub-through.toml"),
		"hostile":    hostile,
		"empty":      readText(t, "format = 1\n[sheet]\ntitle = \"Nothing yet\"\n[panel]\nsubstrate = \"aluminum\"\n"),
	}
	pages := map[string][]byte{}
	for name, s := range sheets {
		pages[name] = write(t, input(t, s))
	}
	// A page that is wrong in every way looked for, so that looking is proved to find it.
	broken := strings.Replace(string(write(t, input(t, read(t, "specs-examples/bad/window-missed.toml")))), `<html lang="en">`, "<html>", 1)
	broken = strings.Replace(broken, "<main>", `<main><button></button><table width="3000"><tr><td>wide</td></tr></table><img src="http://nowhere.example/x.png"><p style="color:red">styled</p>`, 1)
	pages["broken"] = []byte(strings.Replace(broken, "break-inside: avoid;", "", 1))

	seen := browse(t, 2, pages, "many-zones", "broken", "hostile", "empty")
	for name, s := range sheets {
		for _, screen := range screens {
			v, ok := seen[name].Views[screen]
			if !ok {
				t.Fatalf("%s was not opened on %s", name, screen)
			}
			at := name + " on " + screen
			if v.Steps != len(s.Steps) || v.Sections != 9 || !v.Styled || v.Words < 500 {
				t.Errorf("%s: %d steps, %d sections, %d letters are seen, styled: %v", at, v.Steps, v.Sections, v.Words, v.Styled)
			}
			if len(s.Steps) > 3 && v.Drawings == 0 {
				t.Errorf("%s: no drawing is seen", at)
			}
			if want := len(s.Steps) > 0 && !strings.Contains(screen, "without"); v.Stepper != want {
				t.Errorf("%s: the stepper is seen: %v", at, v.Stepper)
			}
			if !reflect.DeepEqual(v.Wide, []any{0.0}) {
				t.Errorf("%s is wider than the screen: %v", at, v.Wide)
			}
			if len(v.Heard) > 0 {
				t.Errorf("%s: the browser says %q", at, v.Heard)
			}
			if len(v.Faults) > 0 {
				t.Errorf("%s: not for everybody: %q", at, v.Faults)
			}
			if len(s.Steps) > 1 && !strings.Contains(screen, "without") {
				walked(t, at, v.Walked, len(s.Steps))
			}
		}
	}
	checkControl(t, seen["broken"])
	for _, paper := range []string{"A4", "Letter"} {
		p, ok := seen["many-zones"].Printed[paper]
		switch {
		case !ok:
			t.Errorf("nothing was printed on %s", paper)
		case p == nil:
			t.Log("no pdftotext here: whether anything is cut on paper was not looked at")
		case p.Marked < 60 || p.Pages < 5 || len(p.Cut) > 0:
			t.Errorf("%s: of %d drawings, rows, cups and cards on %d pages are cut: %v", paper, p.Marked, p.Pages, p.Cut)
		}
	}
}

// walked: by keyboard alone, in view, said aloud, and back again.
func walked(t *testing.T, at string, w *walk, steps int) {
	t.Helper()
	if w == nil {
		t.Errorf("%s: nobody stepped through it", at)
		return
	}
	if w.First.Text != "Go to the steps" || !w.First.InView || w.Skipped != "#steps steps" {
		t.Errorf("%s: the first stop of the keyboard is %+v, and leads to %q", at, w.First, w.Skipped)
	}
	if w.Focus.ID != "walk-turn" || !w.Focus.Outline {
		t.Errorf("%s: after the skip comes %+v", at, w.Focus)
	}
	one := func(list []string, n int) bool {
		return len(list) == 1 && strings.HasPrefix(list[0], fmt.Sprintf("Step\n%d\n", n))
	}
	if !one(w.Start, 1) || !one(w.Before, 1) || !one(w.Next, 2) || !one(w.Last, steps) || w.All != steps || w.Back != "walk-turn" {
		t.Errorf("%s: stepping shows %q, %q, %q, %q, then %d of %d with the focus on %q", at, w.Start, w.Before, w.Next, w.Last, w.All, steps, w.Back)
	}
	if !strings.HasPrefix(w.StartSaid, fmt.Sprintf("Step 1 of %d: ", steps)) || !strings.HasPrefix(w.NextSaid, fmt.Sprintf("Step 2 of %d: ", steps)) {
		t.Errorf("%s: stepping says %q and %q", at, w.StartSaid, w.NextSaid)
	}
	if w.Drawn != 1 {
		t.Errorf("%s: at the last step %d drawings are seen", at, w.Drawn)
	}
	if len(w.Faults) > 0 || !reflect.DeepEqual(w.Wide, []any{0.0}) {
		t.Errorf("%s while stepping: %q, %v", at, w.Faults, w.Wide)
	}
}

// checkControl: what is wrong with the broken page was found.
func checkControl(t *testing.T, broken seenPage) {
	t.Helper()
	v := broken.Views["phone"]
	for _, want := range []string{"html-has-lang", "button-name", "image-alt"} {
		if !strings.Contains(strings.Join(v.Faults, "\n"), want) {
			t.Errorf("%s was not found on the broken page: %q", want, v.Faults)
		}
	}
	if len(v.Wide) < 2 || v.Wide[0] == 0.0 {
		t.Errorf("the broken page's width was not noticed: %v", v.Wide)
	}
	if heard := strings.Join(v.Heard, "\n"); strings.Count(heard, "Content Security Policy") < 2 {
		t.Errorf("the policy let the broken page do as it likes: %q", heard)
	}
	if p := broken.Printed["A4"]; p != nil && len(p.Cut) == 0 {
		t.Error("nothing is cut on the broken page's paper")
	}
}
