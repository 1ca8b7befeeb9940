package draft

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// examples is where the example shelf and house file lie.
var examples = filepath.Join("..", "..", "specs-examples")

var day = time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)

// shop is a shop that keeps its sheets in a folder.
func shop(t testing.TB, folder string) Shop {
	t.Helper()
	book, err := rulebook.Builtin()
	if err != nil {
		t.Fatal(err)
	}
	r := sheet.NewReader(sheet.Options{Root: folder, NoHouse: true})
	t.Cleanup(func() { _ = r.Close() })
	return Shop{Reader: r, File: "draft.toml", Book: book, Today: day}
}

// shelfOf makes a folder with a shelf of some products of the example shelf,
// their hardeners and reducers.
func shelfOf(t testing.TB, names ...string) string {
	t.Helper()
	text, err := os.ReadFile(filepath.Join(examples, "shelf.toml"))
	if err != nil {
		t.Fatal(err)
	}
	names = append(names, "epoxy-hardener", "urethane-hardener", "wash-activator", "slow-reducer", "lacquer-thinner")
	var b strings.Builder
	b.WriteString("format = 1\n")
	found := 0
	for _, card := range strings.Split(string(text), "\n[product.")[1:] {
		name, _, _ := strings.Cut(card, "]")
		main, _, _ := strings.Cut(name, ".")
		if slices.Contains(names, main) {
			b.WriteString("\n[product." + card)
			if main == name {
				found++
			}
		}
	}
	if found != len(names) {
		t.Fatalf("the example shelf has %d of %v", found, names)
	}
	return folderWith(t, b.String())
}

func folderWith(t testing.TB, shelf string) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "shelf.toml"), []byte(shelf), 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// onSteel is a wish for bare steel in fair weather.
func onSteel(e Ending) Wish {
	return Wish{Substrate: "mild steel", Ending: e, Work: "restoration", Air: "72 F", Panel: "70 F", Humidity: "45 %",
		Region: "us", Area: "14 ft2", Shelves: []string{"shelf.toml"}, Least: LeastDays}
}

func run(t testing.TB, w Wish, s Shop) Outcome {
	t.Helper()
	out, err := Run(context.Background(), w, s)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// reread reads, builds and judges the text of a drafted sheet afresh.
func reread(t testing.TB, s Shop, text string) (*sheet.Sheet, *stack.Document, []rulebook.Finding) {
	t.Helper()
	sh, problems := s.Reader.ReadText("again.toml", []byte(text))
	if len(problems) > 0 {
		t.Fatalf("the drafted sheet cannot be read: line %d: %s\n%s", problems[0].Place.Line, problems[0].Message, text)
	}
	doc, problems := stack.Build(sh)
	if len(problems) > 0 {
		t.Fatalf("the drafted sheet cannot be built: %s\n%s", problems[0].Message, text)
	}
	r, err := s.Book.Judge(context.Background(), doc, sh, rulebook.Options{Today: day, House: s.House})
	if err != nil {
		t.Fatal(err)
	}
	return sh, doc, r.Findings
}

// panels are jobs of all sorts; want is what has to be among what is laid.
var panels = []struct {
	name string
	wish func() Wish
	want []string
}{
	{"bare steel to metallic", func() Wish { return onSteel(Metallic) }, []string{"river-blue", "gloss-clear"}},
	{"pitted steel to primed", func() Wish { w := onSteel(Primed); w.Rust = "pitted"; return w }, nil},
	{"bare steel by way of epoxy and a surfacer", func() Wish {
		w := onSteel(Metallic)
		w.Lays = []string{"2K epoxy", "urethane surfacer"}
		return w
	}, []string{"grey-epoxy", "quick-surfacer", "river-blue", "gloss-clear"}},
	{"aluminum to a solid color", func() Wish { w := onSteel(Solid); w.Substrate = "aluminum"; return w }, nil},
	{"TPO to metallic in collision work", func() Wish {
		w := onSteel(Metallic)
		w.Substrate, w.Plastic, w.Work = "bare plastic", "TPO", "collision"
		return w
	}, []string{"plastic-grip", "river-blue", "gloss-clear"}},
	{"fiberglass to metallic", func() Wish { w := onSteel(Metallic); w.Substrate = "fiberglass"; return w }, nil},
	{"a sound factory finish to metallic with the least film", func() Wish {
		w := onSteel(Metallic)
		w.Carries, w.Least = []Carried{{Kind: "e-coat"}, {Kind: "factory finish"}}, LeastFilm
		return w
	}, []string{"river-blue", "gloss-clear"}},
	{"peeling enamel to a solid color", func() Wish {
		w := onSteel(Solid)
		w.Carries = []Carried{{Kind: "aged enamel", Condition: "peeling"}}
		return w
	}, nil},
	{"a dent in a factory finish in collision work", func() Wish {
		w := onSteel(Metallic)
		w.Work, w.Repair, w.Carries = "collision", "1 ft2", []Carried{{Kind: "factory finish"}}
		return w
	}, []string{"body-filler (dent)", "river-blue", "gloss-clear"}},
	{"a refinish too thick to keep in collision work", func() Wish {
		w := onSteel(Metallic)
		w.Work, w.Carries = "collision", []Carried{{Kind: "two-part refinish", Film: "11 mil"}}
		return w
	}, []string{"river-blue", "gloss-clear"}},
	{"e-coat to a solid color", func() Wish { w := onSteel(Solid); w.Carries = []Carried{{Kind: "e-coat"}}; return w }, nil},
	{"a cool booth", func() Wish { w := onSteel(Primed); w.Panel, w.Air = "62 F", "64 F"; return w }, nil},
	{"baked in collision work", func() Wish {
		w := onSteel(Metallic)
		w.Work, w.Bake = "collision", true
		return w
	}, nil},
}

func TestEveryDraftedSheetIsCleanWhenItIsReadAgain(t *testing.T) {
	for _, c := range panels {
		t.Run(c.name, func(t *testing.T) {
			s := shop(t, examples)
			out := run(t, c.wish(), s)
			if out.Best == nil {
				t.Fatalf("no sheet was drafted: %+v", out)
			}
			for _, layer := range c.want {
				if !slices.Contains(out.Best.Layers, layer) {
					t.Errorf("%s is not among %v", layer, out.Best.Layers)
				}
			}
			for _, way := range append([]Way{*out.Best}, out.Runners...) {
				sh, doc, findings := reread(t, s, way.Text)
				advice := 0
				for _, f := range findings {
					if rulebook.AtLeast(f.Grade, "risk") {
						t.Errorf("%v: %s: %s\n%s", way.Layers, f.Rule, f.Message, way.Text)
					} else {
						advice++
						if !strings.Contains(strings.ReplaceAll(way.Text, "\n# ", " "), f.Message) {
							t.Errorf("the sheet does not say that this is left to decide: %s", f.Message)
						}
					}
				}
				if advice != way.Cost.Advice {
					t.Errorf("%d pieces of advice are told and there are %d", way.Cost.Advice, advice)
				}
				costs(t, doc, way)
				onTheShelf(t, sh)
				if !strings.Contains(way.Text, "# A DRAFT, ") || !strings.Contains(strings.ReplaceAll(way.Text, "\n# ", " "), "safety data sheet") {
					t.Error("the sheet does not say that it is a draft, and what decides")
				}
				if strings.Contains(way.Text, "waiver") {
					t.Error("a draft waives nothing")
				}
			}
		})
	}
}

// costs holds what is told of a way's cost to its stack.
func costs(t *testing.T, doc *stack.Document, way Way) {
	t.Helper()
	film, passes := 0.0, 0
	for _, l := range doc.Layers {
		if !l.Existing && !l.Substrate && l.Traits.Class != "filler" {
			film += (l.FilmLaid.Lo + *l.FilmLaid.Hi) / 2
		}
	}
	for _, s := range doc.Steps {
		if slices.Contains([]string{"spray", "spread", "sand", "block", "scuff", "strip"}, s.Do) {
			passes++
		}
	}
	near := func(what string, told, is float64) {
		if told < is-0.02*is-1e-6 || told > is+0.02*is+1e-6 {
			t.Errorf("%s: %g is told, and the stack has %g\n%s", what, told, is, way.Text)
		}
	}
	near("minutes", way.Cost.Minutes, doc.Sheet.Elapsed.Lo)
	near("film", way.Cost.Film, film)
	near("passes", float64(way.Cost.Passes), float64(passes))
	near("steps", float64(way.Cost.Steps), float64(len(doc.Steps)))
	if doc.Sheet.Litres == nil {
		t.Errorf("no litres\n%s", way.Text)
		return
	}
	near("litres", *way.Cost.Litres, (doc.Sheet.Litres.Lo+*doc.Sheet.Litres.Hi)/2)
}

// onTheShelf: every product a sheet names has a card; soap and water is no product.
func onTheShelf(t *testing.T, sh *sheet.Sheet) {
	t.Helper()
	for _, st := range sh.Steps {
		for _, name := range []string{st.Product.Value, st.With.Value, st.Hardener.Value, st.Reducer.Value} {
			if name != "" && name != "soap and water" && sh.Cards[name] == nil {
				t.Errorf("step %d uses %q, which is not on the shelf", st.N, name)
			}
		}
	}
}

func TestTheSameWishGivesTheSameBytes(t *testing.T) {
	w := onSteel(Metallic)
	var told [2][]byte
	for i := range told {
		raw, err := json.Marshal(run(t, w, shop(t, examples)))
		if err != nil {
			t.Fatal(err)
		}
		told[i] = raw
	}
	if !bytes.Equal(told[0], told[1]) {
		t.Errorf("two searches differ:\n%s\n%s", told[0], told[1])
	}
}

func TestWhatIsMissingIsNamedByKind(t *testing.T) {
	for _, c := range []struct {
		name  string
		shelf []string
		wish  func() Wish
		want  string
	}{
		{"no clear", []string{"grey-epoxy", "river-blue", "degreaser"}, func() Wish { return onSteel(Metallic) }, "urethane clear"},
		{"no metallic", []string{"grey-epoxy", "chalk-white", "gloss-clear", "degreaser"}, func() Wish { return onSteel(Metallic) }, "metallic or pearl basecoat"},
		{"no primer that holds out water", []string{"wash", "etch", "degreaser"}, func() Wish { return onSteel(Primed) }, "epoxy primer"},
		{"no filler", []string{"grey-epoxy", "quick-surfacer", "cab-black", "degreaser"}, func() Wish { w := onSteel(Solid); w.Repair = "1 ft2"; return w }, "body filler"},
		{"no epoxy where one is asked for", []string{"wash", "quick-surfacer", "cab-black", "degreaser"}, func() Wish { w := onSteel(Solid); w.Lays = []string{"epoxy primer"}; return w }, "epoxy primer"},
		{"no filler that bends", []string{"plastic-grip", "body-filler", "quick-surfacer", "cab-black", "plastic-wash"}, func() Wish {
			w := onSteel(Solid)
			w.Substrate, w.Plastic, w.Repair = "bare plastic", "TPO", "1 ft2"
			return w
		}, "plastic repair filler"},
		{"no cleaner", []string{"grey-epoxy"}, func() Wish { return onSteel(Primed) }, "wax and grease remover"},
		{"no promoter", []string{"quick-surfacer", "cab-black", "plastic-wash"}, func() Wish {
			w := onSteel(Solid)
			w.Substrate, w.Plastic = "bare plastic", "TPO"
			return w
		}, "adhesion promoter"},
	} {
		t.Run(c.name, func(t *testing.T) {
			out := run(t, c.wish(), shop(t, shelfOf(t, c.shelf...)))
			if out.Best != nil {
				t.Fatalf("a sheet was drafted:\n%s", out.Best.Text)
			}
			missing := out.Missing
			for _, r := range out.Reasons {
				missing = append(missing, r.Missing...)
			}
			if !strings.Contains(strings.Join(missing, "; "), c.want) {
				t.Errorf("%q is not named: %+v", c.want, out)
			}
		})
	}
}

func TestWhereNothingPassesTheFewestVerdictsAreTold(t *testing.T) {
	w := onSteel(Primed)
	w.Panel, w.Air = "48 F", "50 F" // under the card's 60 °F
	out := run(t, w, shop(t, shelfOf(t, "grey-epoxy", "degreaser")))
	if out.Best != nil || out.Reached {
		t.Fatalf("a sheet was drafted, or the bound was reached: %+v", out)
	}
	var rules []string
	for _, r := range out.Reasons {
		rules = append(rules, r.Rule)
	}
	if !slices.Contains(rules, "too-cold") || slices.Contains(rules, "bare-metal-not-degreased") || len(out.Nearest) != 1 {
		t.Errorf("the reasons are %v, of %v; only the cold stands in the way", rules, out.Nearest)
	}
}

func TestTheBoundIsKeptAndTold(t *testing.T) {
	s := shop(t, examples)
	s.Budget = 7
	w := onSteel(Metallic)
	w.Repair = "1 ft2"
	out := run(t, w, s)
	if out.Best != nil || !out.Reached || out.Judged != 7 || out.Bound != 7 {
		t.Errorf("seven sheets may be judged, and none of them is whole: %+v", out)
	}
}

func TestNoWaitIsShorterThanTheCardHasItInThisWeather(t *testing.T) {
	for _, c := range []struct{ panel, wait string }{
		{"70 F", "1 h"}, // the card's own, which holds between 68 and 77 °F
		// 62 °F is 3.33 °C under 68 °F: 2^(3.33/10) × 60 min = 75.6 min, read off a clock in steps of five.
		{"62 F", "80 min"},
	} {
		w := onSteel(Solid)
		w.Panel, w.Air = c.panel, "64 F"
		s := shop(t, shelfOf(t, "grey-epoxy", "cab-black", "degreaser"))
		out := run(t, w, s)
		if out.Best == nil || out.Best.Layers[0] != "grey-epoxy" {
			t.Fatalf("%s: %+v", c.panel, out)
		}
		sh, _, _ := reread(t, s, out.Best.Text)
		i := slices.IndexFunc(sh.Steps, func(st sheet.Step) bool { return st.Product.Value == "grey-epoxy" })
		if got := sh.Steps[i].ThenWait.Text; got != c.wait {
			t.Errorf("at %s the epoxy is left for %s before the color; it wants %s", c.panel, got, c.wait)
		}
		told := strings.ReplaceAll(out.Best.Text, "\n# ", " ")
		if why := "Then left for " + c.wait + ", till the next film may go on it"; !strings.Contains(told, why) {
			t.Errorf("at %s the sheet does not say why it waits", c.panel)
		}
		if cold := strings.Contains(told, "; in this cold that is longer"); cold != (c.panel == "62 F") {
			t.Errorf("at %s the cold is told: %v", c.panel, cold)
		}
	}
}

func TestAWrongWishIsToldByItsFlag(t *testing.T) {
	for _, c := range []struct {
		name, flag, says string
		change           func(*Wish)
	}{
		{"an unknown substrate", "substrate", "mild steel", func(w *Wish) { w.Substrate = "mild steal" }},
		{"an unknown film", "carries", "e-coat", func(w *Wish) { w.Carries = []Carried{{Kind: "e-cote"}} }},
		{"an unknown condition", "carries", "peeling", func(w *Wish) { w.Carries = []Carried{{Kind: "e-coat", Condition: "pealing"}} }},
		{"an unknown plastic", "plastic", "TPO", func(w *Wish) { w.Substrate, w.Plastic = "bare plastic", "TPX" }},
		{"an area without a unit", "area", "ft2", func(w *Wish) { w.Area = "14" }},
		{"air in feet", "air", "F", func(w *Wish) { w.Air = "72 ft2" }},
		{"litres without an area", "least", "--area", func(w *Wish) { w.Area, w.Least = "", LeastLitres }},
		{"no substrate", "substrate", "needed", func(w *Wish) { w.Substrate = "" }},
		{"a color that is not there", "color", "river-blue", func(w *Wish) { w.Color = "sky" }},
		{"a dent larger than the panel", "repair", "panel", func(w *Wish) { w.Repair = "20 ft2" }},
		{"an unknown kind to lay", "lays", "epoxy primer", func(w *Wish) { w.Lays = []string{"epoxy primr"} }},
		{"a clear asked for beneath", "lays", "--ending", func(w *Wish) { w.Lays = []string{"urethane clear"} }},
		{"a depth without a dent", "deep", "--repair", func(w *Wish) { w.Deep = "2 mm" }},
		{"a depth without a unit", "deep", "mm", func(w *Wish) { w.Repair, w.Deep = "1 ft2", "2" }},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := onSteel(Metallic)
			c.change(&w)
			_, err := Run(context.Background(), w, shop(t, examples))
			var flag *FlagError
			if !errors.As(err, &flag) {
				t.Fatalf("the error is %v", err)
			}
			if flag.Flag != c.flag || !strings.Contains(flag.Message, c.says) {
				t.Errorf("--%s: %s; wanted --%s and %q in it", flag.Flag, flag.Message, c.flag, c.says)
			}
		})
	}
}

func TestAShelfThatCannotBeReadIsToldByItsFile(t *testing.T) {
	_, err := Run(context.Background(), onSteel(Metallic), shop(t, folderWith(t, "format = 1\n[product.x]\nkind = \"epoxie\"\n")))
	var file *FileError
	if !errors.As(err, &file) || file.Problems[0].Place.File != "shelf.toml" {
		t.Fatalf("the error is %v", err)
	}
}

func TestWhatAPanelCarriesIsReadAsAPersonSaysIt(t *testing.T) {
	got, err := ParseCarried("two-part refinish, 6-8 mil, chalking")
	if want := (Carried{Kind: "two-part refinish", Film: "6-8 mil", Condition: "chalking"}); err != nil || got != want {
		t.Errorf("%+v, %v", got, err)
	}
	for _, wrong := range []string{"", ", peeling", "e-coat,", "e-coat, peeling, sound", "e-coat, 1 mil, 2 mil"} {
		if _, err := ParseCarried(wrong); err == nil {
			t.Errorf("%q is read", wrong)
		}
	}
}
