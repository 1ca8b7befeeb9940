package trade

import (
	"encoding/json"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"guidecoat/internal/quantity"
	"guidecoat/policies"
)

// referenceDir holds the published values, one table a subject.
const referenceDir = "../../testdata/reference"

// reference is one row of a table: what is asked, of what, and what a source
// says it is, give or take.
type reference struct {
	Of        string         `json:"of"`
	Given     map[string]any `json:"given"`
	Want      any            `json:"want"` // a number, or the two ends of a range
	Unit      string         `json:"unit"`
	Tolerance float64        `json:"tolerance"`
	Source    string         `json:"source"`
	Status    string         `json:"status"`
	Note      string         `json:"note"`
}

// statuses say how a value was come by; see 4-reference.md.
var statuses = []string{"read", "second", "memory", "calc", "common practice"}

func TestReferenceValues(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(referenceDir, "*.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no tables in %s: %v", referenceDir, err)
	}
	asked := map[string]bool{}
	for _, file := range files {
		if filepath.Base(file) == "defects.json" {
			continue // words, not values: see TestDefectWordsAreThoseOfTheRules
		}
		var table struct {
			About string      `json:"about"`
			Rows  []reference `json:"rows"`
		}
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(data, &table); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		if table.About == "" || len(table.Rows) == 0 {
			t.Errorf("%s says nothing", file)
		}
		for i, row := range table.Rows {
			if row.Source == "" || !slices.Contains(statuses, row.Status) {
				t.Errorf("%s row %d: source %q, status %q", file, i+1, row.Source, row.Status)
			}
			answer, ok := answers[row.Of]
			if !ok {
				t.Errorf("%s row %d: nothing here works out %q", file, i+1, row.Of)
				continue
			}
			asked[row.Of] = true
			t.Run(filepath.Base(file)+"/"+row.Of, func(t *testing.T) {
				given := given{t, row.Given}
				got := answer(given, row.Unit)
				want := ends64(t, row.Want)
				if math.Abs(got.Lo-want.Lo) > row.Tolerance || math.Abs(got.Hi-want.Hi) > row.Tolerance || math.IsNaN(got.Lo+got.Hi) {
					t.Errorf("row %d, %v: %v %s, want %v ± %v (%s; %s)",
						i+1, row.Given, got, row.Unit, want, row.Tolerance, row.Source, row.Status)
				}
			})
		}
	}
	for of := range answers {
		if !asked[of] {
			t.Errorf("no table asks for %q", of)
		}
	}
}

func ends64(t *testing.T, want any) quantity.Interval {
	t.Helper()
	switch w := want.(type) {
	case float64:
		return quantity.Exactly(w)
	case []any:
		if len(w) == 2 {
			lo, _ := w[0].(float64)
			hi, _ := w[1].(float64)
			return quantity.Interval{Lo: lo, Hi: hi}
		}
	}
	t.Fatalf("want %v is neither a number nor two", want)
	return quantity.Interval{}
}

// given reads what a row is asked of, as a sheet writes it.
type given struct {
	t    *testing.T
	keys map[string]any
}

func (g given) text(key string) string { s, _ := g.keys[key].(string); return s }

func (g given) number(key string) float64 {
	v, ok := g.keys[key].(float64)
	if !ok {
		g.t.Fatalf("given has no number %q", key)
	}
	return v
}

func (g given) of(dim quantity.Dimension, key string) quantity.Interval {
	g.t.Helper()
	q, err := quantity.Parse(dim, g.text(key))
	if err != nil {
		g.t.Fatalf("given %s: %v", key, err)
	}
	return q.Interval
}

func (g given) grade(key string) quantity.Abrasive {
	g.t.Helper()
	a, err := quantity.ParseAbrasive(g.text(key))
	if err != nil {
		g.t.Fatalf("given %s: %v", key, err)
	}
	return a
}

// reducerShare is given as a share of base and hardener, or by a mix.
func (g given) reducerShare() float64 {
	g.t.Helper()
	switch {
	case g.text("reducer") != "":
		return g.of(quantity.Share, "reducer").Lo / 100
	case g.text("mix") != "":
		m, err := quantity.ParseMix(g.text("mix"))
		if err != nil {
			g.t.Fatalf("given mix: %v", err)
		}
		return m.ReducerShare()
	}
	return 0
}

// in turns an interval from the canonical unit into the row's.
func in(dim quantity.Dimension, iv quantity.Interval, unit string) quantity.Interval {
	lo, ok := quantity.Convert(iv.Lo, dim, unit)
	hi, _ := quantity.Convert(iv.Hi, dim, unit)
	if !ok {
		return quantity.Interval{Lo: math.NaN(), Hi: math.NaN()}
	}
	return quantity.Interval{Lo: lo, Hi: hi}
}

func converts(dim quantity.Dimension) func(given, string) quantity.Interval {
	return func(g given, unit string) quantity.Interval { return in(dim, g.of(dim, "text"), unit) }
}

// answers works out each thing that a table asks for, in the row's unit.
var answers = map[string]func(g given, unit string) quantity.Interval{
	"median particle":   func(g given, _ string) quantity.Interval { return g.grade("grade").Microns },
	"coarsest of a pad": func(g given, _ string) quantity.Interval { return quantity.Exactly(g.grade("grade").Microns.Hi) },
	"finest of a pad":   func(g given, _ string) quantity.Interval { return quantity.Exactly(g.grade("grade").Microns.Lo) },
	"ratio of medians":  func(g given, _ string) quantity.Interval { return GradeRatio(g.grade("from"), g.grade("to")) },

	"dew point": func(g given, unit string) quantity.Interval {
		d := DewPoint(g.of(quantity.Temperature, "air").Lo, g.of(quantity.Share, "humidity").Lo)
		return in(quantity.Temperature, quantity.Exactly(d), unit)
	},
	"saturation pressure": func(g given, _ string) quantity.Interval {
		return quantity.Exactly(SaturationPressure(g.of(quantity.Temperature, "air").Lo))
	},
	"dampest air at a margin": func(g given, _ string) quantity.Interval {
		air := g.of(quantity.Temperature, "air").Lo
		return quantity.Exactly(HumidityAt(air, air-g.of(quantity.TempMargin, "margin").Lo))
	},

	"wet film": func(g given, unit string) quantity.Interval {
		return in(quantity.Film, WetFilm(g.of(quantity.Film, "dry"), g.of(quantity.Share, "solids")), unit)
	},
	"dry film": func(g given, unit string) quantity.Interval {
		solids := SolidsInGun(g.of(quantity.Share, "solids"), g.reducerShare())
		return in(quantity.Film, DryFilm(g.of(quantity.Film, "wet"), solids), unit)
	},
	"solids in the gun": func(g given, _ string) quantity.Interval {
		return SolidsInGun(g.of(quantity.Share, "solids"), g.reducerShare())
	},
	"spreading rate": func(g given, unit string) quantity.Interval {
		solids, dry := g.of(quantity.Share, "solids"), g.of(quantity.Film, "dry")
		if unit == "ft2/gal" {
			return SpreadingRate(solids, dry)
		}
		return SpreadingRateMetric(solids, in(quantity.Film, dry, "µm"))
	},
	"practical rate": func(g given, unit string) quantity.Interval {
		return in(quantity.Coverage, PracticalRate(g.of(quantity.Coverage, "rate"), g.of(quantity.Share, "loss")), unit)
	},
	"paint needed": func(g given, unit string) quantity.Interval {
		return in(quantity.Volume, PaintNeeded(g.of(quantity.Film, "dry"), g.of(quantity.Area, "area"),
			g.of(quantity.Share, "solids"), g.of(quantity.Share, "transfer"), g.of(quantity.Share, "waste")), unit)
	},
	"transfer": func(g given, _ string) quantity.Interval {
		l, ok := LimitNamed("transfer_" + g.text("gun"))
		if !ok {
			g.t.Fatalf("no limit for a %s gun", g.text("gun"))
		}
		return l.Restoration.Interval
	},

	"voc as applied": func(g given, unit string) quantity.Interval {
		return in(quantity.Concentration, VOCAsApplied(g.of(quantity.Concentration, "voc"), g.number("share"),
			g.of(quantity.Concentration, "reducer")), unit)
	},
	"most reducer": func(g given, unit string) quantity.Interval {
		// In gallons and pounds a gallon throughout.
		pounds := func(key string) float64 {
			return in(quantity.Concentration, g.of(quantity.Concentration, key), "lb/gal").Lo
		}
		gallons := in(quantity.Volume, g.of(quantity.Volume, "volume"), unit).Lo
		most, ok := MostReducer(gallons, g.number("pounds"), pounds("reducer"), pounds("limit"))
		if !ok {
			g.t.Fatal("the reducer never reaches the limit")
		}
		return quantity.Exactly(most)
	},
	"voc less water": func(g given, _ string) quantity.Interval {
		parts, _ := g.keys["parts"].([]any)
		mass, volume := 0.0, 0.0
		for _, p := range parts {
			part := given{g.t, p.(map[string]any)}
			mass += part.number("volume") * part.number("voc")
			volume += part.number("volume")
		}
		// The water is volatile too, at whatever it weighs: 8.3 lb/gal (about).
		water := g.number("water")
		voc, ok := VOCLessWater(mass+8.3*water, 8.3*water, 0, volume+water, water, 0)
		if !ok {
			g.t.Fatal("nothing but water")
		}
		return quantity.Exactly(voc)
	},
	"voc system": func(g given, unit string) quantity.Interval {
		var mids []quantity.Interval
		list, _ := g.keys["mids"].([]any)
		for _, m := range list {
			mids = append(mids, given{g.t, map[string]any{"mid": m}}.of(quantity.Concentration, "mid"))
		}
		return in(quantity.Concentration,
			VOCSystem(g.of(quantity.Concentration, "base"), mids, g.of(quantity.Concentration, "clear")), unit)
	},
	"voc limit": func(g given, unit string) quantity.Interval {
		row, ok := VOCLimit(g.text("region"), g.text("kind"))
		if !ok || row.Category != g.text("category") {
			g.t.Errorf("%s falls in %q, want %q", g.text("kind"), row.Category, g.text("category"))
		}
		return in(quantity.Concentration, quantity.Exactly(row.Limit), unit)
	},
	"voc system limit": func(g given, unit string) quantity.Interval {
		row, _ := VOCSystemLimit(g.text("region"), int(g.number("mids")))
		return in(quantity.Concentration, quantity.Exactly(row.Limit), unit)
	},
	"no voc limit": func(g given, _ string) quantity.Interval {
		row, ok := VOCLimit(g.text("region"), g.text("kind"))
		if ok {
			g.t.Errorf("%s has a limit in %s: %v", g.text("kind"), g.text("region"), row)
		}
		return quantity.Exactly(row.Limit)
	},

	"film":          converts(quantity.Film),
	"volume":        converts(quantity.Volume),
	"temperature":   converts(quantity.Temperature),
	"margin":        converts(quantity.TempMargin),
	"concentration": converts(quantity.Concentration),
	"area":          converts(quantity.Area),
	"pressure":      converts(quantity.Pressure),
	"coverage":      converts(quantity.Coverage),
	"time":          converts(quantity.Time),

	"time factor": func(g given, _ string) quantity.Interval {
		return TimeFactorFrom(g.of(quantity.Temperature, "card"), g.of(quantity.Temperature, "panel"))
	},
	"removal": func(g given, _ string) quantity.Interval {
		edge := g.text("role") == "edge"
		if g.keys["compound"] == true {
			return CompoundRemoval(edge)
		}
		return Removal(g.grade("grade"), g.text("tool"), edge)
	},
	"scratch depth": func(g given, _ string) quantity.Interval {
		name := "depth_other"
		if Orbital(g.text("tool")) {
			name = "depth_sander"
		}
		l, _ := LimitNamed(name)
		return ScratchDepth(g.grade("grade").Microns, l.Restoration.Lo)
	},
}

// Every grade that reads has its row in the table, so that none goes unproven.
func TestEveryGradeHasAReferenceValue(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(referenceDir, "grades.json"))
	if err != nil {
		t.Fatal(err)
	}
	var table struct{ Rows []reference }
	if err := json.Unmarshal(data, &table); err != nil {
		t.Fatal(err)
	}
	proven := map[string]bool{}
	for _, row := range table.Rows {
		if g, ok := row.Given["grade"].(string); ok {
			proven[g] = true
		}
	}
	for _, system := range []quantity.System{quantity.FEPA, quantity.CAMI} {
		for _, n := range quantity.Grades(system) {
			name := "P" + quantity.FormatNumber(float64(n))
			if system == quantity.CAMI {
				name = quantity.FormatNumber(float64(n)) + " grit"
			}
			if !proven[name] {
				t.Errorf("%s has no reference value", name)
			}
		}
	}
	for _, name := range quantity.PadNames() {
		if !proven[name] {
			t.Errorf("%s has no reference value", name)
		}
	}
}

// The table of defect words is about words that the rules use.
func TestDefectWordsAreThoseOfTheRules(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(referenceDir, "defects.json"))
	if err != nil {
		t.Fatal(err)
	}
	var table struct {
		Rows []struct{ Defect, Term, Source, Status string }
	}
	if err := json.Unmarshal(data, &table); err != nil {
		t.Fatal(err)
	}
	var said strings.Builder // every defect line of every rule
	err = fs.WalkDir(policies.Files, ".", func(path string, _ fs.DirEntry, err error) error {
		if err != nil || !strings.HasSuffix(path, "/rule.rego") {
			return err
		}
		rule, err := policies.Files.ReadFile(path)
		for line := range strings.Lines(string(rule)) {
			if _, defect, ok := strings.Cut(line, "#   defect:"); ok {
				said.WriteString(defect)
			}
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, row := range table.Rows {
		if !strings.Contains(said.String(), row.Defect) {
			t.Errorf("no rule names %q as its defect", row.Defect)
		}
		if seen[row.Defect] {
			t.Errorf("%q stands twice", row.Defect)
		}
		seen[row.Defect] = true
		// Nobody here has seen the standard: a term is from memory, and where
		// there is none the word is the trade's.
		want := "memory"
		if row.Term == "" {
			want = "common practice"
		}
		if row.Status != want || row.Source == "" {
			t.Errorf("%q: source %q, status %q, want %q", row.Defect, row.Source, row.Status, want)
		}
	}
	if len(table.Rows) == 0 {
		t.Error("the table is empty")
	}
}
