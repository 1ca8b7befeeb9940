package draft

import (
	"flag"
	"fmt"
	"strings"
	"testing"
	"text/tabwriter"
	"time"

	"guidecoat/internal/rulebook"
)

var matrix = flag.String("matrix", "", "draft for every panel, ending and kind of work with the example shelf, at the least of these (days,film,passes,litres), and print the table")

// matrixPanels are the panels of the table.
var matrixPanels = []struct {
	name string
	set  func(*Wish)
}{
	{"mild steel", func(w *Wish) {}},
	{"mild steel, light rust", func(w *Wish) { w.Rust = "light" }},
	{"mild steel, pitted", func(w *Wish) { w.Rust = "pitted" }},
	{"galvanized steel", func(w *Wish) { w.Substrate = "galvanized steel" }},
	{"aluminum", func(w *Wish) { w.Substrate = "aluminum" }},
	{"stainless steel", func(w *Wish) { w.Substrate = "stainless steel" }},
	{"cast iron", func(w *Wish) { w.Substrate = "cast iron" }},
	{"fiberglass", func(w *Wish) { w.Substrate = "fiberglass" }},
	{"sheet molding compound", func(w *Wish) { w.Substrate = "sheet molding compound" }},
	{"TPO", func(w *Wish) { w.Substrate, w.Plastic = "bare plastic", "TPO" }},
	{"ABS", func(w *Wish) { w.Substrate, w.Plastic = "bare plastic", "ABS" }},
	{"plastic, not said which", func(w *Wish) { w.Substrate = "bare plastic" }},
	{"e-coat", func(w *Wish) { w.Carries = []Carried{{Kind: "e-coat"}} }},
	{"e-coat, factory finish", func(w *Wish) { w.Carries = []Carried{{Kind: "e-coat"}, {Kind: "factory finish"}} }},
	{"two-part refinish", func(w *Wish) { w.Carries = []Carried{{Kind: "two-part refinish"}} }},
	{"aged lacquer", func(w *Wish) { w.Carries = []Carried{{Kind: "aged lacquer"}} }},
	{"aged enamel, peeling", func(w *Wish) { w.Carries = []Carried{{Kind: "aged enamel", Condition: "peeling"}} }},
	{"aged enamel", func(w *Wish) { w.Carries = []Carried{{Kind: "aged enamel"}} }},
	{"unknown finish", func(w *Wish) { w.Carries = []Carried{{Kind: "unknown finish"}} }},
	{"factory finish, a dent", func(w *Wish) { w.Carries, w.Repair = []Carried{{Kind: "factory finish"}}, "1.5 ft2" }},
	{"mild steel, a dent", func(w *Wish) { w.Repair = "1.5 ft2" }},
}

// A table for whoever changes the search: what it finds, and how many sheets it
// has judged for it. Run it with -args -matrix days.
func TestTheMatrixOfPanelsAndEndings(t *testing.T) {
	if *matrix == "" {
		t.Skip("it prints a table, and takes minutes: -args -matrix days")
	}
	var b strings.Builder
	table := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	passing, all := 0, 0
	for _, p := range matrixPanels {
		for _, ending := range Endings {
			for _, work := range []string{"restoration", "collision"} {
				for _, least := range strings.Split(*matrix, ",") {
					w := onSteel(ending)
					w.Work, w.Least = work, Least(least)
					p.set(&w)
					s := shop(t, examples)
					begun := time.Now()
					out := run(t, w, s)
					all++
					cells := []any{p.name, ending, work, least, out.Judged, time.Since(begun).Round(100 * time.Millisecond)}
					words := "bound reached"
					switch {
					case out.Best != nil:
						passing++
						words = fmt.Sprintf("%s: %s: %s, %d advice", out.Best.Begun, strings.Join(out.Best.Layers, ", "), out.Best.Cost.Words(), out.Best.Cost.Advice)
						for _, f := range again(t, s, out.Best.Text) {
							if rulebook.AtLeast(f.Grade, "risk") {
								t.Errorf("%v: %s", w, f.Message)
							}
						}
					case !out.Reached:
						words = "none: "
						for _, r := range out.Reasons {
							words += r.Rule + " "
						}
					}
					fmt.Fprintf(table, "%s\t%s\t%s\t%s\t%d\t%s\t%s\n", append(cells, words)...)
				}
			}
		}
	}
	if err := table.Flush(); err != nil {
		t.Fatal(err)
	}
	t.Logf("%d of %d jobs get a sheet that passes\n%s", passing, all, b.String())
}

func again(t *testing.T, s Shop, text string) []rulebook.Finding {
	_, _, findings := reread(t, s, text)
	return findings
}
