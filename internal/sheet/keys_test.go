package sheet

import (
	"reflect"
	"slices"
	"sort"
	"strings"
	"testing"

	"guidecoat/internal/trade"
	"guidecoat/policies"
)

// The keys of each verb, and which of them it needs, as the language has them.
func TestEveryVerbHasItsKeys(t *testing.T) {
	lay := "product! coats wet_film between mix hardener reducer stood batch fresh_cup additive as fades gun tip pressure"
	want := map[string]string{
		"strip":      "tool! grit media profile down_to where",
		"sand":       "grit! tool wet takes_off cuts_to feathers",
		"block":      "grit! tool wet takes_off cuts_to feathers guide_coat",
		"scuff":      "grit pad tool wet takes_off",
		"clean":      "with!",
		"tack":       "",
		"blow_off":   "",
		"treat":      "with!",
		"rinse":      "dried_within",
		"neutralize": "with!",
		"mask":       "over",
		"solder":     "",
		"spray":      lay,
		"brush":      lay,
		"spread":     "product! thickness! mix",
		"caulk":      "product!",
		"bake":       "metal! for! by",
		"wait":       "for!",
		"metalwork":  "for! welding",
		"store":      "for!",
		"polish":     "with takes_off",
		"inspect":    "measure!",
	}
	words := func(s string) []string {
		all := strings.Fields(s)
		sort.Strings(all)
		return all
	}
	for _, v := range Verbs() {
		var got []string
		for _, k := range v.Keys {
			name := k.Name
			if k.Required {
				name += "!"
			}
			got = append(got, name)
		}
		sort.Strings(got)
		if expected, ok := want[v.Do]; !ok || !slices.Equal(got, words(expected)) {
			t.Errorf("%s has %v, want %v", v.Do, got, words(expected))
		}
		for _, common := range words("do call on except for then_wait where air panel humidity wear says") {
			if !slices.ContainsFunc(KeysOf(v.Do), func(k Key) bool { return k.Name == common }) {
				t.Errorf("%s has no %s", v.Do, common)
			}
		}
		delete(want, v.Do)
	}
	if len(want) > 0 {
		t.Errorf("there is no %v", want)
	}
	if KeysOf("paint") != nil {
		t.Error("a verb that does not exist has keys")
	}
}

func TestEveryTableHasItsKeys(t *testing.T) {
	for _, test := range []struct {
		name string
		keys []Key
		want string
	}{
		{"a sheet", SheetKeys(), "format! sheet! booth panel! zone product step waiver"},
		{"a shelf", ShelfKeys(), "format! shelf product"},
		{"a house file", HouseKeys(), "format house limits grades"},
		{"the sheet table", sheetSpec.keys, "title! number revision date author work ends_as shelf"},
		{"the booth table", boothSpec.keys, "air panel humidity where region"},
		{"the panel table", panelSpec.keys, "part substrate! plastic carries rust year area faces"},
		{"a zone", zoneSpec.keys, "name! area substrate plastic carries rust role faces edge"},
		{"a waiver", waiverSpec.keys, "rule! step zone reason by until"},
		{"a card", CardKeys(), "kind! label data_sheet safety_sheet mix hardener reducer reduce_up_to induction pot_life volume_solids voc density film wet_max coats flash recoat no_recoat flash_most fill_after tape_after wet_on_wet spot_metal effect lowest_cure as sand_after settles polish_after bake times_at air humidity tip pressure grit_beneath sandable direct_to_metal goes_on keep_off wet_sandable holds_out_water weatherproof flexible hazards"},
		{"the head of a house file", houseHeadSpec.keys, "shelf region rules"},
	} {
		var got []string
		for _, k := range test.keys {
			name := k.Name
			if k.Required {
				name += "!"
			}
			got = append(got, name)
			if k.Meaning == "" || len(k.Takes) == 0 {
				t.Errorf("%s: the key %s says nothing of itself", test.name, k.Name)
			}
		}
		want := strings.Fields(test.want)
		sort.Strings(got)
		sort.Strings(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s has %v, want %v", test.name, got, want)
		}
	}
}

// Whatever stands as an example is right.
func TestEveryExampleOfAKeyCanBeWritten(t *testing.T) {
	text := func(step string) string {
		return `format = 1
sheet.title = "a"
panel.substrate = "mild steel"
panel.carries = ["body filler", "e-coat"]
[[zone]]
name = "dent"
[product.grey-epoxy]
kind = "epoxy primer"
as.sealer.kind = "epoxy sealer"
[[step]]
do = "sand"
grit = "P80"
call = "first clear of all"
` + step
	}
	for _, v := range Verbs() {
		var all []string
		for _, k := range KeysOf(v.Do) {
			if k.Example == "" {
				t.Errorf("%s of %s has no example", k.Name, v.Do)
			}
			if k.Name == "do" || k.Name == "except" || v.Do == "strip" && (k.Name == "media" || k.Name == "profile") {
				continue
			}
			all = append(all, k.Name+" = "+k.Example)
		}
		written := text("[[step]]\ndo = \"" + v.Do + "\"\n" + strings.Join(all, "\n") + "\n")
		if s, problems := ReadText(options(t), "a.toml", []byte(written)); s == nil {
			t.Errorf("%s: %v", v.Do, told(problems))
		}
	}
	var all []string
	for _, k := range CardKeys() {
		if k.Name != "as" {
			all = append(all, k.Name+" = "+k.Example)
		}
	}
	written := text("[product.all]\n" + strings.Join(all, "\n") + "\n")
	if s, problems := ReadText(options(t), "a.toml", []byte(written)); s == nil {
		t.Errorf("the card: %v", told(problems))
	}
}

func TestTheKindsOfTheReaderExist(t *testing.T) {
	for verb, kinds := range fitFor {
		for _, name := range kinds {
			if k, ok := trade.Kinds().Lookup(name); !ok || k.Name != name || k.Role != "helper" {
				t.Errorf("%s with %s: there is no such helper", verb, name)
			}
		}
	}
	for _, name := range additives {
		if k, ok := trade.Kinds().Lookup(name); !ok || k.Name != name || k.Role != "helper" {
			t.Errorf("there is no helper %s", name)
		}
	}
	for name := range verbFor {
		if k, ok := trade.Kinds().Lookup(name); !ok || k.Name != name {
			t.Errorf("there is no kind %s", name)
		}
	}
}

func TestRulesAreKnownByTheirFolders(t *testing.T) {
	rules, err := RulesIn(policies.Files)
	if err != nil {
		t.Fatal(err)
	}
	if rules["filler-on-acid-primer"] != "adhesion" {
		t.Errorf("filler-on-acid-primer is of family %q", rules["filler-on-acid-primer"])
	}
	if _, ok := rules["lib"]; ok {
		t.Error("the library is taken for a rule")
	}
}

func TestNearNamesAreTheLikelyOnes(t *testing.T) {
	for _, test := range []struct {
		name string
		all  []string
		want []string
	}{
		{"spary", verbNames(), []string{"spray"}},
		{"blow-off", verbNames(), []string{"blow_off"}},
		{"Blow Off", verbNames(), []string{"blow_off"}},
		{"thenwait", []string{"then_wait", "for"}, []string{"then_wait"}},
		{"respirator", protection, []string{"cartridge respirator", "particulate respirator", "supplied-air respirator"}},
		{"xyzzy", verbNames(), nil},
		{"", verbNames(), nil},
		{strings.Repeat("a", 500), []string{strings.Repeat("a", 499)}, nil},
	} {
		if got := nearest(test.name, test.all); !reflect.DeepEqual(got, test.want) {
			t.Errorf("near %q are %q, want %q", test.name, got, test.want)
		}
	}
}
