package trade

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"guidecoat/internal/quantity"
	"guidecoat/policies"
)

// want is one kind as 3-rulebook.md 'Typical numbers' and the rulings have it:
// numbers in canonical units (min, mil, %), worked out by hand from the table.
// All of it is common practice, from memory.
type want struct {
	role, class string
	parts       int
	traits      string
	hazards     string
	film        string // "lo hi" in mil, "" for none
	recoat      string // "least most" in min; "any", "never" for the most; "" for none
	dead        string // no_recoat
	flash       string // min, or "matte"
	sand        string // min, or "never"
	settles     string
	solids      string
	pot         string
	fill        string // min, "never"; with "sanded" behind it
	tape        string
	polish      string
	grit        string // "P80 P600"
}

var wanted = map[string]want{
	"mild steel":             {role: "substrate", class: "substrate", traits: "metal sandable steel"},
	"galvanized steel":       {role: "substrate", class: "substrate", traits: "metal sandable zinc"},
	"aluminum":               {role: "substrate", class: "substrate", traits: "metal sandable"},
	"stainless steel":        {role: "substrate", class: "substrate", traits: "metal sandable weatherproof"},
	"fiberglass":             {role: "substrate", class: "substrate", traits: "composite sandable"},
	"sheet molding compound": {role: "substrate", class: "substrate", traits: "composite sandable"},
	"bare plastic":           {role: "substrate", class: "substrate", traits: "plastic sandable weatherproof"},
	"cast iron":              {role: "substrate", class: "substrate", traits: "metal sandable steel"},
	"e-coat":                 {role: "finish", class: "finish", parts: 2, traits: "holds_out_water sandable wet_sandable", film: "0.6 1"},
	"factory primer":         {role: "finish", class: "finish", parts: 2, traits: "holds_out_water sandable wet_sandable", film: "0.8 1.5"},
	"factory finish":         {role: "finish", class: "finish", parts: 2, traits: "holds_out_water sandable weatherproof wet_sandable", film: "3.5 6"},
	"two-part refinish":      {role: "finish", class: "finish", parts: 2, traits: "holds_out_water sandable weatherproof wet_sandable", film: "4 15"},
	"gelcoat":                {role: "finish", class: "finish", parts: 2, traits: "composite holds_out_water sandable weatherproof wet_sandable", film: "15 25"},
	"aged enamel":            {role: "finish", class: "finish", parts: 1, traits: "sandable solvent swells weatherproof wet_sandable", film: "2 6"},
	"aged lacquer":           {role: "finish", class: "finish", parts: 1, traits: "lacquer reversible sandable solvent weatherproof wet_sandable", film: "4 12"},
	"powder coat":            {role: "finish", class: "finish", parts: 2, traits: "holds_out_water sandable weatherproof wet_sandable", film: "2 4"},
	"unknown finish":         {role: "finish", class: "finish", traits: "sandable weatherproof", film: "0 any"},
	"one-part acid primer":   {role: "film", class: "primer", parts: 1, traits: "acid solvent", hazards: "acid, flammable", film: "0.3 0.5", recoat: "30 1440", flash: "5", sand: "never", solids: "10", fill: "never", tape: "60"},
	"two-part wash primer":   {role: "film", class: "primer", parts: 2, traits: "acid solvent", hazards: "acid, flammable", film: "0.3 0.5", recoat: "15 480", flash: "5", sand: "never", solids: "9", pot: "480", fill: "never", tape: "60"},
	"epoxy primer":           {role: "film", class: "primer", parts: 2, traits: "epoxy holds_out_water sandable solvent wet_sandable", hazards: "epoxy hardener, flammable", film: "1 2.5", recoat: "60 4320", flash: "15", sand: "1440", settles: "1440", solids: "45", pot: "480", fill: "720", tape: "120", grit: "P80 P600"},
	"epoxy surfacer":         {role: "film", class: "surfacer", parts: 2, traits: "epoxy holds_out_water sandable solvent wet_sandable", hazards: "epoxy hardener, flammable", film: "3 8", recoat: "60 4320", flash: "15", sand: "720", settles: "4320", solids: "52", pot: "240", fill: "960", tape: "120", grit: "P80 P600"},
	"urethane surfacer":      {role: "film", class: "surfacer", parts: 2, traits: "holds_out_water sandable solvent urethane wet_sandable", hazards: "flammable, isocyanate", film: "2 6", recoat: "60 1440", flash: "10", sand: "180", settles: "960", solids: "45", pot: "45", fill: "180 sanded", tape: "60", grit: "P120 P500"},
	"polyester surfacer":     {role: "film", class: "surfacer", parts: 2, traits: "pore sandable solvent", hazards: "flammable, peroxide, styrene", film: "4 15", recoat: "- never", flash: "10", sand: "120", settles: "10080", solids: "75", pot: "25", fill: "120 sanded", grit: "P80 P320"},
	"lacquer primer":         {role: "film", class: "surfacer", parts: 1, traits: "lacquer pore reversible sandable solvent", hazards: "flammable", film: "1 3", recoat: "15 any", flash: "10", sand: "60", settles: "10080", solids: "20", tape: "60", grit: "P180 P400"},
	"waterborne primer":      {role: "film", class: "primer", parts: 1, traits: "sandable waterborne", film: "1 3", recoat: "30 1440", flash: "15", sand: "120", settles: "1440", solids: "35", tape: "120", grit: "P180 P400"},
	"adhesion promoter":      {role: "film", class: "promoter", parts: 1, traits: "solvent", hazards: "flammable", film: "0.1 0.4", recoat: "5 60", flash: "5", sand: "never", solids: "5", grit: "P320 P1000"},
	"rust converter":         {role: "film", class: "primer", parts: 1, traits: "sandable", film: "1 2", recoat: "1440 10080", sand: "1440", solids: "30"},
	"weld-through primer":    {role: "film", class: "primer", parts: 1, traits: "sandable solvent", hazards: "flammable"},
	"body filler":            {role: "film", class: "filler", parts: 2, traits: "pore sandable", hazards: "peroxide, styrene", recoat: "30 any", sand: "20", solids: "100", pot: "4", grit: "P80 P180"},
	"fiber filler":           {role: "film", class: "filler", parts: 2, traits: "pore sandable", hazards: "peroxide, styrene", recoat: "30 any", sand: "20", solids: "100", pot: "4", grit: "P80 P180"},
	"finishing putty":        {role: "film", class: "filler", parts: 2, traits: "pore sandable", hazards: "peroxide, styrene", film: "0 80", recoat: "30 any", sand: "20", solids: "100", pot: "4", grit: "P80 P320"},
	"one-part putty":         {role: "film", class: "filler", parts: 1, traits: "pore sandable solvent", hazards: "flammable", film: "0 10", recoat: "120 any", sand: "120", solids: "60", grit: "P180 P400"},
	"plastic repair filler":  {role: "film", class: "filler", parts: 2, traits: "flexible pore sandable"},
	"body solder":            {role: "film", class: "filler", traits: "holds_out_water sandable"},
	"seam sealer":            {role: "film", class: "seam", parts: 1, traits: "flexible holds_out_water sandable", recoat: "60 any", solids: "90", grit: "P80 P400"},
	"urethane sealer":        {role: "film", class: "sealer", parts: 2, traits: "holds_out_water sandable solvent urethane wet_sandable", hazards: "flammable, isocyanate", film: "0.8 1.5", recoat: "15 1440", flash: "10", sand: "180", solids: "35", pot: "90", tape: "60", grit: "P320 P800"},
	"epoxy sealer":           {role: "film", class: "sealer", parts: 2, traits: "epoxy holds_out_water sandable solvent wet_sandable", hazards: "epoxy hardener, flammable", film: "0.7 1.5", recoat: "30 4320", flash: "15", sand: "720", solids: "35", pot: "480", tape: "120", grit: "P320 P800"},
	"solvent basecoat":       {role: "film", class: "color", parts: 1, traits: "sandable solvent", hazards: "flammable", film: "0.5 1.5", recoat: "15 1440", flash: "8", solids: "22", tape: "45", grit: "P400 P1200"},
	"waterborne basecoat":    {role: "film", class: "color", parts: 1, traits: "sandable waterborne", film: "0.5 1", recoat: "20 1440", flash: "matte", solids: "18", tape: "15", grit: "P400 P1200"},
	"mid coat":               {role: "film", class: "color", parts: 1, traits: "sandable solvent", hazards: "flammable", film: "0.3 0.6", recoat: "15 1440", flash: "8", solids: "15", tape: "45", grit: "P400 P1200"},
	"single-stage urethane":  {role: "film", class: "color", parts: 2, traits: "holds_out_water sandable solvent urethane weatherproof wet_sandable", hazards: "flammable, isocyanate", film: "2 3", recoat: "720 1440", flash: "12", sand: "960", solids: "45", pot: "180", tape: "720", polish: "1440", grit: "P320 P1000"},
	"single-stage enamel":    {role: "film", class: "color", parts: 1, traits: "sandable solvent swells weatherproof wet_sandable", hazards: "flammable", film: "1.5 2.5", recoat: "0 240", dead: "240 2880", flash: "20", sand: "2880", solids: "40", tape: "1440", polish: "43200", grit: "P320 P800"},
	"lacquer topcoat":        {role: "film", class: "color", parts: 1, traits: "lacquer reversible sandable solvent weatherproof wet_sandable", hazards: "flammable", film: "2 4", recoat: "30 any", flash: "12", sand: "1440", solids: "15", tape: "240", polish: "10080", grit: "P400 P800"},
	"urethane clear":         {role: "film", class: "clear", parts: 2, traits: "holds_out_water sandable solvent urethane weatherproof wet_sandable", hazards: "flammable, isocyanate", film: "2 3", recoat: "720 never", flash: "10", sand: "960", solids: "42", pot: "120", tape: "720", polish: "1200", grit: "P500 P1500"},
	"one-part clear":         {role: "film", class: "clear", parts: 1, traits: "reversible sandable solvent weatherproof wet_sandable", hazards: "flammable", film: "1 2", recoat: "60 1440", flash: "10", sand: "1440", solids: "15", tape: "720", polish: "10080", grit: "P600 P1500"},
	"chip guard":             {role: "film", class: "coating", parts: 2, traits: "holds_out_water sandable solvent", hazards: "flammable", film: "10 40", recoat: "60 1440", solids: "60", pot: "30", grit: "P80 P320"},
	"underbody coating":      {role: "film", class: "coating", parts: 2, traits: "holds_out_water sandable solvent swells weatherproof", hazards: "flammable", film: "10 40", recoat: "60 1440", solids: "60", pot: "30", grit: "P80 P320"},
	"bed liner":              {role: "film", class: "coating", parts: 2, traits: "holds_out_water sandable solvent urethane weatherproof", hazards: "flammable, isocyanate", film: "10 40", recoat: "60 1440", solids: "60", pot: "30", grit: "P80 P320"},
	"cavity wax":             {role: "film", class: "coating", parts: 1, traits: "holds_out_water solvent", hazards: "flammable"},
	"wax and grease remover": {role: "helper", class: "helper", traits: "solvent", hazards: "flammable"},
	"waterborne cleaner":     {role: "helper", class: "helper", traits: "waterborne"},
	"plastic cleaner":        {role: "helper", class: "helper", traits: "solvent", hazards: "flammable"},
	"lacquer thinner":        {role: "helper", class: "helper", traits: "solvent", hazards: "flammable"},
	"soap and water":         {role: "helper", class: "helper", traits: "waterborne"},
	"alcohol wipe":           {role: "helper", class: "helper", traits: "solvent", hazards: "flammable"},
	"acid wash":              {role: "helper", class: "helper", traits: "waterborne", hazards: "acid"},
	"conversion coating":     {role: "helper", class: "helper", traits: "waterborne"},
	"neutralizer":            {role: "helper", class: "helper", traits: "waterborne"},
	"reducer":                {role: "helper", class: "helper", traits: "solvent", hazards: "flammable"},
	"retarder":               {role: "helper", class: "helper", traits: "solvent", hazards: "flammable"},
	"hardener":               {role: "helper", class: "helper"},
	"flex additive":          {role: "helper", class: "helper"},
	"fisheye additive":       {role: "helper", class: "helper"},
	"guide coat":             {role: "helper", class: "helper"},
	"tack cloth":             {role: "helper", class: "helper"},
	"polishing compound":     {role: "helper", class: "helper"},
}

func TestEveryKindHasItsTypicalNumbersTraitsAndHazards(t *testing.T) {
	table := Kinds()
	if err := LoadError(); err != nil {
		t.Fatal(err)
	}
	if got := len(table.Names()); got != len(wanted) {
		t.Errorf("%d kinds, want %d", got, len(wanted))
	}
	for _, name := range table.Names() {
		w, ok := wanted[name]
		if !ok {
			t.Errorf("%s is in no page of the design", name)
			continue
		}
		k, _ := table.Lookup(name)
		t.Run(name, func(t *testing.T) {
			same(t, "name", k.Name, name)
			same(t, "role", k.Role, w.role)
			same(t, "class", k.Class, w.class)
			if k.Parts != w.parts {
				t.Errorf("parts %d, want %d", k.Parts, w.parts)
			}
			same(t, "traits", strings.Join(sortedCopy(k.Traits), " "), w.traits)
			hazards := strings.Join(sortedCopy(k.Hazards), ", ")
			same(t, "hazards", hazards, w.hazards)
			if k.Source == "" {
				t.Error("no source")
			}
			r := k.Read()
			same(t, "film", ends(r.Film), w.film)
			same(t, "recoat", window(r), w.recoat)
			same(t, "no_recoat", ends(r.NoRecoat), w.dead)
			same(t, "flash", one(r.Flash), w.flash)
			same(t, "sand_after", one(r.SandAfter), w.sand)
			same(t, "settles", one(r.Settles), w.settles)
			same(t, "volume_solids", one(r.VolumeSolids), w.solids)
			same(t, "pot_life", one(r.PotLife), w.pot)
			fill := one(r.FillAfter)
			if k.FillSanded {
				fill += " sanded"
			}
			same(t, "fill_after", fill, w.fill)
			same(t, "tape_after", one(r.TapeAfter), w.tape)
			same(t, "polish_after", one(r.PolishAfter), w.polish)
			grit := ""
			if r.GritBeneath.Written {
				grit = r.GritBeneath.Coarse.Name + " " + r.GritBeneath.Fine.Name
			}
			same(t, "grit_beneath", grit, w.grit)
		})
	}
}

func same(t *testing.T, what, got, want string) {
	t.Helper()
	if got != want {
		t.Errorf("%s is %q, want %q", what, got, want)
	}
}

func sortedCopy(words []string) []string {
	words = slices.Clone(words)
	slices.Sort(words)
	return words
}

func end(v float64) string {
	if math.IsInf(v, 1) {
		return "any"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func ends(q quantity.Quantity) string {
	if !q.Written {
		return ""
	}
	return end(q.Lo) + " " + end(q.Hi)
}

func one(q quantity.Quantity) string {
	switch {
	case !q.Written:
		return ""
	case q.Never:
		return "never"
	case q.Until != "":
		return q.Until
	case !q.IsExact():
		return ends(q)
	}
	return end(q.Lo)
}

func window(r Typical) string {
	if !r.RecoatMost.Written {
		return ""
	}
	least := "-"
	if r.RecoatLeast.Written {
		least = one(r.RecoatLeast)
	}
	most := one(r.RecoatMost)
	if r.RecoatAny {
		most = "any"
	}
	return least + " " + most
}

// The words that traits, hazards, classes and roles are made of (1-sheet.md,
// 8-rulings.md 'Classes').
var (
	knownTraits = strings.Fields(`metal steel zinc plastic composite pore acid epoxy urethane reversible swells
		waterborne solvent lacquer sandable wet_sandable holds_out_water weatherproof flexible`)
	knownHazards = []string{
		"isocyanate", "epoxy hardener", "chromate", "lead", "acid", "fluoride", "caustic", "peroxide", "styrene",
		"flammable", "silica",
	}
	knownClasses = strings.Fields(`substrate finish primer surfacer promoter filler seam sealer color clear coating helper`)
	knownRoles   = strings.Fields(`substrate finish film helper`)
)

func TestKindsUseNoUnknownWord(t *testing.T) {
	for _, name := range Kinds().Names() {
		k, _ := Kinds().Lookup(name)
		for _, w := range k.Traits {
			if !slices.Contains(knownTraits, w) {
				t.Errorf("%s: unknown trait %q", name, w)
			}
			if !k.Has(w) {
				t.Errorf("%s: Has(%q) is false", name, w)
			}
		}
		for _, w := range k.Hazards {
			if !slices.Contains(knownHazards, w) {
				t.Errorf("%s: unknown hazard %q", name, w)
			}
		}
		if !slices.Contains(knownClasses, k.Class) || !slices.Contains(knownRoles, k.Role) {
			t.Errorf("%s: unknown class %q or role %q", name, k.Class, k.Role)
		}
		if k.Has("no such trait") {
			t.Errorf("%s has a trait that is none", name)
		}
	}
}

// encoding/json lets a later key silently win; a kind written twice must not.
func TestTheTablesWriteNoKeyTwice(t *testing.T) {
	for _, file := range []string{"kinds.json", "limits.json", "voc.json"} {
		data, err := policies.Files.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if key := doubled(json.NewDecoder(bytes.NewReader(data))); key != "" {
			t.Errorf("%s writes %q twice in one object", file, key)
		}
	}
	if doubled(json.NewDecoder(strings.NewReader(`{"a": {"b": 1, "b": 2}}`))) != "b" {
		t.Error("this test sees no doubled key")
	}
}

// doubled reads one value and names the first key that an object has twice.
func doubled(d *json.Decoder) string {
	token, err := d.Token()
	if err != nil {
		return err.Error()
	}
	delim, ok := token.(json.Delim)
	if !ok {
		return ""
	}
	seen := map[string]bool{}
	for d.More() {
		if delim == '{' {
			key, err := d.Token()
			if err != nil {
				return err.Error()
			}
			if seen[key.(string)] {
				return key.(string)
			}
			seen[key.(string)] = true
		}
		if key := doubled(d); key != "" {
			return key
		}
	}
	_, _ = d.Token()
	return ""
}

func TestEverydayNamesFindTheirKind(t *testing.T) {
	for said, want := range map[string]string{
		"etch primer":          "one-part acid primer",
		"Self-Etching Primer":  "one-part acid primer",
		"self etching primer":  "one-part acid primer",
		"wash primer":          "two-part wash primer",
		"high-build epoxy":     "epoxy surfacer",
		"high build epoxy":     "epoxy surfacer",
		"2K primer":            "urethane surfacer",
		"primer surfacer":      "urethane surfacer",
		"sprayable filler":     "polyester surfacer",
		"epoxy":                "epoxy primer",
		"EPOXY PRIMER":         "epoxy primer",
		"glaze":                "finishing putty",
		"spot putty":           "one-part putty",
		"basecoat":             "solvent basecoat",
		"clearcoat":            "urethane clear",
		"wax & grease remover": "wax and grease remover",
		"aluminium":            "aluminum",
		"SMC":                  "sheet molding compound",
	} {
		k, ok := Kinds().Lookup(said)
		if !ok || k.Name != want {
			t.Errorf("Lookup(%q) = %v, want %s", said, k, want)
		}
		if KindOf(said) != k {
			t.Errorf("KindOf(%q) is another kind", said)
		}
	}
	for _, said := range []string{"", "primer", "putty", "wibble", "single stage"} {
		if k, ok := Kinds().Lookup(said); ok {
			t.Errorf("Lookup(%q) = %s; it could mean several kinds, or none", said, k.Name)
		}
	}
	if KindOf("wibble") != nil || TypicalOf(nil).Film.Written {
		t.Error("a kind that is not known is not nil")
	}
}

func TestNearNamesTheLikeliestKindsFirst(t *testing.T) {
	for _, tt := range []struct {
		said  string
		roles []string
		want  string // must be among them
		first bool
	}{
		{"epoxi primer", nil, "epoxy primer", true},
		{"urethane surfcer", nil, "urethane surfacer", true},
		{"selfetch primer", []string{"film"}, "one-part acid primer", true},
		{"midl steel", []string{"substrate"}, "mild steel", true},
		{"polyester", nil, "polyester surfacer", false},
		{"wax and greese remover", []string{"helper"}, "wax and grease remover", true},
		{"single stage", nil, "single-stage urethane", false},
	} {
		near := Kinds().Near(tt.said, tt.roles...)
		if !slices.Contains(near, tt.want) || len(near) > 3 || (tt.first && near[0] != tt.want) {
			t.Errorf("Near(%q) = %q, want %s", tt.said, near, tt.want)
		}
		for _, name := range near {
			if k, _ := Kinds().Lookup(name); len(tt.roles) > 0 && !slices.Contains(tt.roles, k.Role) {
				t.Errorf("Near(%q, %q) names %s, a %s", tt.said, tt.roles, name, k.Role)
			}
		}
	}
	if near := Kinds().Near("zzzzzzzz"); len(near) != 0 || near == nil {
		t.Errorf("Near(zzzzzzzz) = %#v, want an empty list", near)
	}
	if near := Kinds().Near(strings.Repeat("epoxy ", 100000)); len(near) != 0 {
		t.Errorf("a name that runs on is near %q", near)
	}
}

func TestNamesGoByRole(t *testing.T) {
	if got := len(Kinds().Names("substrate")); got != 8 {
		t.Errorf("%d substrates, want 8", got)
	}
	all := len(Kinds().Names("substrate")) + len(Kinds().Names("finish", "film")) + len(Kinds().Names("helper"))
	if all != len(Kinds().Names()) {
		t.Errorf("the roles together have %d kinds, all of them %d", all, len(Kinds().Names()))
	}
}

func TestATableThatIsBrokenSaysSo(t *testing.T) {
	for name, tt := range map[string]struct{ data, want string }{
		"no JSON":            {`{`, "reading the kinds"},
		"a bad number":       {`{"kinds": {"a": {"typical": {"film": "2"}}}}`, "typical film"},
		"a bad grade":        {`{"kinds": {"a": {"typical": {"grit_beneath": "P81"}}}}`, "grit_beneath"},
		"a bad window":       {`{"kinds": {"a": {"typical": {"recoat": "1 mil"}}}}`, "recoat"},
		"a bad half window":  {`{"kinds": {"a": {"typical": {"recoat": "1 mil - never"}}}}`, "recoat"},
		"an unknown key":     {`{"kinds": {"a": {"typical": {"colour": "red"}}}}`, "typical colour"},
		"a name of two":      {`{"kinds": {"a": {"names": ["x y"]}, "b": {"names": ["X-Y"]}}}`, "a name of both a and b"},
		"a name of two, too": {`{"kinds": {"a": {"names": ["b"]}, "b": {}}}`, "a name of both a and b"},
	} {
		if _, err := readKinds([]byte(tt.data)); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %q in it", name, err, tt.want)
		}
	}
}
