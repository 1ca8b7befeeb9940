package rulebook_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// The two rules that must be right whatever surrounds the pair: filler, and
// polyester surfacer, on acid primer. Each case is a whole sheet; what is
// expected is the zones in which the upper film lies straight on acid primer,
// worked out by hand from the steps.

const acidHead = `format = 1
[sheet]
title = "a pair and what surrounds it"
[booth]
air = "72 F"
panel = "72 F"
humidity = "45 %"
`

const acidCards = `
[product.etch]
kind = "etch primer"
[product.wash]
kind = "wash primer"
[product.grey]
kind = "epoxy primer"
[product.grey.as.etch]
kind = "one-part acid primer"
mix = "1"
[product.build]
kind = "urethane surfacer"
[product.tie]
kind = "adhesion promoter"
[product.blue]
kind = "solvent basecoat"
[product.proven]
kind = "UPPER"
goes_on = ["one-part acid primer"]
[product.listed]
kind = "UPPER"
goes_on = ["epoxy primer"]
[product.direct]
kind = "UPPER"
direct_to_metal = true
[product.banned]
kind = "UPPER"
keep_off = ["one-part acid primer"]
[product.top]
kind = "UPPER"
`

const plainPanel = `
[panel]
substrate = "mild steel"
area = "10 ft2"
`

const dentPanel = plainPanel + `
[[zone]]
name = "dent"
area = "2 ft2"
`

// acidStep is one step of a case: a verb, then key = value pairs parted by semicolons.
func acidStep(text string) string {
	verb, keys, _ := strings.Cut(text, " ")
	var b strings.Builder
	fmt.Fprintf(&b, "[[step]]\ndo = %q\n", verb)
	for _, k := range strings.Split(keys, ";") {
		b.WriteString(strings.TrimSpace(k) + "\n")
	}
	return b.String()
}

type acidCase struct {
	name  string
	panel string
	steps []string // lay X stands for laying product X in the way of the upper film's kind
	zones []string // where the upper film lies on acid primer
}

var acidCases = []acidCase{
	{"it lies on one-part acid primer", plainPanel, []string{
		`spray product = "etch"`, `lay top`,
	}, []string{"panel"}},
	{"it lies on wash primer", plainPanel, []string{
		`spray product = "wash"`, `lay top`,
	}, []string{"panel"}},
	{"the acid primer is another use of the epoxy's can", plainPanel, []string{
		`spray product = "grey"; as = "etch"`, `lay top`,
	}, []string{"panel"}},
	{"the same can as epoxy is no acid primer", plainPanel, []string{
		`spray product = "grey"`, `lay top`,
	}, nil},
	{"epoxy lies between", plainPanel, []string{
		`spray product = "etch"`, `spray product = "grey"`, `lay top`,
	}, nil},
	{"even a promoter lies between", plainPanel, []string{
		`spray product = "etch"`, `spray product = "tie"`, `lay top`,
	}, nil},
	{"body solder lies between", plainPanel, []string{
		`spray product = "etch"`, `solder`, `lay top`,
	}, nil},
	{"the metal had an acid wash and no acid primer", plainPanel, []string{
		`treat with = "acid wash"`, `rinse dried_within = "5 min"`, `lay top`,
	}, nil},
	{"a day, a week and its window passed", plainPanel, []string{
		`spray product = "etch"; then_wait = "9 days"`, `lay top`,
	}, []string{"panel"}},
	{"nobody says how long it waited", plainPanel, []string{
		`spray product = "etch"`, `wait for = "overnight"`, `lay top`,
	}, []string{"panel"}},
	{"the acid primer was scuffed, blocked, wiped and tacked", plainPanel, []string{
		`spray product = "etch"`, `scuff pad = "fine pad"`, `block grit = "P320"`, `clean with = "wax and grease remover"`, `tack`, `lay top`,
	}, []string{"panel"}},
	{"the acid primer was sanded hard and nobody wrote a cut", plainPanel, []string{
		`spray product = "etch"`, `sand grit = "P80"; takes_off = "5 mil"`, `lay top`,
	}, []string{"panel"}},
	{"the acid primer was baked", plainPanel, []string{
		`spray product = "etch"; then_wait = "30 min"`, `bake metal = "140 F"; for = "40 min"; then_wait = "1 h"`, `lay top`,
	}, []string{"panel"}},
	{"the acid primer was laid twice", plainPanel, []string{
		`spray product = "etch"; then_wait = "2 days"`, `spray product = "etch"`, `lay top`,
	}, []string{"panel"}},
	{"it is laid twice itself", plainPanel, []string{
		`spray product = "etch"`, `lay top`, `sand grit = "P80"`, `lay top`,
	}, []string{"panel"}},
	{"the whole of the primer is ground off", plainPanel, []string{
		`spray product = "etch"`, `strip tool = "grinder"; grit = "P80"`, `lay top`,
	}, nil},
	{"a later film is stripped down to the acid primer", plainPanel, []string{
		`spray product = "etch"`, `spray product = "build"`, `strip tool = "sander"; grit = "P180"; down_to = "one-part acid primer"`, `lay top`,
	}, []string{"panel"}},
	{"a later film is stripped down to the epoxy over it", plainPanel, []string{
		`spray product = "etch"`, `spray product = "grey"`, `spray product = "build"`, `strip tool = "sander"; down_to = "epoxy primer"`, `lay top`,
	}, nil},
	{"it is stripped off again later", plainPanel, []string{
		`spray product = "etch"`, `lay top`, `strip tool = "grinder"; grit = "P80"`, `spray product = "grey"`,
	}, []string{"panel"}},
	{"acid primer was there before the sheet", plainPanel + "carries = [\"one-part acid primer\"]\n", []string{
		`lay top`,
	}, []string{"panel"}},
	{"acid primer was there under a finish", plainPanel + "carries = [\"one-part acid primer\", \"factory finish\"]\n", []string{
		`lay top`,
	}, nil},
	{"acid primer that was there is uncovered by a cut", plainPanel + "carries = [\"two-part wash primer\", \"factory finish\"]\n", []string{
		`sand grit = "P80"; cuts_to = [{to = "two-part wash primer", call = "ring", area = "1 ft2"}]`, `lay top`,
	}, []string{"ring"}},
	{"a cut goes through epoxy to the acid primer", plainPanel, []string{
		`spray product = "etch"`, `spray product = "grey"`, `sand grit = "P80"; cuts_to = [{to = "one-part acid primer", call = "rub", area = "10 in2"}]`, `lay top`,
	}, []string{"rub"}},
	{"a cut goes to the acid primer by its step's call", plainPanel, []string{
		`spray product = "etch"; call = "the etch"`, `spray product = "grey"`, `sand grit = "P80"; cuts_to = "the etch"`, `lay top`,
	}, []string{"panel cut to one-part acid primer"}},
	{"a cut goes past the acid primer to the steel", plainPanel, []string{
		`spray product = "etch"`, `spray product = "grey"`, `sand grit = "P80"; cuts_to = [{to = "substrate", call = "rub", area = "10 in2"}]`, `lay top`,
	}, nil},
	{"one stroke cuts to both", plainPanel, []string{
		`spray product = "etch"`, `spray product = "grey"`,
		`sand grit = "P80"; cuts_to = [{to = "substrate", call = "bare", area = "4 in2"}, {to = "one-part acid primer", call = "ring", area = "6 in2"}]`, `lay top`,
	}, []string{"ring"}},
	{"a cut to the acid primer is cut again to the steel", plainPanel, []string{
		`spray product = "etch"`, `spray product = "grey"`, `sand grit = "P120"; cuts_to = [{to = "one-part acid primer", call = "ring", area = "1 ft2"}]`,
		`sand grit = "P80"; on = "ring"; cuts_to = [{to = "substrate", call = "bare", area = "0.5 ft2"}]`, `lay top`,
	}, []string{"ring"}},
	{"a cut to the acid primer is primed again first", plainPanel, []string{
		`spray product = "etch"`, `spray product = "grey"`, `sand grit = "P80"; cuts_to = [{to = "one-part acid primer", call = "rub", area = "10 in2"}]`,
		`spray product = "grey"; on = "rub"`, `lay top`,
	}, nil},
	{"a cut to the acid primer is left out", plainPanel, []string{
		`spray product = "etch"`, `spray product = "grey"`, `sand grit = "P80"; cuts_to = [{to = "one-part acid primer", call = "rub", area = "10 in2"}]`,
		`lay top; except = "rub"`,
	}, nil},
	{"only the cut takes it", plainPanel, []string{
		`spray product = "etch"`, `spray product = "grey"`, `sand grit = "P80"; cuts_to = [{to = "one-part acid primer", call = "rub", area = "10 in2"}]`,
		`lay top; on = "rub"`,
	}, []string{"rub"}},
	{"a bare cut is spot-primed with acid primer", plainPanel, []string{
		`spray product = "grey"`, `sand grit = "P80"; cuts_to = [{to = "substrate", call = "rub", area = "10 in2"}]`,
		`spray product = "etch"; on = "rub"`, `lay top`,
	}, []string{"rub"}},
	{"a bare cut is spot-primed with acid primer and it stays off", plainPanel, []string{
		`spray product = "grey"`, `sand grit = "P80"; cuts_to = [{to = "substrate", call = "rub", area = "10 in2"}]`,
		`spray product = "etch"; on = "rub"`, `lay top; except = "rub"`,
	}, nil},
	{"a cut goes through it and the acid primer shows", plainPanel, []string{
		`spray product = "etch"`, `lay top`, `sand grit = "P80"; cuts_to = [{to = "one-part acid primer", call = "ring", area = "10 in2"}]`, `lay top; on = "ring"`,
	}, []string{"panel", "ring"}},
	{"acid primer lies on the dent alone and it on everything", dentPanel, []string{
		`spray product = "etch"; on = "dent"`, `spray product = "grey"; except = "dent"`, `lay top`,
	}, []string{"dent"}},
	{"acid primer lies on the rest alone and it on the dent", dentPanel, []string{
		`spray product = "etch"; on = "panel"`, `spray product = "grey"; on = "dent"`, `lay top; on = "dent"`,
	}, nil},
	{"acid primer lies everywhere and the dent is stripped", dentPanel, []string{
		`spray product = "etch"`, `strip tool = "strip disc"; on = "dent"`, `lay top; on = "dent"`,
	}, nil},
	{"acid primer lies everywhere and the dent is stripped and etched again", dentPanel, []string{
		`spray product = "etch"`, `strip tool = "strip disc"; on = "dent"`, `spray product = "etch"; on = "dent"`, `lay top; on = "dent"`,
	}, []string{"dent"}},
	{"both zones lie on acid primer", dentPanel, []string{
		`spray product = "etch"`, `lay top`,
	}, []string{"dent", "panel"}},
	{"acid primer lies beside a place with epoxy under it", dentPanel, []string{
		`spray product = "etch"`, `spray product = "grey"; on = "panel"`, `lay top`,
	}, []string{"dent"}},
	{"its card names the acid primer", plainPanel, []string{
		`spray product = "etch"`, `lay proven`,
	}, nil},
	{"its card names one acid primer and it lies on the other", plainPanel, []string{
		`spray product = "wash"`, `lay proven`,
	}, []string{"panel"}},
	{"its card lists other films", plainPanel, []string{
		`spray product = "etch"`, `lay listed`,
	}, []string{"panel"}},
	{"its card is direct to metal", plainPanel, []string{
		`spray product = "etch"`, `lay direct`,
	}, []string{"panel"}},
	{"its card keeps off acid primer", plainPanel, []string{
		`spray product = "etch"`, `lay banned`,
	}, []string{"panel"}},
	{"color lies on the acid primer and it on the color", plainPanel, []string{
		`spray product = "etch"`, `spray product = "blue"`, `lay top`,
	}, nil},
	{"the panel is welded, stored and hammered in between", plainPanel, []string{
		`spray product = "etch"`, `store for = "5 days"`, `metalwork for = "1 h"; welding = true`, `mask over = "panel"`, `lay top`,
	}, []string{"panel"}},
}

func TestFillerAndPolyesterOnAcidPrimerAreFoundWhereverTheyLieAndNowhereElse(t *testing.T) {
	for _, upper := range []struct {
		kind, rule, lay string
		every           int // of the cases: what one filler does in the rest of them, all do
	}{
		{"body filler", "filler-on-acid-primer", `spread product = "%s"; thickness = "1 mm"`, 1},
		{"polyester surfacer", "polyester-on-acid-primer", `spray product = "%s"`, 1},
		{"fiber filler", "filler-on-acid-primer", `spread product = "%s"; thickness = "1 mm"`, 7},
		{"finishing putty", "filler-on-acid-primer", `spread product = "%s"; thickness = "1 mm"`, 7},
		{"one-part putty", "filler-on-acid-primer", `spread product = "%s"; thickness = "0.1 mm"`, 7},
		// What is neither is never found, in none of these places.
		{"urethane surfacer", "", `spray product = "%s"`, 3},
		{"lacquer primer", "", `spray product = "%s"`, 7},
		{"seam sealer", "", `caulk product = "%s"`, 7},
	} {
		for i, c := range acidCases {
			if i%upper.every != 0 {
				continue
			}
			t.Run(upper.kind+": "+c.name, func(t *testing.T) {
				t.Parallel()
				if upper.rule == "" {
					c.zones = nil
				}
				var steps strings.Builder
				for _, s := range c.steps {
					if rest, ok := strings.CutPrefix(s, "lay "); ok {
						product, more, _ := strings.Cut(rest, ";")
						s = fmt.Sprintf(upper.lay, product) + ";" + more
					}
					steps.WriteString(acidStep(s))
				}
				text := acidHead + c.panel + strings.ReplaceAll(acidCards, "UPPER", upper.kind) + steps.String()
				var zones []string
				for _, f := range findingsOf(t, text) {
					switch f.Rule {
					case "filler-on-acid-primer", "polyester-on-acid-primer":
						if f.Rule != upper.rule {
							t.Errorf("%s speaks of %s: %s", f.Rule, upper.kind, f.Message)
						}
						if f.Grade != "fails" || f.Certainty != "will" || f.Zone == nil || *f.Zone != f.Zones[0] {
							t.Errorf("%s is %s, %s, in %v", f.Rule, f.Grade, f.Certainty, f.Zones)
						}
						zones = append(zones, f.Zones...)
					}
				}
				slices.Sort(zones)
				if zones = slices.Compact(zones); !slices.Equal(zones, c.zones) {
					t.Errorf("it lies on acid primer in %q, found in %q\n%s", c.zones, zones, text)
				}
			})
		}
	}
}
