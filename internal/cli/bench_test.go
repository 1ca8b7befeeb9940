package cli

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// benchCards are invented products with every number the tests reckon with.
const benchCards = `
[product.grey-epoxy]
kind = "epoxy primer"
mix = "1:1"
hardener = "epoxy-hardener"
volume_solids = "50 %"
voc = "420 g/L"
film = "2-4 mil"
flash = "20 min"
pot_life = "8 h"
recoat = "1 h - 12 h"
sand_after = "6 h"
times_at = "68 F"

[product.seal-grey]
kind = "urethane sealer"
mix = "4:1:1"
hardener = "mender"
reducer = "slow"
volume_solids = "40 %"
voc = "430 g/L"
film = "0.8-1.2 mil"
flash = "10 min"
pot_life = "90 min"
recoat = "15 min - 24 h"

[product.epoxy-hardener]
kind = "hardener"
[product.mender]
kind = "hardener"
[product.slow]
kind = "reducer"
voc = "840 g/L"
`

// benchSheet writes a sheet of these cards and steps into a folder.
func benchSheet(t *testing.T, head, panel, steps string) (dir string) {
	t.Helper()
	dir = t.TempDir()
	text := "format = 1\n[sheet]\ntitle = \"Test door\"\nnumber = \"T-1\"\n" + head +
		"\n[booth]\nair = \"68 F\"\npanel = \"" + panel + "\"\nhumidity = \"45 %\"\nwhere = \"booth\"\nregion = \"us\"\n" +
		"[panel]\npart = \"door\"\nsubstrate = \"mild steel\"\narea = \"12 ft2\"\ncarries = []\n" + benchCards + steps
	if err := os.WriteFile(filepath.Join(dir, "door.toml"), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return dir
}

// answer runs a command and reads its JSON.
func answer(t *testing.T, dir string, into any, args ...string) {
	t.Helper()
	status, out, errs := run(t, dir, args...)
	if status != 0 || errs != "" {
		t.Fatalf("%v gives %d: %s", args, status, errs)
	}
	if err := json.Unmarshal([]byte(out), into); err != nil {
		t.Fatalf("%v: %v\n%s", args, err, out)
	}
}

func close4(got, want float64) bool { return math.Abs(got-want) <= 6e-4*math.Abs(want)+1e-9 }

type jsonAmount struct {
	Lo   float64
	Hi   *float64
	Unit string
}

type jsonBoth struct{ Metric, US *jsonAmount }

func (a *jsonAmount) is(t *testing.T, what string, lo, hi float64, unit string) {
	t.Helper()
	switch {
	case a == nil:
		t.Errorf("%s is not there", what)
	case a.Hi == nil || a.Unit != unit || !close4(a.Lo, lo) || !close4(*a.Hi, hi):
		b, _ := json.Marshal(a)
		t.Errorf("%s is %s, and should be %v to %v %s", what, b, lo, hi, unit)
	}
}

type jsonMixes struct {
	Cups []struct {
		Step                       int
		Wet, Dry, Rate, Real, Pour *jsonBoth
		AllDry                     *jsonBoth `json:"all_dry"`
		Solids                     *jsonAmount
		Voc                        *jsonBoth
		Parts                      []struct {
			Part, Name string
			Volume     *jsonBoth
		}
		Limits []struct {
			Region, Binds string
			Limit         jsonBoth
		}
	}
	Buy []struct {
		Name   string
		Steps  []int
		Volume *jsonBoth
	}
	Uncounted []struct {
		Step int
		Why  string
	}
}

const twoCups = `
[[step]]
do = "spray"
product = "grey-epoxy"
coats = 2
wet_film = "3 mil"
between = "20 min"
then_wait = "2 h"
gun = "hvlp"

[[step]]
do = "spray"
product = "seal-grey"
coats = 1
wet_film = "3 mil"
gun = "hvlp"
`

func TestTheCupIsWhatTheFilmTheAreaTheSolidsAndTheGunMakeOfIt(t *testing.T) {
	dir := benchSheet(t, "", "68 F", twoCups)
	var m jsonMixes
	answer(t, dir, &m, "mixes", "--as", "json", "door.toml")
	if len(m.Cups) != 2 || len(m.Cups[0].Parts) != 2 || len(m.Cups[1].Parts) != 3 {
		t.Fatalf("%+v", m)
	}
	// Epoxy: 2 coats of 3 mil wet at 50 % solids leave 2 × 3 × 0.5 = 3 mil dry.
	// 12 ft² = 1728 in²; × 0.003 in = 5.184 in³ of dry film; ÷ 0.5 = 10.368 in³
	// on the panel. An HVLP gun lands 60 to 70 %, the cup keeps 10 %:
	// 10.368 ÷ 0.7 ÷ 0.9 = 16.457 in³ to 10.368 ÷ 0.6 ÷ 0.9 = 19.2 in³.
	// 1 in³ = 16.387 mL: 269.68 to 314.63 mL. 231 in³ = 128 fl oz: 9.119 to 10.639.
	// Mixed 1:1, each part is half.
	e := m.Cups[0]
	e.AllDry.US.is(t, "dry film", 3, 3, "mil")
	e.Pour.Metric.is(t, "the cup", 269.68, 314.63, "mL")
	e.Pour.US.is(t, "the cup", 9.119, 10.639, "fl oz")
	e.Parts[0].Volume.Metric.is(t, "base", 134.84, 157.32, "mL")
	e.Parts[1].Volume.US.is(t, "hardener", 4.560, 5.319, "fl oz")
	// 1604.17 ft² mil/gal × 0.5 ÷ 3 mil = 267.36 ft²/gal with nothing lost;
	// × 0.6 × 0.9 = 144.37 to × 0.7 × 0.9 = 168.44 in the shop.
	// Metric: 3 mil = 76.2 µm; 10 × 50 ÷ 76.2 = 6.562 m²/L.
	e.Rate.US.is(t, "spreading rate", 267.36, 267.36, "ft2/gal")
	e.Real.US.is(t, "practical rate", 144.37, 168.44, "ft2/gal")
	e.Rate.Metric.is(t, "spreading rate", 6.562, 6.562, "m2/L")

	// Sealer 4:1:1: reducer is 1 in 5 of base and hardener, so the solids fall
	// to 40 ÷ 1.2 = 33.33 %, and 3 mil wet leaves 1 mil dry. 1728 in² × 0.001 in
	// ÷ 0.3333 = 5.184 in³ on the panel; ÷ 0.7 ÷ 0.9 = 8.2286, ÷ 0.6 ÷ 0.9 = 9.6 in³:
	// 134.84 to 157.32 mL. Base is 4 parts of 6: 89.89 to 104.88 mL; one part
	// is 22.47 to 26.22 mL.
	// VOC: (430 + 0.2 × 840) ÷ 1.2 = 498.33 g/L; ÷ 119.826 = 4.159 lb/gal.
	s := m.Cups[1]
	s.Solids.is(t, "solids", 33.333, 33.333, "%")
	s.AllDry.US.is(t, "dry film", 1, 1, "mil")
	s.Pour.Metric.is(t, "the cup", 134.84, 157.32, "mL")
	s.Parts[0].Volume.Metric.is(t, "base", 89.89, 104.88, "mL")
	s.Parts[2].Volume.Metric.is(t, "reducer", 22.47, 26.22, "mL")
	s.Voc.Metric.is(t, "VOC", 498.33, 498.33, "g/L")
	s.Voc.US.is(t, "VOC", 4.159, 4.159, "lb/gal")
	// 40 CFR 59 subpart B table 1: primer sealers 550 g/L, on the maker.
	if len(s.Limits) != 1 || s.Limits[0].Region != "us" || s.Limits[0].Binds != "maker" {
		t.Fatalf("%+v", s.Limits)
	}
	s.Limits[0].Limit.Metric.is(t, "the limit", 550, 550, "g/L")
}

func TestWhatIsBoughtIsTheSumOfTheCups(t *testing.T) {
	// The epoxy twice, alike: twice 134.84 to 157.32 mL of each part.
	dir := benchSheet(t, "", "68 F", twoCups+`
[[step]]
do = "spray"
product = "grey-epoxy"
coats = 2
wet_film = "3 mil"
gun = "hvlp"
`)
	var m jsonMixes
	answer(t, dir, &m, "mixes", "--as", "json", "--units", "metric", "door.toml")
	var names []string
	for _, can := range m.Buy {
		names = append(names, can.Name)
	}
	if got := strings.Join(names, ","); got != "grey-epoxy,epoxy-hardener,seal-grey,mender,slow" {
		t.Errorf("the cans are %s", got)
	}
	m.Buy[0].Volume.Metric.is(t, "epoxy", 269.68, 314.63, "mL")
	if m.Buy[0].Volume.US != nil {
		t.Error("US units are given where metric was asked for")
	}
	if len(m.Buy[0].Steps) != 2 || m.Buy[0].Steps[1] != 3 {
		t.Errorf("the epoxy is poured in %v", m.Buy[0].Steps)
	}
}

func TestACupThatCannotBeReckonedSaysWhatIsMissing(t *testing.T) {
	dir := benchSheet(t, "", "68 F", twoCups)
	path := filepath.Join(dir, "door.toml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(strings.Replace(string(text), "area = \"12 ft2\"\n", "", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	var m jsonMixes
	answer(t, dir, &m, "mixes", "--as", "json", "door.toml")
	if len(m.Buy) != 0 || len(m.Uncounted) != 2 || m.Uncounted[0].Why != "an area for each of its zones is not written" {
		t.Errorf("%+v", m)
	}
	_, out, _ := run(t, dir, "mixes", "door.toml")
	if !strings.Contains(strings.Join(strings.Fields(out), " "), "step 1, grey-epoxy (epoxy primer): an area for each of its zones is not written") {
		t.Errorf("the text does not say so:\n%s", out)
	}
}

type jsonMoment struct {
	Earliest string
	Latest   *string
}

type jsonWindow struct {
	For      string
	Step     int
	Opens    *jsonMoment
	Shuts    *jsonMoment
	Last     *string
	Slack    *float64
	Abraded  bool
	Factor   float64
	FilmStep int `json:"film_step"`
	Zones    []string
	Planned  jsonMoment
	Never    bool
	Baked    bool
	Source   string
}

type jsonClock struct {
	From      string
	FromWhose string `json:"from_whose"`
	Steps     []struct {
		Step           int
		Start, End     jsonMoment
		Held, Overruns bool
	}
	Windows []jsonWindow
	Ready   *jsonMoment
	Open    []struct{ Why string }
	Untimed []int
}

func (m *jsonMoment) is(t *testing.T, what, earliest, latest string) {
	t.Helper()
	if m == nil {
		t.Errorf("%s is not known, and should be %s", what, earliest)
		return
	}
	got := "open"
	if m.Latest != nil {
		got = *m.Latest
	}
	if m.Earliest != earliest || got != latest {
		t.Errorf("%s is %s to %s, and should be %s to %s", what, m.Earliest, got, earliest, latest)
	}
}

const overNight = `
[[step]]
do = "sand"
grit = "P80"
for = "1 h"

[[step]]
do = "spray"
product = "grey-epoxy"
coats = 2
wet_film = "3 mil"
between = "20 min"
then_wait = "WAIT"

[[step]]
do = "clean"
with = "wax and grease remover"
then_wait = "10 min"

[[step]]
do = "spray"
product = "seal-grey"
coats = 1
wet_film = "3 mil"
then_wait = "1 h"
`

func TestANightBetweenTwoFilmsShutsTheWindow(t *testing.T) {
	// Work begins 15:00. Sanding: 15:00 to 16:00. Two coats 20 min apart: 16:00
	// to 16:20. An hour's wait ends 17:20, after hours, so the wipe is next
	// morning at 08:00 and the sealer 10 min later.
	// The epoxy's window, 1 h to 12 h from 16:20: opens 17:20, shuts 04:20 in the
	// night. The sealer at 08:10 is 3 h 50 min = 3.833 h after it.
	// On the sheet itself the gap is 70 min, and nothing is wrong with it.
	dir := benchSheet(t, "", "68 F", strings.Replace(overNight, "WAIT", "1 h", 1))
	var c jsonClock
	answer(t, dir, &c, "clock", "--as", "json", "--from", "2026-03-02 15:00", "door.toml")
	c.Steps[0].End.is(t, "the end of sanding", "2026-03-02T16:00:00", "2026-03-02T16:00:00")
	c.Steps[1].End.is(t, "the end of the epoxy", "2026-03-02T16:20:00", "2026-03-02T16:20:00")
	c.Steps[2].Start.is(t, "the wipe", "2026-03-03T08:00:00", "2026-03-03T08:00:00")
	c.Steps[3].Start.is(t, "the sealer", "2026-03-03T08:10:00", "2026-03-03T08:10:00")
	if !c.Steps[2].Held || c.Steps[3].Held {
		t.Error("the wipe waits for the shop to open, the sealer does not")
	}
	c.Ready.is(t, "the end", "2026-03-03T09:10:00", "2026-03-03T09:10:00")
	if len(c.Windows) != 1 || c.Windows[0].For != "recoat" || c.Windows[0].Step != 4 {
		t.Fatalf("the windows are %+v", c.Windows)
	}
	w := c.Windows[0]
	w.Opens.is(t, "the opening", "2026-03-02T17:20:00", "2026-03-02T17:20:00")
	w.Shuts.is(t, "the shutting", "2026-03-03T04:20:00", "2026-03-03T04:20:00")
	if w.Last == nil || *w.Last != "2026-03-03T04:20:00" {
		t.Errorf("the last moment is %v", w.Last)
	}
	if w.Slack == nil || !close4(*w.Slack, -3.8333) {
		t.Errorf("the plan is %v h before the shutting", *w.Slack)
	}
	_, out, _ := run(t, dir, "clock", "--from", "2026-03-02 15:00", "door.toml")
	joined := strings.Join(strings.Fields(out), " ")
	if !strings.Contains(joined, "last moment Tue 3 Mar 04:20 before a scuff is due; the plan starts this 3.833 h after it") {
		t.Errorf("the text does not say so:\n%s", out)
	}
	// A shop that never shuts goes on at 17:20, and the sealer at 17:30 is
	// 10 h 50 min = 10.83 h before the shutting.
	answer(t, dir, &c, "clock", "--as", "json", "--day", "00:00-24:00", "--from", "2026-03-02 15:00", "door.toml")
	c.Steps[3].Start.is(t, "the sealer by night", "2026-03-02T17:30:00", "2026-03-02T17:30:00")
	if !close4(*c.Windows[0].Slack, 10.8333) {
		t.Errorf("the plan is %v h before the shutting", *c.Windows[0].Slack)
	}
}

func TestARangeIsPlannedAtBothItsEnds(t *testing.T) {
	// Laid by 16:20; a wait of 16 to 20 h ends between 08:20 and 12:20 next day,
	// both within hours; the sealer is 10 min later.
	dir := benchSheet(t, "", "68 F", strings.Replace(overNight, "WAIT", "16 h - 20 h", 1))
	var c jsonClock
	answer(t, dir, &c, "clock", "--as", "json", "--from", "2026-03-02 15:00", "door.toml")
	c.Steps[3].Start.is(t, "the sealer", "2026-03-03T08:30:00", "2026-03-03T12:30:00")
	if len(c.Open) != 0 {
		t.Errorf("a range has both its ends, and yet %v", c.Open)
	}
}

func TestAWaitWithoutAnEndLeavesTheRestNoSooner(t *testing.T) {
	dir := benchSheet(t, "", "68 F", strings.Replace(overNight, "WAIT", "at least 16 h", 1))
	var c jsonClock
	answer(t, dir, &c, "clock", "--as", "json", "--from", "2026-03-02 15:00", "door.toml")
	c.Steps[3].Start.is(t, "the sealer", "2026-03-03T08:30:00", "open")
	if len(c.Open) != 1 || c.Open[0].Why != "the wait after step 2 has no end written: at least 16 h" {
		t.Errorf("%+v", c.Open)
	}
}

func TestAWaitThatNoStepSaysIsTold(t *testing.T) {
	for wait, want := range map[string]string{
		"":                            "no step says how long grey-epoxy (epoxy primer) waits before seal-grey (urethane sealer)",
		"then_wait = \"until matte\"": `("until matte" is no length)`,
	} {
		steps := "[[step]]\ndo = \"spray\"\nproduct = \"grey-epoxy\"\ncoats = 1\nwet_film = \"3 mil\"\n" + wait +
			"\n[[step]]\ndo = \"spray\"\nproduct = \"seal-grey\"\ncoats = 1\nwet_film = \"3 mil\"\n"
		dir := benchSheet(t, "date = 2026-03-05\n", "68 F", steps)
		var c jsonClock
		answer(t, dir, &c, "clock", "--as", "json", "door.toml")
		if c.From != "2026-03-05T08:00:00" || !strings.Contains(c.FromWhose, "the sheet's date") {
			t.Errorf("it begins %s, %s", c.From, c.FromWhose)
		}
		if len(c.Open) != 1 || !strings.Contains(c.Open[0].Why, want) {
			t.Errorf("%q: %+v", wait, c.Open)
		}
		c.Steps[1].Start.is(t, "the sealer", "2026-03-05T08:00:00", "open")
		_, out, _ := run(t, dir, "clock", "door.toml")
		if !strings.Contains(out, "no step says how long") || !strings.Contains(out, "08:00 or later") {
			t.Errorf("the text does not say so:\n%s", out)
		}
	}
}

// windowOn is the window of the film of overNight on a panel so warm.
func windowOn(t *testing.T, panel string) jsonWindow {
	t.Helper()
	steps := strings.Replace(overNight, "WAIT", "3 h", 1)
	steps = strings.Replace(steps, "[[step]]\ndo = \"sand\"\ngrit = \"P80\"\nfor = \"1 h\"\n", "", 1)
	dir := benchSheet(t, "", panel, steps)
	var c jsonClock
	answer(t, dir, &c, "clock", "--as", "json", "--from", "2026-03-02 08:00", "door.toml")
	if len(c.Windows) != 1 {
		t.Fatalf("%+v", c.Windows)
	}
	return c.Windows[0]
}

func TestAColdPanelOpensTheWindowLaterAndShutsItNoLater(t *testing.T) {
	// The card's times hold at 68 F = 20 °C. A panel of 50 F = 10 °C doubles
	// them: 2^((20 − 10) ÷ 10) = 2. Laid by 08:20; the least hour becomes two:
	// 10:20. The most, 12 h, is not stretched: 20:20.
	w := windowOn(t, "50 F")
	w.Opens.is(t, "the opening", "2026-03-02T10:20:00", "2026-03-02T10:20:00")
	w.Shuts.is(t, "the shutting", "2026-03-02T20:20:00", "2026-03-02T20:20:00")
	if w.Factor != 2 {
		t.Errorf("the factor is %v", w.Factor)
	}
}

func TestAWarmPanelOpensNoWindowBeforeTheCardsHours(t *testing.T) {
	// 86 F = 30 °C would halve the least hour, and the rules hold the wait to the
	// hour: 09:20, not 08:50.
	w := windowOn(t, "86 F")
	w.Opens.is(t, "the opening", "2026-03-02T09:20:00", "2026-03-02T09:20:00")
	if w.Factor != 1 {
		t.Errorf("the factor is %v", w.Factor)
	}
}

func TestSandingIsReadyWhenTheCardSays(t *testing.T) {
	// Laid by 08:00 (one coat, no time); to be sanded 6 h later, 14:00.
	dir := benchSheet(t, "", "68 F", `
[[step]]
do = "spray"
product = "grey-epoxy"
coats = 1
wet_film = "3 mil"
then_wait = "7 h"
[[step]]
do = "sand"
grit = "P320"
`)
	var c jsonClock
	answer(t, dir, &c, "clock", "--as", "json", "--from", "2026-03-02 08:00", "door.toml")
	if len(c.Windows) != 1 || c.Windows[0].For != "sand" || c.Windows[0].Shuts != nil {
		t.Fatalf("%+v", c.Windows)
	}
	c.Windows[0].Opens.is(t, "ready to sand", "2026-03-02T14:00:00", "2026-03-02T14:00:00")
}

func TestABakeStandsInForTheWait(t *testing.T) {
	// Laid by 08:00; baked 08:15 to 08:45 at 140 F, the schedule that counts
	// where the card gives none; from 30 min after its end, 09:15, the film may
	// be sanded, and not only 6 h after laying.
	dir := benchSheet(t, "", "68 F", `
[[step]]
do = "spray"
product = "grey-epoxy"
coats = 1
wet_film = "3 mil"
then_wait = "15 min"
[[step]]
do = "bake"
metal = "140 F"
for = "30 min"
then_wait = "45 min"
[[step]]
do = "sand"
grit = "P320"
`)
	var c jsonClock
	answer(t, dir, &c, "clock", "--as", "json", "--from", "2026-03-02 08:00", "door.toml")
	if len(c.Windows) != 1 || !c.Windows[0].Baked {
		t.Fatalf("%+v", c.Windows)
	}
	c.Windows[0].Opens.is(t, "ready to sand", "2026-03-02T09:15:00", "2026-03-02T09:15:00")
}

func TestDeadTimeAndPolishingStandOnThePlan(t *testing.T) {
	// Both films are laid by 08:00 and 10:00 in one coat. Dead time of the
	// enamel: 1 h to 48 h after 08:00. The clear is polished no sooner than 24 h
	// after 10:00.
	dir := benchSheet(t, "", "68 F", `
[product.old-enamel]
kind = "single-stage enamel"
mix = "1"
recoat = "10 min - any"
no_recoat = "1 h - 48 h"
volume_solids = "40 %"
[product.gloss]
kind = "urethane clear"
mix = "2:1"
polish_after = "24 h"
volume_solids = "40 %"
times_at = "68 F"
[[step]]
do = "spray"
product = "old-enamel"
coats = 1
wet_film = "3 mil"
then_wait = "2 h"
[[step]]
do = "spray"
product = "gloss"
coats = 1
wet_film = "3 mil"
then_wait = "3 days"
[[step]]
do = "polish"
`)
	var c jsonClock
	answer(t, dir, &c, "clock", "--as", "json", "--from", "2026-03-02 08:00", "door.toml")
	if len(c.Windows) != 3 {
		t.Fatalf("%+v", c.Windows)
	}
	recoat, dead, polish := c.Windows[0], c.Windows[1], c.Windows[2]
	if recoat.For != "recoat" || recoat.Shuts != nil || recoat.Last != nil {
		t.Errorf("a window without an upper end is %+v", recoat)
	}
	recoat.Opens.is(t, "the opening", "2026-03-02T08:10:00", "2026-03-02T08:10:00")
	dead.Shuts.is(t, "the dead time's beginning", "2026-03-02T09:00:00", "2026-03-02T09:00:00")
	dead.Opens.is(t, "the dead time's end", "2026-03-04T08:00:00", "2026-03-04T08:00:00")
	polish.Opens.is(t, "ready to polish", "2026-03-03T10:00:00", "2026-03-03T10:00:00")
}

func TestALaterCutTakesNothingFromTheAreaThatWasSprayed(t *testing.T) {
	// 12 ft² are sprayed; blocking then goes through on 2 ft², which the sealer
	// covers again with the rest: 12 ft² both times. The spot alone is 2 ft².
	dir := benchSheet(t, "", "68 F", `
[[step]]
do = "spray"
product = "grey-epoxy"
coats = 2
wet_film = "3 mil"
then_wait = "8 h"
[[step]]
do = "block"
grit = "P320"
cuts_to = {to = "substrate", call = "rub-through", area = "2 ft2"}
[[step]]
do = "spray"
product = "grey-epoxy"
on = "rub-through"
coats = 2
wet_film = "3 mil"
then_wait = "2 h"
[[step]]
do = "spray"
product = "seal-grey"
coats = 1
wet_film = "3 mil"
`)
	var m struct {
		Cups []struct{ Area, Pour *jsonBoth }
	}
	answer(t, dir, &m, "mixes", "--as", "json", "door.toml")
	if len(m.Cups) != 3 {
		t.Fatalf("%d cups", len(m.Cups))
	}
	m.Cups[0].Area.US.is(t, "the door", 12, 12, "ft2")
	m.Cups[1].Area.US.is(t, "the spot", 2, 2, "ft2")
	m.Cups[2].Area.US.is(t, "door and spot", 12, 12, "ft2")
	// A sixth of the 269.68 to 314.63 mL that 12 ft² take.
	m.Cups[1].Pour.Metric.is(t, "the spot's cup", 44.947, 52.438, "mL")
	m.Cups[0].Area.Metric.is(t, "the door", 1.1148, 1.1148, "m2")
}

func TestAnAreaThatIsARangeKeepsBothItsEnds(t *testing.T) {
	dir := benchSheet(t, "", "68 F", twoCups)
	path := filepath.Join(dir, "door.toml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, []byte(strings.Replace(string(text), "12 ft2", "10-12 ft2", 1)), 0o644); err != nil {
		t.Fatal(err)
	}
	var m struct {
		Cups []struct{ Area, Pour *jsonBoth }
	}
	answer(t, dir, &m, "mixes", "--as", "json", "door.toml")
	m.Cups[0].Area.US.is(t, "the door", 10, 12, "ft2")
	// 269.68 × 10 ÷ 12 = 224.74 mL at the least.
	m.Cups[0].Pour.Metric.is(t, "the cup", 224.74, 314.63, "mL")
}

func TestWithNoDateTheClockSaysItIsAnExampleDay(t *testing.T) {
	dir := benchSheet(t, "", "68 F", twoCups)
	var c jsonClock
	answer(t, dir, &c, "clock", "--as", "json", "door.toml")
	if c.From != "2026-01-05T08:00:00" || !strings.HasPrefix(c.FromWhose, "an example day") {
		t.Errorf("%s, %s", c.From, c.FromWhose)
	}
}

func TestTheCalendarIsTheSameBytesAndHoldsNoHostileLine(t *testing.T) {
	dir := benchSheet(t, "author = \"x\"\n", "68 F", strings.Replace(overNight, "WAIT", "1 h", 1))
	path := filepath.Join(dir, "door.toml")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	hostile := strings.Replace(string(text), `title = "Test door"`, `title = "door\r\nEND:VCALENDAR\u001b[2J; a,b"`, 1)
	if err := os.WriteFile(path, []byte(hostile), 0o644); err != nil {
		t.Fatal(err)
	}
	args := []string{"clock", "--as", "ical", "--from", "2026-03-02 15:00", "door.toml"}
	_, first, errs := run(t, dir, args...)
	_, second, _ := run(t, dir, args...)
	if first != second || first == "" {
		t.Fatalf("two runs differ: %s", errs)
	}
	if strings.Count(first, "\r\nEND:VCALENDAR\r\n") != 1 || strings.ContainsRune(first, 0x1b) || strings.Count(first, "\n") != strings.Count(first, "\r\n") {
		t.Errorf("a line of the title's own got out:\n%q", first)
	}
	// Four steps, and the window's opening (17:20) and shutting (04:20).
	if n := strings.Count(first, "BEGIN:VEVENT"); n != 6 {
		t.Errorf("%d events, not 6", n)
	}
	for _, want := range []string{"DTSTART:20260303T042000\r\nSUMMARY:last moment to lay a film over", "DTSTART:20260302T160000\r\nDTEND:20260302T162000"} {
		if !strings.Contains(first, want) {
			t.Errorf("%q is not in it:\n%s", want, first)
		}
	}
	for _, as := range []string{"text", "json"} {
		if _, out, _ := run(t, dir, "clock", "--as", as, "door.toml"); strings.ContainsRune(out, 0x1b) {
			t.Errorf("an escape reached the terminal in %s", as)
		}
	}
	if _, out, _ := run(t, dir, "mixes", "door.toml"); strings.ContainsRune(out, 0x1b) {
		t.Error("an escape reached the terminal")
	}
}

func TestBenchCommandsRefuseAWrongCommandLine(t *testing.T) {
	dir := benchSheet(t, "", "68 F", twoCups)
	for _, c := range []struct {
		says string
		args []string
	}{
		{"--as \"pdf\" is not one of text, json, ical or svg", []string{"clock", "--as", "pdf", "door.toml"}},
		{"--units \"cups\" is not one of both, metric or us", []string{"mixes", "--units", "cups", "door.toml"}},
		{"--day \"17:00-08:00\" is not a working day", []string{"clock", "--day", "17:00-08:00", "door.toml"}},
		{"--day \"08:00\" is not a working day", []string{"clock", "--day", "08:00", "door.toml"}},
		{"--day \"08:00-24:01\" is not a working day", []string{"clock", "--day", "08:00-24:01", "door.toml"}},
		{"--from \"monday\" is not a date and an hour", []string{"clock", "--from", "monday", "door.toml"}},
		{"clock takes one sheet", []string{"clock"}},
		{"mixes takes one sheet", []string{"mixes", "door.toml", "door.toml"}},
	} {
		status, out, errs := run(t, dir, c.args...)
		if status != exitWrong || out != "" || !strings.Contains(errs, c.says) {
			t.Errorf("%v gives %d: %s%s", c.args, status, out, errs)
		}
	}
	if status, _, _ := run(t, dir, "clock", "none.toml"); status != exitUnreadable {
		t.Errorf("a sheet that is not there gives %d", status)
	}
}

func TestOutWritesTheFileAndNothingElse(t *testing.T) {
	dir := benchSheet(t, "", "68 F", twoCups)
	for _, args := range [][]string{{"mixes", "door.toml"}, {"clock", "--as", "ical", "door.toml"}} {
		_, want, _ := run(t, dir, args...)
		status, out, errs := run(t, dir, append(args, "--out", "paper")...)
		got, err := os.ReadFile(filepath.Join(dir, "paper"))
		if status != 0 || out != "" || errs != "" || err != nil || string(got) != want {
			t.Errorf("%v gives %d %q %q %v", args, status, out, errs, err)
		}
	}
}

func TestEveryExampleFitsEightyColumnsAtTheBench(t *testing.T) {
	dir := examples(t)
	sheets, err := filepath.Glob(filepath.Join(dir, "*", "*.toml"))
	if err != nil || len(sheets) == 0 {
		t.Fatal(err)
	}
	for _, sheet := range sheets {
		rel, _ := filepath.Rel(dir, sheet)
		for _, command := range []string{"mixes", "clock"} {
			status, out, errs := run(t, dir, command, rel)
			if status != 0 {
				t.Errorf("%s %s: %d %s", command, rel, status, errs)
			}
			for _, line := range strings.Split(out, "\n") {
				if len([]rune(line)) > 80 {
					t.Errorf("%s %s: %q", command, rel, line)
				}
			}
		}
	}
}

func TestASheetThatNoCalendarHoldsIsRefused(t *testing.T) {
	dir := benchSheet(t, "", "68 F", strings.Replace(overNight, "WAIT", "900000 weeks", 1))
	status, out, errs := run(t, dir, "clock", "door.toml")
	if status != exitWrong || out != "" || !strings.Contains(errs, "runs past the year 9999") {
		t.Errorf("it gives %d %q %q", status, out, errs)
	}
}
