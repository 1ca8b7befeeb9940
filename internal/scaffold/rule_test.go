package main

import (
	"bytes"
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/policies"
)

// sound is a rule as somebody would ask for it, with texts that try the quoting.
func sound() rule {
	return rule{
		Family: "adhesion", Name: "epoxy-on-cast-iron", Title: "epoxy: \"2K\" lies on cast iron", Grade: "risk",
		Description: "Cast iron is full of small holes that hold oil, and the oil comes out under the film when it gets warm: the film lifts in spots. In the shop: warm the bare casting with a lamp and look for dark spots.",
		Defect:      "peeling, in spots", Remedy: "Bake the casting dry # then clean it twice.", Signal: "CAUTION",
		Caution: "Hot castings burn. Follow the safety data sheet, the local code and licensed practice.", Source: "common practice",
		Upper: "epoxy primer", Lower: "cast iron",
	}
}

// judge judges a sheet with every rule of a book.
func judge(t *testing.T, b *rulebook.Book, text string) rulebook.Judged {
	t.Helper()
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "sheet.toml", []byte(text))
	if len(problems) > 0 {
		return rulebook.Judged{Problems: problems}
	}
	d, problems := stack.Build(s)
	if len(problems) > 0 {
		return rulebook.Judged{Problems: problems}
	}
	r, err := b.Judge(context.Background(), d, s, rulebook.Options{Today: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	return rulebook.Judged{Result: r}
}

// What is written must pass the very check that every rule passes, in the whole
// rulebook, in every family and at every grade.
func TestWhatIsWrittenPassesTheProjectsOwnCheck(t *testing.T) {
	whole := fstest.MapFS{}
	err := fs.WalkDir(policies.Files, ".", func(p string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(policies.Files, p)
		whole[p] = &fstest.MapFile{Data: text}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ family, grade string }{{"adhesion", "risk"}, {"people", "fails"}, {"paper", "advice"}} {
		t.Run(c.family+" "+c.grade, func(t *testing.T) {
			r := sound()
			r.Family, r.Grade = c.family, c.grade
			if err := r.check(); err != nil {
				t.Fatal(err)
			}
			files, err := r.files()
			if err != nil {
				t.Fatal(err)
			}
			overlay := fstest.MapFS{}
			for name, f := range whole {
				overlay[name] = f
			}
			for name, text := range files {
				overlay[r.Family+"/"+r.Name+"/"+name] = &fstest.MapFile{Data: text}
			}
			b, err := rulebook.Load(overlay)
			if err != nil {
				t.Fatal(err)
			}
			faults, err := b.CheckRule(context.Background(), r.Name)
			if err != nil {
				t.Fatal(err)
			}
			more, err := b.CheckSheets(r.Name, judge(t, b, string(files["breaks.toml"])), judge(t, b, string(files["holds.toml"])))
			if err != nil {
				t.Fatal(err)
			}
			for _, p := range append(faults, more...) {
				t.Errorf("%s:%d: %s", p.Place.File, p.Place.Line, p.Message)
			}
			got, err := b.Rule(r.Name)
			if err != nil {
				t.Fatal(err)
			}
			if got.Title != r.Title || got.Description != r.Description || got.Remedy != r.Remedy || got.Defect != r.Defect || got.Safety.Text != r.Caution {
				t.Errorf("the texts do not come back as they went: %+v", got)
			}
		})
	}
}

func TestTheFolderIsWrittenOnceAndNoOtherIsTouched(t *testing.T) {
	dir := t.TempDir()
	args := []string{"-dir", dir, "-family", "adhesion", "-name", "epoxy-on-cast-iron", "-title", "t", "-description", "d", "-defect", "peeling", "-remedy", "r", "-caution", "c"}
	var out, errs bytes.Buffer
	if status := run(args, &out, &errs); status != 1 || !strings.Contains(errs.String(), "is not the folder of the rulebook") {
		t.Fatalf("status %d, said %q", status, errs.String())
	}
	if err := os.WriteFile(filepath.Join(dir, "guidecoat.rego"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	errs.Reset()
	if status := run(args, &out, &errs); status != 0 {
		t.Fatalf("status %d, said %q", status, errs.String())
	}
	for _, name := range []string{"rule.rego", "rule_test.rego", "breaks.toml", "holds.toml"} {
		if _, err := os.Stat(filepath.Join(dir, "adhesion", "epoxy-on-cast-iron", name)); err != nil {
			t.Error(err)
		}
	}
	if !strings.Contains(out.String(), "TestRules/adhesion/epoxy-on-cast-iron$") {
		t.Errorf("it does not say how to check the rule: %q", out.String())
	}
	again := append([]string(nil), args...)
	again[3] = "clock" // the name counts, whatever the family
	if status := run(again, &out, &errs); status != 1 || !strings.Contains(errs.String(), "there is a rule epoxy-on-cast-iron already") {
		t.Errorf("status %d, said %q", status, errs.String())
	}
}

func TestWhatIsMissingIsToldAtOnce(t *testing.T) {
	var out, errs bytes.Buffer
	if status := run([]string{"-family", "colour", "-name", "No Name", "-grade", "fatal"}, &out, &errs); status != 2 {
		t.Errorf("status %d", status)
	}
	for _, want := range []string{`-family "colour" is none of`, `-name "No Name" is no name`, `-grade "fatal" is none of`, "-title is empty", "-description is empty", "-defect is empty", "-remedy is empty", "-caution is empty"} {
		if !strings.Contains(errs.String(), want) {
			t.Errorf("%q is not told: %s", want, errs.String())
		}
	}
	if status := run([]string{"-colour"}, &out, &errs); status != 2 {
		t.Errorf("an unknown flag gives status %d", status)
	}
}
