package sheet

import (
	"fmt"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"
	"time"
)

// span writes an amount as its ends in the canonical unit, to six digits, and
// the unit it was written in.
func span(a Amount) string {
	if !a.Written {
		return "not written"
	}
	end := func(v float64) string {
		if math.IsInf(v, 1) {
			return "open"
		}
		return fmt.Sprintf("%.6g", v)
	}
	s := end(a.Lo) + ".." + end(a.Hi)
	if a.Unit != "" {
		s += " in " + a.Unit
	}
	if a.Until != "" {
		s += " until " + a.Until
	}
	return s
}

func windowOf(w Window) string {
	if !w.Written {
		return "not written"
	}
	return fmt.Sprintf("least %s, most %s, any %v", span(w.Least), span(w.Most), w.Any)
}

func TestEveryKeyOfTheLanguageIsRead(t *testing.T) {
	s, problems := Read(Options{Root: "../../testdata/sheet", NoHouse: true, Rules: knownRules}, "full.toml")
	for _, p := range problems {
		t.Errorf("%s:%d:%d %s: %s", p.Place.File, p.Place.Line, p.Place.Column, p.Key, p.Message)
	}
	if s == nil {
		t.Fatal("it is not read")
	}
	white := s.Cards["white"]
	primer := white.Uses["primer"]
	step := func(n int) *Step { return &s.Steps[n-1] }
	for _, test := range []struct {
		name      string
		got, want any
	}{
		{"the file as it was named", s.File, "full.toml"},
		{"every file that was read", s.Files, []string{"full-shelf.toml", "full.toml"}},
		{"title, number, revision, author", []string{s.Title.Value, s.Number.Value, s.Revision.Value, s.Author.Value}, []string{"Every key there is", "TL-900", "B", "paint bench"}},
		{"date", s.Date.Value, time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)},
		{"work and ending", []string{s.Work, s.EndsAs}, []string{"collision", "sealed"}},
		// (70 − 32) ÷ 1.8 = 21.1111, (75 − 32) ÷ 1.8 = 23.8889
		{"the booth's air in °C", span(s.Booth.Air), "21.1111..23.8889 in °F"},
		{"the booth's panel", span(s.Booth.Panel), "21..21 in °C"},
		{"the booth's humidity", span(s.Booth.Humidity), "0..50 in %"},
		{"where and region", []string{s.Booth.Where.Value, s.Region}, []string{"prep bay", "quebec"}},
		{"the substrate by its own name", s.Panel.Substrate.Value, "mild steel"},
		{"the plastic as the list spells it", s.Panel.Plastic.Value, "TPO"},
		{"rust and faces", []string{s.Panel.Rust.Value, s.Panel.Faces.Value}, []string{"pitted", "underside"}},
		{"year", s.Panel.Year.Value, 1961},
		// 2 m² ÷ 0.09290304 = 21.5278 ft²
		{"area in ft²", span(s.Panel.Area), "21.5278..21.5278 in m2"},
		{"what the panel carries", fmt.Sprint(s.Panel.Carries[0].Kind, "/", s.Panel.Carries[0].Condition, "/", span(s.Panel.Carries[0].Film), " ",
			s.Panel.Carries[1].Kind, "/", s.Panel.Carries[1].Condition, "/", span(s.Panel.Carries[1].Film)), "e-coat/sound/not written factory finish/chalking/4..6 in mil"},
		{"the zones", []string{s.Zones[0].Name, s.Zones[1].Name}, []string{"dent", "rail"}},
		{"a zone's own words", []string{s.Zones[0].Substrate.Value, s.Zones[0].Plastic.Value, s.Zones[0].Rust.Value, s.Zones[0].Role.Value, s.Zones[0].Faces.Value, s.Zones[0].Edge.Value}, []string{"aluminum", "PUR", "none", "repair", "cavity", "open"}},
		{"an empty list of films is bare, and written", fmt.Sprint(len(s.Zones[0].Carries), s.Zones[0].CarriesWritten), "0 true"},
		{"what a zone leaves out is not written", fmt.Sprint(s.Zones[1].Substrate.Written, s.Zones[1].CarriesWritten, s.Zones[1].Area.Written), "false false false"},
		{"there is a rest, for one zone's area is open", s.HasRest(), true},

		{"the cards in reach", strings.Join(s.CardNames, " "), "degreaser paste red seam slow-reducer urethane-hardener white"},
		{"the sheet's own card wins over the shelf's", fmt.Sprint(white.Label.Value, " ", white.Own, " ", white.Kind), "Cab white true single-stage urethane"},
		{"a shelf's card is not the sheet's own", s.Cards["red"].Own, false},
		{"the data sheet", fmt.Sprint(white.DataSheet.Number.Value, white.DataSheet.Issued.Value.Format(" 2006-01-02"), white.DataSheet.Checked.Value.Format(" 2006-01-02"), " ", white.DataSheet.Written), "T-1 2025-06-01 2026-01-12 true"},
		{"the safety sheet", fmt.Sprint(white.SafetySheet.Number.Value, white.SafetySheet.Checked.Written), "S-1false"},
		{"mix", fmt.Sprint(white.Mix.Parts, white.Mix.Base, white.Mix.Hardener, white.Mix.Reducer), "3 4 1 1"},
		{"one hardener without brackets", white.Hardener.Values, []string{"urethane-hardener"}},
		{"reducers", white.Reducer.Values, []string{"slow-reducer", "fast-reducer"}},
		{"reduction over 100 %", span(white.ReduceUpTo), "150..150 in %"},
		{"induction and pot life", span(white.Induction) + ", " + span(white.PotLife), "15..15 in min, 120..120 in h"},
		{"volume solids", span(white.VolumeSolids), "48..48 in %"},
		// 3.5 lb/gal × 453.59237 g ÷ 3.785411784 L = 419.392 g/L
		{"VOC in g/L", span(white.VOC), "419.392..419.392 in lb/gal"},
		{"density in g/L", span(white.Density), "1200..1200 in g/mL"},
		{"film", span(white.Film), "2..3 in mil"},
		// 100 µm ÷ 25.4 = 3.93701 mil
		{"wettest coat in mil", span(white.WetMax), "3.93701..3.93701 in µm"},
		{"coats as a number without quotes", span(white.Coats), "2..2"},
		{"a flash until matte", span(white.Flash), "0..open until matte"},
		{"longest flash", span(white.FlashMost), "60..60 in h"},
		{"recoat before paint", windowOf(white.Recoat["paint"]), "least 60..60 in h, most 4320..4320 in h, any false"},
		{"recoat before filler, without end", windowOf(white.Recoat["filler"]), "least 720..720 in h, most not written, any true"},
		{"recoat before polyester, the least alone", windowOf(white.Recoat["polyester"]), "least 720..720 in h, most not written, any false"},
		{"dead time", span(white.NoRecoat), "240..2880 in h"},
		{"fill after", span(white.FillAfter), "720..720 in h"},
		{"tape after a night, 12 to 16 h", span(white.TapeAfter), "720..960 in h"},
		{"wet on wet", fmt.Sprint(white.WetOnWet.Value, white.WetOnWet.Written), "true true"},
		// 4 in² ÷ 144 = 0.0277778 ft²
		{"spot of metal in ft²", span(white.SpotMetal), "0.0277778..0.0277778 in in2"},
		{"effect, whatever its case", white.Effect.Value, "metallic"},
		// (55 − 32) ÷ 1.8 = 12.7778
		{"lowest cure", span(white.LowestCure), "12.7778..12.7778 in °F"},
		{"sand, settle, polish", span(white.SandAfter) + ", " + span(white.Settles) + ", " + span(white.PolishAfter), "960..960 in h, 1440..1440 in h, 1200..1200 in h"},
		// (140 − 32) ÷ 1.8 = 60, (160 − 32) ÷ 1.8 = 71.1111
		{"bake", fmt.Sprint(span(white.Bake.Metal), ", ", span(white.Bake.For), ", ", span(white.Bake.FlashFirst), ", ", span(white.Bake.MaxMetal)), "60..60 in °F, 30..30 in min, 15..15 in min, 71.1111..71.1111 in °F"},
		// (68 − 32) ÷ 1.8 = 20, (77 − 32) ÷ 1.8 = 25
		{"times hold at", span(white.TimesAt), "20..25 in °F"},
		{"air and humidity", span(white.Air) + ", " + span(white.Humidity), "15.5556..35 in °F, 0..80 in %"},
		// 1.3 mm ÷ 0.0254 = 51.1811 mil, 1.5 mm ÷ 0.0254 = 59.0551 mil
		{"tip and pressure", span(white.Tip) + ", " + span(white.Pressure), "51.1811..59.0551 in mm, 26..29 in psi"},
		{"grit beneath", white.GritBeneath.Coarse.Name + " to " + white.GritBeneath.Fine.Name, "P320 to P1000"},
		{"sandable", fmt.Sprint(white.Sandable.Value, white.Sandable.Written), "true true"},
		{"direct to some metals, by their own names", white.DirectTo.Values, []string{"aluminum", "mild steel"}},
		{"direct to metal is then no flag", white.DirectToMetal.Written, false},
		{"what it goes on, by its own name", white.GoesOn.Values, []string{"epoxy primer", "e-coat"}},
		{"what it keeps off", white.KeepOff.Values, []string{"aged lacquer"}},
		{"flags that differ", fmt.Sprint(white.WetSandable.Value, white.HoldsOutWater.Value, white.Weatherproof.Value, white.Weatherproof.Written, white.Flexible.Written), "true true false true true"},
		{"hazards", white.Hazards.Values, []string{"isocyanate", "flammable"}},
		{"another use has its own kind and mix", fmt.Sprint(primer.Kind, " ", primer.Use, " ", primer.Mix.Parts, " ", primer.Name), "urethane surfacer primer 2 white"},
		{"its own window replaces the whole table", fmt.Sprint(len(primer.Recoat), " ", windowOf(primer.Recoat["paint"])), "1 least 30..30 in min, most 10080..10080 in days, any false"},
		{"its own flag replaces the list of metals", fmt.Sprint(primer.DirectToMetal.Value, primer.DirectTo.Written), "true false"},
		{"its own note replaces the whole note", fmt.Sprint(primer.DataSheet.Number.Value, primer.DataSheet.Issued.Written), "T-2false"},
		{"it has the main card's keys under its own", fmt.Sprint(span(primer.Film), " ", primer.Label.Value, " ", primer.Keys["film"].Line == white.Keys["film"].Line), "2..3 in mil Cab white true"},
		{"the main card keeps its own", fmt.Sprint(white.Mix.Parts, len(white.Recoat), white.Use), "3 3"},
		{"paste hardener by weight", fmt.Sprint(s.Cards["paste"].Mix.Parts, s.Cards["paste"].Mix.Paste.Lo), "0 2"},
		{"an everyday name of filler", s.Cards["paste"].Kind, "body filler"},
		{"a window that never shuts", windowOf(s.Cards["paste"].Recoat["paint"]), "least 0..0, most not written, any true"},

		{"steps are numbered from 1", fmt.Sprint(len(s.Steps), s.Steps[0].N, s.Steps[23].N), "24 1 24"},
		{"a strip", []string{step(1).Tool.Value, step(1).Media.Value, step(1).DownTo.Value, step(1).Where.Value, step(1).Call}, []string{"blast", "glass bead", "e-coat", "cabinet", "bare"}},
		{"its grade in the other system", fmt.Sprint(step(1).Grit.Name, " ", step(1).Grit.System), "80 grit grit"},
		{"its profile", span(step(1).Profile), "1.5..1.5 in mil"},
		{"its zones less those taken out", fmt.Sprint(step(1).On.Values, step(1).Except.Values, step(1).Zones), "[rail panel] [rail] [panel]"},
		{"its times", span(step(1).For) + ", " + span(step(1).ThenWait), "30..30 in min, 60..60 in h"},
		{"its weather", span(step(1).Air) + ", " + span(step(1).Weather.Panel) + ", " + span(step(1).Humidity), "20..20 in °F, 18.8889..18.8889 in °F, 40..40 in %"},
		{"its protection and words", fmt.Sprint(step(1).Wear.Values, step(1).Says.Values), "[blast hood gloves] [Hood on.]"},
		{"a bare number is a P grade and told as bare", fmt.Sprint(step(2).Grit.Name, step(2).Grit.Bare), "P80true"},
		{"a tool by another name", step(2).Tool.Value, "sander"},
		{"wet that is false is written", fmt.Sprint(step(2).Wet.Value, step(2).Wet.Written, step(2).Feathers.Value), "false true true"},
		{"what it takes off", span(step(2).TakesOff), "0.5..1 in mil"},
		{"its cuts", fmt.Sprint(step(2).CutsTo[0].To, "/", step(2).CutsTo[0].Call, " ", step(2).CutsTo[1].To, "/", step(2).CutsTo[1].Call, "/", span(step(2).CutsTo[1].Area)), "substrate/ e-coat/rub/0.0694444..0.0694444 in in2"},
		{"no zones are all zones", fmt.Sprint(step(2).Zones == nil, step(2).On.Written), "true false"},
		{"a grade without quotes is bare too", fmt.Sprint(step(3).Grit.Name, step(3).Grit.Bare), "P180true"},
		{"all zones but two", step(3).Zones, []string{"rail", "panel"}},
		{"a guide coat", step(3).GuideCoat.Value, true},
		{"a pad by its grade alone", fmt.Sprint(step(4).Pad.Name, " ", step(4).Pad.System), "fine pad pad"},
		{"on a cut zone", step(4).Zones, []string{"rub"}},
		{"a pad as grit", step(5).Grit.Name, "very fine pad"},
		{"on a cut that has no name of its own", step(5).On.Values, []string{"panel cut to mild steel"}},
		{"a wipe with a card", []string{step(6).With.Value, step(6).WithCard, step(6).WithKind}, []string{"degreaser", "degreaser", "wax and grease remover"}},
		{"a treatment with a kind's everyday name", []string{step(9).With.Value, step(9).WithCard, step(9).WithKind}, []string{"metal prep", "", "acid wash"}},
		{"a rinse", span(step(10).DriedWithin), "5..5 in min"},
		{"tape", fmt.Sprint(step(12).On.Values, step(12).Over.Values), "[dent] [rail rub]"},
		{"the card that is laid, for its use", step(14).Card == primer, true},
		{"its coats", fmt.Sprint(step(14).Coats.Value, span(step(14).WetFilm), span(step(14).Between)), "33..3 in mil10..10 in min"},
		// (4 + 1) × 10 % = 0.5
		{"its mix", fmt.Sprint(step(14).Mix.Base, step(14).Mix.Hardener, step(14).Mix.Reducer), "4 1 0.5"},
		{"its hardener has a card", fmt.Sprint(step(14).HardenerCard == s.Cards["urethane-hardener"], step(14).HardenerKind), "truehardener"},
		{"its reducer is a kind without a card", fmt.Sprint(step(14).ReducerCard == nil, step(14).ReducerKind), "truelacquer thinner"},
		{"its additive is a kind without a card", fmt.Sprint(step(14).AdditiveCard == nil, step(14).AdditiveKind), "truefisheye additive"},
		{"its cup", fmt.Sprint(span(step(14).Stood), " ", span(step(14).Batch), " ", step(14).FreshCup.Value), "15..15 in min 0.946353..0.946353 in qt true"},
		{"where it fades", fmt.Sprint(step(14).Fades.All, step(14).Fades.Zones), "false [rail rub]"},
		{"its gun, whatever its case", step(14).Gun.Value, "hvlp"},
		// 1.4 mm ÷ 0.0254 = 55.1181 mil; 2 bar × 14.5038 psi = 29.0075 psi
		{"its tip and pressure", span(step(14).Tip) + ", " + span(step(14).Pressure), "55.1181..55.1181 in mm, 29.0075..29.0075 in bar"},
		{"one coat where none is written", fmt.Sprint(step(15).Coats.Value, step(15).Coats.Written), "1 false"},
		{"a fade everywhere", fmt.Sprint(step(15).Fades.All, step(15).Fades.Written), "true true"},
		// 2 mm ÷ 0.0254 = 78.7402 mil
		{"thickness and paste", span(step(16).Thickness) + fmt.Sprint(" ", step(16).Mix.Paste.Lo, " ", step(16).Mix.Paste.Hi), "78.7402..78.7402 in mm 1 3"},
		{"a cut to a call, named by the step's own", fmt.Sprint(step(18).CutsTo[0].To, " ", step(18).CutsTo[0].ToCall, " ", step(18).CutsTo[0].Call), "first true third block"},
		{"a bake", fmt.Sprint(span(step(19).Metal), " ", span(step(19).For), " ", step(19).By.Value, step(19).Zones), "60..60 in °F 30..30 in min lamp[third block]"},
		{"a night, 12 to 16 h", span(step(20).For), "720..960 in h"},
		{"metalwork", fmt.Sprint(span(step(21).For), step(21).Where.Value, step(21).Welding.Value), "60..60 in hopen shoptrue"},
		{"two weeks outdoors", span(step(22).For) + step(22).Where.Value, "20160..20160 in weeksoutdoors"},
		{"a polish", step(23).WithKind + " " + span(step(23).TakesOff), "polishing compound 0.1..0.1 in mil"},
		{"measures", step(24).Measure.Values, []string{"film", "color"}},
		{"a waiver by call", fmt.Sprint(s.Waivers[0].Rule.Value, " ", s.Waivers[0].StepN, " ", s.Waivers[0].Zone.Value, " ", s.Waivers[0].Reason.Value, " ", s.Waivers[0].By.Value, s.Waivers[0].Until.Value.Format(" 2006-01-02")), "stack-too-thick 14 rub show finish foreman 2027-03-01"},
		{"a waiver by number", fmt.Sprint(s.Waivers[1].StepN, s.Waivers[1].Until.Written), "2 false"},
	} {
		if !reflect.DeepEqual(test.got, test.want) {
			t.Errorf("%s: %v, want %v", test.name, test.got, test.want)
		}
	}
}

// The sheet above has every key that there is.
func TestTheFullSheetHasEveryKeyOfTheLanguage(t *testing.T) {
	text, err := os.ReadFile("../../testdata/sheet/full.toml")
	if err != nil {
		t.Fatal(err)
	}
	x, fault := NewIndex("full.toml", text)
	if fault != nil {
		t.Fatal(fault)
	}
	written := map[string]bool{}
	x.Walk(func(n *Node) {
		if n.Parent != nil {
			written[n.Name] = true
		}
	})
	verbsSeen := map[string]bool{}
	for _, step := range x.Find("step").Children {
		verbsSeen[strings.Trim(string(x.Slice(step.Get("do").Value)), `"`)] = true
	}
	var look func(keys []Key)
	look = func(keys []Key) {
		for _, k := range keys {
			if !written[k.Name] {
				t.Errorf("the key %s is nowhere", k.Name)
			}
			look(k.Fields)
		}
	}
	look(SheetKeys())
	look(StepKeys())
	for _, v := range Verbs() {
		look(v.Keys)
		if !verbsSeen[v.Do] {
			t.Errorf("no step does %s", v.Do)
		}
	}
}

func TestASheetOfNothingButWhatIsRequiredHasItsDefaults(t *testing.T) {
	s, problems := ReadText(options(t), "door.toml", []byte("format = 1\nsheet.title = \"Door\"\npanel.substrate = \"mild steel\"\n[[step]]\ndo = \"tack\"\n"))
	if s == nil {
		t.Fatal(problems)
	}
	for _, test := range []struct {
		name      string
		got, want any
	}{
		{"restoration", s.Work, "restoration"},
		{"finished", s.EndsAs, "finished"},
		{"in the booth", fmt.Sprint(s.Booth.Where.Value, s.Booth.Where.Written), "boothfalse"},
		{"no region", s.Region, ""},
		{"no rust", fmt.Sprint(s.Panel.Rust.Value, s.Panel.Rust.Written), "nonefalse"},
		{"a plastic that is not known", fmt.Sprint(s.Panel.Plastic.Value, s.Panel.Plastic.Written), "unknownfalse"},
		{"bare", fmt.Sprint(len(s.Panel.Carries), s.Panel.CarriesWritten), "0 false"},
		{"faces the weather", s.Panel.Faces.Value, "weather"},
		{"one zone, the panel", fmt.Sprint(len(s.Zones), s.HasRest()), "0 true"},
		{"no weather", fmt.Sprint(s.Booth.Air.Written, s.Booth.Panel.Written, s.Booth.Humidity.Written), "false false false"},
		{"nothing worn", fmt.Sprint(len(s.Steps[0].Wear.Values), s.Steps[0].Wear.Written), "0 false"},
	} {
		if !reflect.DeepEqual(test.got, test.want) {
			t.Errorf("%s: %v, want %v", test.name, test.got, test.want)
		}
	}
}

func TestZonesThatAddUpToThePanelLeaveNoRest(t *testing.T) {
	read := func(first, second, panel, on string) (*Sheet, []Problem) {
		return ReadText(options(t), "door.toml", []byte(`format = 1
sheet.title = "Door"
panel.substrate = "mild steel"
panel.area = "`+panel+`"
[[zone]]
name = "a"
area = "`+first+`"
[[zone]]
name = "b"
area = "`+second+`"
[[step]]
do = "tack"
on = "`+on+`"
`))
	}
	for _, test := range []struct {
		name, first, second, panel string
		rest                       bool
	}{
		{"to the foot", "4 ft2", "6 ft2", "10 ft2", false},
		// 720 in² = 5 ft²; 1 m² = 10.7639104 ft²
		{"in unlike units", "720 in2", "5.7639104167 ft2", "1 m2", false},
		// 4 + 6 ft² at the least, and the panel has 10 ft² at the most.
		{"as a range that cannot be less", "4-5 ft2", "6-7 ft2", "9-10 ft2", false},
		{"as ranges that may be less", "2-4 ft2", "3-6 ft2", "5-10 ft2", true},
		{"less than the panel", "4 ft2", "5 ft2", "10 ft2", true},
		{"a range that may be less", "4 ft2", "5-6 ft2", "10 ft2", true},
	} {
		s, problems := read(test.first, test.second, test.panel, "a")
		if s == nil {
			t.Errorf("%s: %v", test.name, problems)
		} else if s.HasRest() != test.rest {
			t.Errorf("%s: a rest is %v", test.name, s.HasRest())
		}
		s, problems = read(test.first, test.second, test.panel, "panel")
		switch {
		case test.rest && s == nil:
			t.Errorf("%s: the rest cannot be named: %v", test.name, problems)
		case !test.rest && (s != nil || len(problems) != 1 || !strings.Contains(problems[0].Message, "nothing is left over")):
			t.Errorf("%s: the rest that is not there is named, and it says %v", test.name, problems)
		}
	}
}

// A cut zone may be named in every way that a painter would.
func TestCutZonesAreReachedByTheirNames(t *testing.T) {
	for _, test := range []struct{ name, cut, on, zone string }{
		{"by the cut's call", `cuts_to = {to = "e-coat", call = "rub"}`, "rub", "rub"},
		{"by the step's call where the only cut has none", "call = \"rub\"\ncuts_to = \"e-coat\"", "rub", "rub"},
		{"by the step's call in a list of one", "call = \"rub\"\ncuts_to = [\"e-coat\"]", "rub", "rub"},
		{"by zone and kind", `cuts_to = "e-coat"`, "panel cut to e-coat", "panel cut to e-coat"},
		{"by zone and kind as written", `cuts_to = "electrocoat"`, "dent cut to electrocoat", "dent cut to e-coat"},
		{"by zone and substrate", `cuts_to = "substrate"`, "panel cut to substrate", "panel cut to mild steel"},
		{"by zone and the substrate's kind", `cuts_to = "substrate"`, "panel cut to mild steel", "panel cut to mild steel"},
		{"by call and zone where it is cut in several", `cuts_to = {to = "e-coat", call = "rub"}`, "rub (dent)", "rub (dent)"},
		{"by zone and kind though the step has a call", "call = \"rub\"\ncuts_to = \"e-coat\"", "panel cut to e-coat", "rub"},
		{"as a list", `cuts_to = [{to = "e-coat", call = "rub"}, "substrate"]`, `rub", "dent`, "rub"},
		{"by a cut of a cut", `cuts_to = ["e-coat", "substrate"]`, "dent cut to e-coat cut to substrate", "dent cut to e-coat cut to mild steel"},
	} {
		t.Run(test.name, func(t *testing.T) {
			s, problems := ReadText(options(t), "door.toml", []byte(`format = 1
sheet.title = "Door"
panel.substrate = "mild steel"
panel.carries = ["e-coat", "factory finish"]
[[zone]]
name = "dent"
[[step]]
do = "sand"
grit = "P180"
`+test.cut+`
[[step]]
do = "tack"
on = ["`+test.on+`"]
`))
			if s == nil {
				t.Fatal(problems)
			}
			if on := s.Steps[1].On.Values[0]; on != test.zone {
				t.Errorf("it reaches %q, want %q", on, test.zone)
			}
		})
	}
}

func TestACutWithACallIsNotCalledByZoneAndKind(t *testing.T) {
	_, problems := ReadText(options(t), "door.toml", []byte(`format = 1
sheet.title = "Door"
panel.substrate = "mild steel"
panel.carries = ["e-coat", "factory finish"]
[[step]]
do = "sand"
grit = "P180"
cuts_to = {to = "e-coat", call = "rub"}
[[step]]
do = "tack"
on = "panel cut to e-coat"
`))
	if len(problems) != 1 || problems[0].Place.Line != 11 || !strings.Contains(problems[0].Message, "there is no zone") {
		t.Error(problems)
	}
}

func TestTheExampleSheetsAreRead(t *testing.T) {
	r := NewReader(Options{Root: "../../specs-examples"})
	defer func() { _ = r.Close() }()
	read := 0
	for _, f := range examples(t) {
		name, ok := strings.CutPrefix(f, "../../specs-examples/")
		if !ok || !strings.Contains(name, "/") {
			continue
		}
		s, problems := r.Read(name)
		for _, line := range told(problems) {
			t.Error(line)
		}
		if s == nil {
			continue
		}
		read++
		for _, st := range s.Steps {
			if laying[st.Do] && (st.Card == nil || st.Card.Place.File == "") {
				t.Errorf("%s: step %d lays no card", name, st.N)
			}
		}
	}
	if read < 10 {
		t.Errorf("only %d examples are sheets", read)
	}
}
