package handout

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"golang.org/x/net/html"

	"guidecoat/internal/plan"
	"guidecoat/internal/report"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

const root = "../.."

var today = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

// input judges a sheet as the program does.
func input(t testing.TB, s *sheet.Sheet) Input {
	t.Helper()
	doc, problems := stack.Build(s)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	book, err := rulebook.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	result, err := book.Judge(context.Background(), doc, s, rulebook.Options{Today: today})
	if err != nil {
		t.Fatal(err)
	}
	days, err := plan.Days(doc, plan.Options{From: time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC), Day: plan.Day{Opens: 480, Shuts: 1020}})
	if err != nil {
		t.Fatal(err)
	}
	return Input{
		Judged: report.Judged{File: s.File, Title: s.Title.Value, Sheet: s, Doc: doc, Result: result},
		Plan:   days, Whose: "as asked", Version: "0.0.0",
	}
}

func read(t testing.TB, file string) *sheet.Sheet {
	t.Helper()
	r := sheet.NewReader(sheet.Options{Root: root})
	defer func() { _ = r.Close() }()
	s, problems := r.Read(file)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return s
}

func readText(t testing.TB, text string) *sheet.Sheet {
	t.Helper()
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "test.toml", []byte(text))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return s
}

// write is the page of a sheet, as bytes.
func write(t testing.TB, in Input) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, in); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func parse(t testing.TB, text []byte) *html.Node {
	t.Helper()
	n, err := html.Parse(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// all are the elements of some names under a node, in order; no name: every one.
func all(n *html.Node, names ...string) (list []*html.Node) {
	for d := range n.Descendants() {
		if d.Type == html.ElementNode && (len(names) == 0 || slices.Contains(names, d.Data)) {
			list = append(list, d)
		}
	}
	return list
}

func attr(n *html.Node, name string) string {
	for _, a := range n.Attr {
		if a.Key == name {
			return a.Val
		}
	}
	return ""
}

// text is what is written under a node, its spaces made one.
func text(n *html.Node) string {
	var b strings.Builder
	for d := range n.Descendants() {
		if d.Type == html.TextNode {
			b.WriteString(d.Data + " ")
		}
	}
	return strings.Join(strings.Fields(b.String()), " ")
}

func byID(t testing.TB, n *html.Node, id string) *html.Node {
	t.Helper()
	for _, d := range all(n) {
		if attr(d, "id") == id {
			return d
		}
	}
	t.Fatalf("nothing on the page has the id %q", id)
	return nil
}

func examples(t testing.TB) (files []string) {
	t.Helper()
	for _, pattern := range []string{"specs-examples/good/*.toml", "specs-examples/bad/*.toml"} {
		found, err := filepath.Glob(filepath.Join(root, pattern))
		if err != nil || len(found) == 0 {
			t.Fatal(pattern, err)
		}
		for _, f := range found {
			rel, err := filepath.Rel(root, f)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, filepath.ToSlash(rel))
		}
	}
	return files
}

// sound is what holds for every page: one of each, in order, pointing inward,
// with nothing but the style and the script that its policy names.
func sound(t *testing.T, page []byte) {
	t.Helper()
	doc := parse(t, page)
	if n := len(all(doc, "h1")); n != 1 {
		t.Errorf("there are %d h1", n)
	}
	for _, name := range []string{"header", "nav", "main", "footer", "style", "script", "title"} {
		n := 0
		for _, e := range all(doc, name) {
			if e.Namespace == "" { // a drawing has its own title
				n++
			}
		}
		if n != 1 {
			t.Errorf("there are %d %s", n, name)
		}
	}
	level := 0
	for _, h := range all(doc, "h1", "h2", "h3", "h4", "h5", "h6") {
		now := int(h.Data[1] - '0')
		if now > level+1 {
			t.Errorf("heading %q is %s after h%d", text(h), h.Data, level)
		}
		level = now
	}
	ids := map[string]bool{}
	for _, e := range all(doc) {
		if id := attr(e, "id"); id != "" {
			if ids[id] {
				t.Errorf("the id %q stands twice", id)
			}
			ids[id] = true
		}
	}
	for _, e := range all(doc) {
		for _, a := range e.Attr {
			switch {
			case strings.HasPrefix(a.Key, "on"), a.Key == "style":
				t.Errorf("<%s> has the attribute %s", e.Data, a.Key)
			case a.Key == "href":
				if to, ok := strings.CutPrefix(a.Val, "#"); !ok || !ids[to] {
					t.Errorf("<%s> leads to %q", e.Data, a.Val)
				}
			case slices.Contains([]string{"src", "srcset", "action", "data", "background", "poster", "ping"}, a.Key):
				t.Errorf("<%s> fetches by %s", e.Data, a.Key)
			case a.Key == "aria-labelledby" || a.Key == "aria-describedby":
				for _, id := range strings.Fields(a.Val) {
					if !ids[id] {
						t.Errorf("<%s> is named by %q, which is not there", e.Data, id)
					}
				}
			case strings.Contains(a.Val, "url("):
				if to := strings.TrimSuffix(strings.TrimPrefix(a.Val, "url(#"), ")"); !ids[to] {
					t.Errorf("<%s %s> fetches %q", e.Data, a.Key, a.Val)
				}
			}
		}
		if slices.Contains([]string{"img", "iframe", "object", "embed", "link", "base", "form", "video", "audio", "foreignobject", "use", "image"}, strings.ToLower(e.Data)) {
			t.Errorf("there is a <%s>", e.Data)
		}
	}
	if lang := attr(all(doc, "html")[0], "lang"); lang != "en" {
		t.Errorf("the page's language is %q", lang)
	}
	for _, table := range all(doc, "table") {
		if len(all(table, "caption")) != 1 {
			t.Errorf("a table has no caption: %q", text(table))
		}
		for _, th := range all(table, "th") {
			if attr(th, "scope") == "" {
				t.Errorf("the heading %q has no scope", text(th))
			}
		}
	}
	for _, f := range all(doc, "figure") {
		if len(all(f, "figcaption")) != 1 || len(all(f, "svg")) == 0 {
			t.Errorf("a figure has no caption or no drawing: %q", text(f))
		}
	}
	for _, svg := range all(doc, "svg") {
		if attr(svg, "role") != "img" || len(all(svg, "title")) != 1 || len(all(svg, "desc")) != 1 || text(all(svg, "desc")[0]) == "" {
			t.Errorf("a drawing does not say what it shows")
		}
	}
	policed(t, doc)
	if last := text(byID(t, doc, "sources")); !strings.Contains(last, "Nothing here says that the work is safe") {
		t.Error("the page does not end with the line that nothing says the work is safe")
	}
}

// policed: the policy lets in this style and this script and nothing else.
func policed(t *testing.T, doc *html.Node) {
	t.Helper()
	policy := ""
	for _, m := range all(doc, "meta") {
		if attr(m, "http-equiv") == "Content-Security-Policy" {
			policy = attr(m, "content")
		}
	}
	want := map[string]string{
		"default-src": "'none'", "base-uri": "'none'", "form-action": "'none'",
		"style-src": "'" + hashOf(all(doc, "style")[0].FirstChild.Data) + "'", "script-src": "'" + hashOf(all(doc, "script")[0].FirstChild.Data) + "'",
	}
	got := map[string]string{}
	for _, d := range strings.Split(policy, ";") {
		name, value, _ := strings.Cut(strings.TrimSpace(d), " ")
		got[name] = value
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("the policy is %v, want %v", got, want)
	}
}

func TestEveryExampleBecomesASoundPage(t *testing.T) {
	files := append(examples(t), "testdata/sheet/full.toml")
	for _, f := range files {
		t.Run(filepath.Base(f), func(t *testing.T) {
			in := input(t, read(t, f))
			page := write(t, in)
			sound(t, page)
			if again := write(t, in); !bytes.Equal(page, again) {
				t.Error("the same sheet gives other bytes the second time")
			}
			doc := parse(t, page)
			if n := len(in.Judged.Sheet.Steps); len(byClass(doc, "step")) != n {
				t.Errorf("%d steps are on the page, the sheet has %d", len(byClass(doc, "step")), n)
			}
			places := 0
			for _, f := range byClass(doc, "finding") {
				places += len(all(byClass(f, "places")[0], "li"))
			}
			if places != len(in.Judged.Result.Findings) {
				t.Errorf("%d findings are taught, %d were found", places, len(in.Judged.Result.Findings))
			}
			for _, f := range in.Judged.Result.Findings {
				if !strings.Contains(text(byID(t, doc, "findings")), strings.Join(strings.Fields(f.Message), " ")) {
					t.Errorf("%q is not told", f.Message)
				}
			}
		})
	}
}

func byClass(n *html.Node, class string) (list []*html.Node) {
	for _, e := range all(n) {
		if slices.Contains(strings.Fields(attr(e, "class")), class) {
			list = append(list, e)
		}
	}
	return list
}

func TestAStepTellsItsWordsItsProtectionAndWhatItLeaves(t *testing.T) {
	doc := parse(t, write(t, input(t, read(t, "specs-examples/good/door-bare-steel.toml"))))
	eight := byID(t, doc, "step-8")
	for _, want := range []string{
		"Spray Grey epoxy 20", "Two closed coats on bright clean steel.",
		"Spray 2 coats of Grey epoxy 20 (epoxy primer), 2.5 mil wet each, 20 min between coats.",
		"On everything (dent, panel)", "Mix 1:1, hardener Epoxy hardener 20", "Stands after mixing 20 min", "Then wait 24 h",
		"Wear supplied-air respirator gloves eye protection coverall", "DANGER Flammable:", "WARNING Epoxy hardener:", heed, "After step 8",
	} {
		if !strings.Contains(text(eight), want) {
			t.Errorf("step 8 does not say %q:\n%s", want, text(eight))
		}
	}
	// 2 coats of 2.5 mil at 50 % solids are 2.5 mil dry.
	if desc := text(all(eight, "desc")[0]); !strings.Contains(desc, "Grey epoxy 20 (epoxy primer), step 8, 2.5 mil") {
		t.Errorf("the drawing after step 8 shows %q", desc)
	}
	if four := text(byID(t, doc, "step-4")); !strings.Contains(four, "no protection is written on the sheet for this step") {
		t.Errorf("step 4 writes no protection, and the page says %q", four)
	}
}

func TestADrawingComesAfterEveryStepThatChangesTheFilmsAndAfterNoOther(t *testing.T) {
	doc := parse(t, write(t, input(t, read(t, "specs-examples/good/door-bare-steel.toml"))))
	// Stripping, laying, sanding and blocking change the films or the tooth;
	// wiping, blowing off, measuring and hammering bare metal do not.
	want := []int{3, 6, 8, 9, 11, 12, 13, 16, 17, 18, 21, 22, 23}
	var got []int
	for i, s := range byClass(doc, "step") {
		if len(all(s, "figure")) > 0 {
			got = append(got, i+1)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("drawings after %v, want %v", got, want)
	}
}

func TestAFindingIsTaughtWhereItIsAndMarkedInTheDrawing(t *testing.T) {
	doc := parse(t, write(t, input(t, read(t, "specs-examples/bad/filler-over-etch.toml"))))
	first := text(byID(t, doc, "finding-1"))
	for _, want := range []string{
		"Filler on acid primer fails", "Step 4 : Body filler L (body filler) lies on Etch 1 (one-part acid primer)",
		"What happens Filler sets because its", "What you see It looks like filler coming away as a plate",
		"It becomes delamination", "How to tell In the shop: tap the repair", "What to do Take the acid primer", "WARNING Grinding acid primer", "Source common practice",
	} {
		if !strings.Contains(first, want) {
			t.Errorf("the finding does not say %q:\n%s", want, first)
		}
	}
	four := byID(t, doc, "step-4")
	if !strings.Contains(text(four), "fails Body filler L (body filler) lies on Etch 1 (one-part acid primer): finding 1") {
		t.Errorf("step 4 does not lead to its finding: %s", text(four))
	}
	if drawn := text(all(four, "svg")[0]); !strings.Contains(drawn, "[filler-on-acid-primer]") {
		t.Errorf("the drawing after step 4 does not mark the contact: %s", drawn)
	}
	if five := text(byID(t, doc, "step-5-drawing")); strings.Contains(five, "[filler-on-acid-primer]") {
		t.Error("the contact is marked again after step 5")
	}
	if end := text(byID(t, doc, "end-drawing")); !strings.Contains(end, "[filler-on-acid-primer]") {
		t.Error("the stack at the end does not mark the contact")
	}
	if verdict := text(byClass(doc, "verdict")[0]); !strings.Contains(verdict, "1 that fails") || !strings.Contains(verdict, "before a gun is loaded") {
		t.Errorf("the head says %q", verdict)
	}
}

// A fault of a wipe stands on the open face that was wiped, before any film
// covers it.
func TestAFindingAboutAnOpenFaceIsDrawnAtItsOwnStep(t *testing.T) {
	doc := parse(t, write(t, input(t, read(t, "specs-examples/bad/water-on-steel.toml"))))
	two := byID(t, doc, "step-2")
	drawn := all(two, "svg")
	if len(drawn) != 1 || !strings.Contains(text(drawn[0]), "[water-on-bare-steel]") || !strings.Contains(text(drawn[0]), "mild steel") {
		t.Errorf("step 2 is drawn as %q", text(two))
	}
	if three := byID(t, doc, "step-3"); len(all(three, "svg")) > 0 {
		t.Error("the next wipe, which nothing is wrong with, is drawn")
	}
}

func TestTheClockTheCupsAndTheProductsAreThere(t *testing.T) {
	doc := parse(t, write(t, input(t, read(t, "specs-examples/good/door-bare-steel.toml"))))
	for id, wants := range map[string][]string{
		"clock":    {"Work begins Mon 2 Mar 08:00 2026 (as asked)", "until Thu 5 Mar 11:00", "46 h before the last moment", "The days, with every window"},
		"cup-8":    {"base Grey epoxy 20", "hardener Epoxy hardener 20", "in all", "Pot life 8 h", "VOC as applied 420 g/L"},
		"products": {"Grey epoxy 20", "Next film filler 12 h - 7 days, paint 1 h - 72 h", "Data sheet T-020, issued 2025-06-01", "Mind epoxy hardener, flammable"},
		"job":      {"Part front door", "Made of mild steel", "It carries factory finish", "Air 72 F", "dent repair 1.5 ft2"},
		"cautions": {"Have ready coverall, eye protection", "DANGER Flammable.", "Isocyanate.", heed},
		"sources":  {"data sheet T-020, issued 2025-06-01, checked 2026-01-12", "Caution: isocyanate", "NIOSH 96-111", "VOC limits of us", heed},
	} {
		got := text(byID(t, doc, id))
		for _, want := range wants {
			if !strings.Contains(got, want) {
				t.Errorf("%s does not say %q:\n%s", id, want, got)
			}
		}
	}
}

func TestAWaivedFindingIsToldWithWhoTookItOnAndItsCaution(t *testing.T) {
	bad, err := os.ReadFile(filepath.Join(root, "specs-examples/bad/no-air-no-booth.toml"))
	if err != nil {
		t.Fatal(err)
	}
	waived := string(bad) + `
[[waiver]]
rule = "isocyanate-without-supplied-air"
reason = "a brushed test chip under the hood"
by = "foreman"
until = 2026-04-01
`
	r := sheet.NewReader(sheet.Options{Root: root})
	defer func() { _ = r.Close() }()
	s, problems := r.ReadText("specs-examples/bad/waived.toml", []byte(waived))
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	in := input(t, s)
	if len(in.Judged.Result.Waived) == 0 {
		t.Fatal("nothing is waived")
	}
	page := write(t, in)
	sound(t, page)
	got := text(byID(t, parse(t, page), "findings"))
	for _, want := range []string{"Waived", "set aside because: a brushed test chip under the hood; by foreman; until 2026-04-01", "WARNING Isocyanate mist can cause serious"} {
		if !strings.Contains(got, want) {
			t.Errorf("the page does not say %q:\n%s", want, got)
		}
	}
}

func TestASheetWithoutStepsIsAPageToo(t *testing.T) {
	page := write(t, input(t, readText(t, "format = 1\n[sheet]\ntitle = \"Nothing yet\"\n[panel]\nsubstrate = \"aluminum\"\n")))
	sound(t, page)
	if got := text(byID(t, parse(t, page), "steps")); !strings.Contains(got, "The sheet has no steps.") {
		t.Errorf("the page says %q", got)
	}
}

func TestTooManyDrawingsAreLeftOutAndThatIsSaid(t *testing.T) {
	var b strings.Builder
	b.WriteString("format = 1\n[sheet]\ntitle = \"Long\"\n[panel]\nsubstrate = \"mild steel\"\n")
	for range mostDrawn + 1 {
		b.WriteString("[[step]]\ndo = \"sand\"\ngrit = \"P80\"\n")
	}
	page := write(t, input(t, readText(t, b.String())))
	sound(t, page)
	doc := parse(t, page)
	if got := text(byID(t, doc, "steps")); !strings.Contains(got, "too many to draw after each") {
		t.Error("the page does not say that drawings are left out")
	}
	if n := len(all(byID(t, doc, "steps"), "figure")); n > 0 {
		t.Errorf("%d drawings are there all the same", n)
	}
	byID(t, doc, "end-drawing")
}
