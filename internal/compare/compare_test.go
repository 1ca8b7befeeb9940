package compare

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

const examplesDir = "../../specs-examples"

var builtin = sync.OnceValues(rulebook.Builtin)

// revision judges a text as if it were that example's.
func revision(t *testing.T, file, text string) Revision {
	t.Helper()
	book, err := builtin()
	if err != nil {
		t.Fatal(err)
	}
	s, problems := sheet.ReadText(sheet.Options{Root: examplesDir}, file, []byte(text))
	if len(problems) > 0 {
		t.Fatalf("%s does not read: %+v\n%s", file, problems, text)
	}
	doc, problems := stack.Build(s)
	if len(problems) > 0 {
		t.Fatalf("%s cannot be carried out: %+v", file, problems)
	}
	result, err := book.Judge(context.Background(), doc, s, rulebook.Options{Today: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	return NewRevision(s, []byte(text), doc, result)
}

func exampleText(t *testing.T, file string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(examplesDir, file))
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func exampleFiles(t *testing.T) []string {
	t.Helper()
	found, err := filepath.Glob(filepath.Join(examplesDir, "*", "*.toml"))
	if err != nil || len(found) == 0 {
		t.Fatal(err, "no examples")
	}
	for i, f := range found {
		found[i], _ = filepath.Rel(examplesDir, f)
	}
	return found
}

// cut parts a sheet into what stands before its first step and its steps.
func cut(text string) (head string, steps []string, tail string) {
	parts := strings.Split(text, "[[step]]\n")
	head, steps = parts[0], parts[1:]
	last := len(steps) - 1
	if i := strings.Index(steps[last], "\n[["); i >= 0 {
		steps[last], tail = steps[last][:i+1], steps[last][i+1:]
	}
	for i := range steps {
		steps[i] = "[[step]]\n" + steps[i]
	}
	return head, steps, tail
}

func ids(list []Told) []string {
	out := []string{}
	for _, f := range list {
		out = append(out, f.ID)
	}
	return out
}

func TestASheetComparedWithItselfHasNothingGoneNewOrChanged(t *testing.T) {
	for _, file := range exampleFiles(t) {
		r := revision(t, file, exampleText(t, file))
		c := Revisions(r, r)
		if len(c.Findings.Gone)+len(c.Findings.New)+len(c.Steps) > 0 || len(c.Findings.Kept) != len(r.Result.Findings)+len(r.Result.Waived) {
			t.Errorf("%s: gone %v, new %v, kept %d of %d, steps %+v", file, ids(c.Findings.Gone), ids(c.Findings.New), len(c.Findings.Kept), len(r.Result.Findings), c.Steps)
		}
		for _, k := range c.Findings.Kept {
			if k.Worse || k.Counts {
				t.Errorf("%s: %s is worse than itself", file, k.ID)
			}
		}
		changed := c.Clock.Elapsed.Changed || c.Litres.Changed
		for _, z := range c.Films {
			changed = changed || z.Change != "" || z.Paint.Changed || z.Filler.Changed || slices.ContainsFunc(z.Films, func(m Measured) bool { return m.Changed })
		}
		changed = changed || slices.ContainsFunc(c.Clock.Windows, Window.Changed) || slices.ContainsFunc(c.Voc, func(m Measured) bool { return m.Changed }) ||
			slices.ContainsFunc(c.Buy, func(b Bought) bool { return b.Changed })
		if changed {
			t.Errorf("%s: a measure differs from itself: %+v", file, c)
		}
	}
}

// Lines that move, comments, blank lines and steps that say nothing new, put in
// anywhere: every finding is known again, by comparing and from a baseline.
func TestFindingsAreKnownAgainAfterLinesMovedAndStepsWerePutIn(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2)) // the same places every time
	tried := 0
	for _, file := range exampleFiles(t) {
		text := exampleText(t, file)
		old := revision(t, file, text)
		if len(old.Result.Findings) == 0 {
			continue
		}
		head, steps, tail := cut(text)
		for range 4 {
			edited := "# a note for the foreman\n\n" + strings.ReplaceAll(head, "\n[booth]", "\n\n\n[booth]")
			put := random.IntN(len(steps) + 1)
			for i := range len(steps) + 1 {
				if i == put || random.IntN(6) == 0 {
					// Asks for nothing and changes nothing: the profile is looked at.
					edited += "[[step]]\ndo = \"inspect\"\nmeasure = [\"profile\"]\n\n"
				}
				if i < len(steps) {
					edited += steps[i]
				}
			}
			edited += tail
			now := revision(t, file, edited)
			tried++
			c := Revisions(old, now)
			if len(c.Findings.Gone)+len(c.Findings.New) > 0 {
				t.Errorf("%s, a step put in at %d: gone %v, new %v", file, put+1, ids(c.Findings.Gone), ids(c.Findings.New))
			}
			for _, k := range c.Findings.Kept {
				if k.Worse {
					t.Errorf("%s, a step put in at %d: %s counts as worse", file, put+1, k.ID)
				}
				if line := strings.Count(edited[:strings.Index(edited, "[[step]]")], "\n"); k.Step != nil && *k.Step > 0 && k.Line <= line && k.File == file {
					t.Errorf("%s: %s is told at line %d, over the steps", file, k.ID, k.Line)
				}
			}
			var base Baseline
			base.Add(file, old.Doc, old.Result.Findings)
			fresh, known, gone := base.Sorter().Sort(file, now.Doc, now.Result.Findings)
			if len(fresh) > 0 || gone > 0 || len(known) != len(old.Result.Findings) {
				t.Errorf("%s, a step put in at %d: the baseline knows %d of %d, and %d are gone", file, put+1, len(known), len(old.Result.Findings), gone)
			}
		}
	}
	if tried < 40 {
		t.Errorf("only %d edits were tried", tried)
	}
}

const door = `format = 1
[sheet]
title = "Door"
number = "T-1"
revision = "%s"
date = 2026-03-02
shelf = []
[booth]
air = "72 F"
panel = "70 F"
humidity = "45 %%"
[panel]
part = "door"
substrate = "mild steel"
area = "10 ft2"
[[zone]]
name = "%s"
area = "1 ft2"
[product.etch]
kind = "one-part acid primer"
film = "0.3-0.5 mil"
[product.fill]
kind = "body filler"
[product.epoxy]
kind = "epoxy primer"
mix = "1:1"
volume_solids = "50 %%"
film = "1.5-3 mil"
`

const etched = `[[step]]
do = "strip"
tool = "sander"
grit = "P80"
wear = ["particulate respirator", "gloves", "eye protection"]
[[step]]
do = "spray"
product = "etch"
call = "etch coat"
coats = 1
then_wait = "1 h"
wear = ["supplied-air respirator", "gloves", "eye protection", "coverall"]
`

const filled = `[[step]]
do = "spread"
product = "fill"
on = "%s"
thickness = "2 mm"
mix = "2 %%"
then_wait = "2 h"
wear = ["gloves", "eye protection", "coverall"]
`

func TestWhatWasPutRightIsGoneAndWhatWasBrokenIsNew(t *testing.T) {
	bad := fmt.Sprintf(door, "A", "dent") + etched + fmt.Sprintf(filled, "dent")
	good := strings.ReplaceAll(strings.Replace(bad, `revision = "A"`, `revision = "B"`, 1), `product = "etch"`, `product = "epoxy"`)
	c := Revisions(revision(t, "old.toml", bad), revision(t, "new.toml", good))
	const rule = "filler-on-acid-primer@dent/3:fill"
	if got := ids(c.Findings.Gone); !slices.Contains(got, rule) {
		t.Errorf("gone are %v", got)
	}
	back := Revisions(revision(t, "old.toml", good), revision(t, "new.toml", bad))
	if got := ids(back.Findings.New); !slices.Contains(got, rule) {
		t.Errorf("new are %v", got)
	}
	if c.Counts("fails") != 0 || back.Counts("fails") == 0 {
		t.Errorf("%d count when it is put right, %d when it is broken", c.Counts("fails"), back.Counts("fails"))
	}
	if len(c.Steps) != 1 || c.Steps[0].Change != "rewritten" || *c.Steps[0].Old != 2 || *c.Steps[0].New != 2 ||
		len(c.Steps[0].Keys) != 1 || c.Steps[0].Keys[0].Key != "product" || *c.Steps[0].Keys[0].Old != `"etch"` || *c.Steps[0].Keys[0].New != `"epoxy"` {
		t.Errorf("the steps: %+v", c.Steps)
	}
	if c.Old.Revision != "A" || c.New.Revision != "B" {
		t.Errorf("sides %+v and %+v", c.Old, c.New)
	}
}

func TestARenamedZoneKeepsItsFindings(t *testing.T) {
	old := fmt.Sprintf(door, "A", "dent") + etched + fmt.Sprintf(filled, "dent")
	renamed := fmt.Sprintf(door, "A", "low spot") + etched + fmt.Sprintf(filled, "low spot")
	c := Revisions(revision(t, "old.toml", old), revision(t, "new.toml", renamed))
	if len(c.Findings.Gone)+len(c.Findings.New) > 0 {
		t.Errorf("gone %v, new %v", ids(c.Findings.Gone), ids(c.Findings.New))
	}
	if len(c.Findings.Kept) == 0 {
		t.Error("nothing was found at all")
	}
}

func TestAFindingThatReachesAnotherZoneIsWorseAndCountsAgain(t *testing.T) {
	one := fmt.Sprintf(door, "A", "dent") + etched + fmt.Sprintf(filled, "dent")
	old, now := revision(t, "a.toml", one), revision(t, "a.toml", one)
	// Told for two zones at once, as verdicts are that differ in the zone alone.
	for i, f := range now.Result.Findings {
		if f.Rule == "filler-on-acid-primer" {
			now.Result.Findings[i].Zones = []string{"dent", "panel"}
		}
	}
	kept := func(c Comparison) *Kept {
		for i, k := range c.Findings.Kept {
			if k.Rule == "filler-on-acid-primer" {
				return &c.Findings.Kept[i]
			}
		}
		t.Fatalf("it is not kept: gone %v, new %v", ids(c.Findings.Gone), ids(c.Findings.New))
		return nil
	}
	if k := kept(Revisions(old, now)); !k.Worse || !k.Counts || len(k.Zones) != 2 || len(k.Was.Zones) != 1 {
		t.Errorf("one zone, then two: %+v was %+v", k.Told, k.Was)
	}
	if k := kept(Revisions(now, old)); k.Worse || k.Counts {
		t.Errorf("two zones, then one: %+v was %+v", k.Told, k.Was)
	}
	var base Baseline
	base.Add("a.toml", old.Doc, old.Result.Findings)
	fresh, _, _ := base.Sorter().Sort("a.toml", now.Doc, now.Result.Findings)
	if !slices.ContainsFunc(fresh, func(f rulebook.Finding) bool { return f.Rule == "filler-on-acid-primer" }) {
		t.Error("the baseline hides a zone it does not know")
	}
}

func TestAWaiverTakesAFindingOutAndItsEndBringsItBack(t *testing.T) {
	open := fmt.Sprintf(door, "A", "dent") + etched + fmt.Sprintf(filled, "dent")
	waived := open + "[[waiver]]\nrule = \"filler-on-acid-primer\"\nreason = \"test panel\"\n"
	a, b := revision(t, "a.toml", open), revision(t, "b.toml", waived)
	find := func(c Comparison) Kept {
		for _, k := range c.Findings.Kept {
			if k.Rule == "filler-on-acid-primer" {
				return k
			}
		}
		t.Fatal("it is not kept")
		return Kept{}
	}
	if k := find(Revisions(a, b)); !k.Waived || k.Was.Waived || k.Counts {
		t.Errorf("waived now: %+v", k)
	}
	if k := find(Revisions(b, a)); k.Waived || !k.Was.Waived || !k.Counts {
		t.Errorf("waived no more: %+v", k)
	}
}

func TestWhatIsMeasuredIsToldBeforeAndAfter(t *testing.T) {
	spray := func(film, wait string) string {
		return fmt.Sprintf("[[step]]\ndo = \"spray\"\nproduct = \"epoxy\"\ncoats = 2\nwet_film = %q\nthen_wait = %q\n", film, wait) +
			"[[step]]\ndo = \"spray\"\nproduct = \"epoxy\"\ncall = \"second\"\nwet_film = \"3 mil\"\nthen_wait = \"2 h\"\n"
	}
	head := strings.Replace(fmt.Sprintf(door, "A", "dent"), "kind = \"epoxy primer\"\n", "kind = \"epoxy primer\"\nvoc = \"250 g/L\"\nrecoat = \"1 h - 72 h\"\nflash_most = \"20 min\"\n", 1)
	c := Revisions(revision(t, "a.toml", head+spray("2 mil", "24 h")), revision(t, "b.toml", head+spray("3 mil", "30 h")))
	if v := c.Clock.Elapsed; !v.Changed || v.New.Lo-v.Old.Lo != 6 || v.New.Unit != "h" {
		t.Errorf("the clock: %+v and %+v", v.Old, v.New)
	}
	i := slices.IndexFunc(c.Clock.Windows, Window.Changed)
	if i < 0 {
		t.Fatalf("no wait is another now: %+v", c.Clock.Windows)
	}
	if w := c.Clock.Windows[i]; w.Wait.Old.Text != "24 h" || w.Wait.New.Text != "30 h" || w.Most.New.Text != "72 h" || len(w.Zones) != 2 {
		t.Errorf("the wait: %+v", w)
	}
	for _, z := range c.Films {
		// 2 coats of 2 mil, then of 3 mil, at half solids, and one coat of 3 mil.
		if z.Paint.Old.Text != "3.5 mil" || z.Paint.New.Text != "4.5 mil" || !z.Films[0].Changed || z.Films[1].Changed {
			t.Errorf("the films of %s: %+v %+v", z.Zone, z.Paint.Old, z.Paint.New)
		}
	}
	if len(c.Films) != 2 || len(c.Voc) == 0 || c.Voc[0].Old.Text != "250 g/L" {
		t.Errorf("zones %d, VOC %+v", len(c.Films), c.Voc)
	}
	if !c.Litres.Changed || len(c.Buy) == 0 || !c.Buy[0].Changed || c.Buy[0].Old.Metric == nil || c.Buy[0].New.US == nil {
		t.Errorf("to buy: %+v %+v", c.Litres, c.Buy)
	}
}

func TestTheSameTwoRevisionsCompareTheSame(t *testing.T) {
	old := revision(t, "bad/no-hardener.toml", exampleText(t, "bad/no-hardener.toml"))
	now := revision(t, "good/fender-collision.toml", exampleText(t, "good/fender-collision.toml"))
	first := fmt.Sprintf("%+v", deep(Revisions(old, now)))
	for range 5 {
		if fmt.Sprintf("%+v", deep(Revisions(old, now))) != first {
			t.Fatal("it differs from one time to the next")
		}
	}
}

// deep is a comparison without pointers, whose addresses would differ.
func deep(c Comparison) []string {
	var out []string
	for _, s := range c.Steps {
		out = append(out, s.Change+s.Name)
	}
	out = append(append(out, ids(c.Findings.New)...), ids(c.Findings.Gone)...)
	for _, z := range c.Films {
		for _, m := range z.Films {
			out = append(out, z.Zone+m.Name+m.text())
		}
	}
	for _, w := range c.Clock.Windows {
		out = append(out, w.Upper+w.Lower+w.Wait.text())
	}
	return out
}

// Sheets whose steps were taken out, doubled and exchanged at random: every
// finding of either side is told once; what is gone one way is new the other;
// and the baseline, which goes another way about it, agrees on what is new.
func TestEveryFindingIsToldOnceWhateverWasEdited(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4)) // the same edits every time
	tried, agreed := 0, 0
	for _, file := range exampleFiles(t) {
		text := exampleText(t, file)
		old := revision(t, file, text)
		head, steps, tail := cut(text)
		for range 4 {
			edited := slices.Clone(steps)
			at := random.IntN(len(edited))
			switch random.IntN(3) {
			case 0:
				edited = slices.Delete(edited, at, at+1)
			case 1:
				edited = slices.Insert(edited, at, strings.ReplaceAll(edited[at], "call = ", "# call = "))
			case 2:
				to := random.IntN(len(edited))
				edited[at], edited[to] = edited[to], edited[at]
			}
			s, problems := sheet.ReadText(sheet.Options{Root: examplesDir}, file, []byte(head+strings.Join(edited, "")+tail))
			if len(problems) > 0 {
				continue // a zone is used before the cut that makes it, say
			}
			if _, problems := stack.Build(s); len(problems) > 0 {
				continue
			}
			now := revision(t, file, head+strings.Join(edited, "")+tail)
			tried++
			c := Revisions(old, now)
			told := ids(c.Findings.New)
			for _, k := range c.Findings.Kept {
				told = append(told, k.ID)
			}
			var want []string
			for _, f := range slices.Concat(now.Result.Findings, now.Result.Waived) {
				want = append(want, f.ID)
			}
			slices.Sort(told)
			slices.Sort(want)
			if !slices.Equal(told, want) {
				t.Errorf("%s: told are %v of %v", file, told, want)
			}
			if n := len(c.Findings.Gone) + len(c.Findings.Kept); n < len(old.Result.Findings)+len(old.Result.Waived) {
				t.Errorf("%s: %d of %d old findings are told", file, n, len(old.Result.Findings))
			}
			back := Revisions(now, old)
			if len(back.Findings.New) != len(c.Findings.Gone) || len(back.Findings.Gone) != len(c.Findings.New) {
				t.Errorf("%s: gone %v and new %v, but the other way round new %v and gone %v", file,
					ids(c.Findings.Gone), ids(c.Findings.New), ids(back.Findings.New), ids(back.Findings.Gone))
			}
			var base Baseline
			base.Add(file, old.Doc, old.Result.Findings)
			fresh, _, _ := base.Sorter().Sort(file, now.Doc, now.Result.Findings)
			if len(fresh) == c.Counts("advice") {
				agreed++
			} else {
				t.Logf("%s: %d count by comparing, %d by the baseline", file, c.Counts("advice"), len(fresh))
			}
		}
	}
	if tried < 50 || agreed*10 < tried*9 {
		t.Errorf("%d edits were tried, and the baseline agreed on %d", tried, agreed)
	}
	t.Logf("%d edits were tried, and the baseline agreed on %d", tried, agreed)
}
