package rulebook_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
)

// bakedPrimer is an epoxy primer that is baked, sanded and sealed.
func bakedPrimer(metal, time, rest, between string) string {
	return fmt.Sprintf(`format = 1
[sheet]
title = "A bake"
ends_as = "sealed"
[booth]
air = "72 F"
panel = "70 F"
humidity = "45 %%"
[panel]
part = "door"
substrate = "mild steel"
area = "10 ft2"
[product.tie-grey]
kind = "epoxy primer"
film = "1.5-3 mil"
flash = "15 min"
recoat = "6 h - 72 h"
sand_after = "16 h"
settles = "20 h"
volume_solids = "50 %%"
bake = {metal = "140 F", for = "30 min", flash_first = "20 min", max_metal = "160 F"}
[product.seal-grey]
kind = "urethane sealer"
film = "0.8-1.2 mil"
[[step]]
do = "sand"
grit = "P80"
[[step]]
do = "clean"
with = "wax and grease remover"
then_wait = "20 min"
[[step]]
do = "spray"
product = "tie-grey"
then_wait = "30 min"
[[step]]
do = "bake"
metal = %q
for = %q
then_wait = %q
%s
[[step]]
do = "spray"
product = "seal-grey"
`, metal, time, rest, between)
}

const sandedBetween = `[[step]]
do = "sand"
grit = "P320"
[[step]]
do = "clean"
with = "wax and grease remover"
then_wait = "20 min"
[[step]]
do = "tack"`

// How a bake counts: 8-rulings, 'from 30 min after its end'; a range that meets
// the schedule at one end only may have.
func TestABakeThatMayHaveMetItsScheduleMissesNothingForCertain(t *testing.T) {
	rules := []string{"bake-too-short", "blocked-before-settled", "recoated-too-soon", "sanded-too-soon", "window-shut-by-heat"}
	shut := strings.Replace(sandedBetween, "[[step]]\ndo = \"sand\"\ngrit = \"P320\"\n", "", 1)
	early := map[string]string{"blocked-before-settled": "risk will", "sanded-too-soon": "fails will", "recoated-too-soon": "fails will"}
	perhaps := map[string]string{"blocked-before-settled": "risk may", "sanded-too-soon": "risk may", "recoated-too-soon": "risk may"}
	with := func(m map[string]string, rule, is string) map[string]string {
		m = maps.Clone(m)
		m[rule] = is
		return m
	}
	for name, c := range map[string]struct {
		text string
		want map[string]string
	}{
		"to the card":                    {bakedPrimer("140 F", "30 min", "40 min", sandedBetween), map[string]string{}},
		"hotter and longer":              {bakedPrimer("145-150 F", "35-40 min", "40 min", sandedBetween), map[string]string{}},
		"too cool":                       {bakedPrimer("130 F", "30 min", "40 min", sandedBetween), with(early, "bake-too-short", "risk will")},
		"perhaps too cool":               {bakedPrimer("130-150 F", "30 min", "40 min", sandedBetween), with(perhaps, "bake-too-short", "risk may")},
		"perhaps too short":              {bakedPrimer("140 F", "25-35 min", "40 min", sandedBetween), with(perhaps, "bake-too-short", "risk may")},
		"perhaps too fresh to be sanded": {bakedPrimer("140 F", "30 min", "20-40 min", sandedBetween), map[string]string{"blocked-before-settled": "risk may", "sanded-too-soon": "risk may"}},
		"too fresh to be sanded":         {bakedPrimer("140 F", "30 min", "25 min", sandedBetween), map[string]string{"blocked-before-settled": "risk will", "sanded-too-soon": "fails will"}},
		"baked, and not abraded since":   {bakedPrimer("140 F", "30 min", "8 h", shut), map[string]string{"window-shut-by-heat": "risk will"}},
		"perhaps baked":                  {bakedPrimer("130-150 F", "30 min", "8 h", shut), map[string]string{"window-shut-by-heat": "risk may"}},
		"not baked":                      {bakedPrimer("120-130 F", "30 min", "8 h", shut), map[string]string{}},
		"abraded before the bake alone":  {strings.Replace(bakedPrimer("140 F", "30 min", "8 h", shut), "[[step]]\ndo = \"bake\"", "[[step]]\ndo = \"wait\"\nfor = \"24 h\"\n[[step]]\ndo = \"sand\"\ngrit = \"P320\"\n[[step]]\ndo = \"bake\"", 1), map[string]string{"window-shut-by-heat": "risk will"}},
	} {
		t.Run(name, func(t *testing.T) {
			got := map[string]string{}
			for _, f := range findingsOf(t, c.text) {
				if slices.Contains(rules, f.Rule) {
					got[f.Rule] = f.Grade + " " + f.Certainty
				}
			}
			if !maps.Equal(got, c.want) {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}

// Only the hours in damp air are damp hours: 'over 24 h above 70 % RH'.
func TestAnAcidPrimerIsHeldByItsHoursInDampAirAlone(t *testing.T) {
	for name, c := range map[string]struct {
		stored string // times and humidities
		want   string
	}{
		"a day and more in damp air":           {"25 h 75 %", "risk will 25 h"},
		"just a day":                           {"24 h 75 %", ""},
		"at the limit":                         {"48 h 70 %", ""},
		"ten hours twice, dry between":         {"10 h 75 %, 20 h 40 %, 10 h 75 %", ""},
		"an hour, then dry":                    {"1 h 75 %, 30 h 40 %", ""},
		"dry, then an hour":                    {"30 h 40 %, 1 h 75 %", ""},
		"fourteen hours twice, dry between":    {"14 h 75 %, 14 h 40 %, 14 h 75 %", "risk will 28 h"},
		"air that may be damp":                 {"48 h 60-75 %", "risk may 0-48 h"},
		"hours that may be a day, in damp air": {"20-30 h 75 %", "risk may 20-30 h"},
	} {
		t.Run(name, func(t *testing.T) {
			steps := []string{ground, wiped, `do = "spray", product = "etch"`}
			for _, part := range strings.Split(c.stored, ", ") {
				time, humidity, _ := strings.Cut(part, " h ")
				steps = append(steps, fmt.Sprintf(`do = "store", for = "%s h", humidity = "%s"`, time, strings.ReplaceAll(humidity, "%", "%%")))
			}
			steps = append(steps, `do = "strip", tool = "sander", grit = "P80"`, wiped, primed)
			got := ""
			for _, f := range findingsOf(t, atLimit{steps: steps}.text("")) {
				if f.Rule == "hold-primer-kept-too-long" {
					got = fmt.Sprintf("%s %s %v h", f.Grade, f.Certainty, f.Measured.Lo)
					if *f.Measured.Hi != f.Measured.Lo {
						got = fmt.Sprintf("%s %s %v-%v h", f.Grade, f.Certainty, f.Measured.Lo, *f.Measured.Hi)
					}
				}
			}
			if got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}
