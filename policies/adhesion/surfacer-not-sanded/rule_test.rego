package guidecoat.adhesion["surfacer-not-sanded_test"]

import data.guidecoat.adhesion["surfacer-not-sanded"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "solvent basecoat", "lower_kind": "urethane surfacer",
		"upper_traits": {"class": "", "acid": false, "epoxy": false, "urethane": false, "two_part": false, "flexible": false, "waterborne": false},
		"lower_traits": {
			"class": "", "acid": false, "epoxy": false, "urethane": false, "reversible": false, "metal": false,
			"steel": false, "zinc": false, "plastic": false, "two_part": false, "flexible": false, "wet_on_wet": false,
		},
		"lower_step": 3, "lower_existing": false, "lower_substrate": false, "lower_pore": false,
		"card_says": "silent", "abraded": false, "wipes": [], "films": [], "substrate": "mild steel", "inspected": [],
		"gap_applies": true, "zone_facts": {"cut": false, "role": "", "olefin": false, "plastic": "unknown"},
		"place": {"line": 41},
	},
	more,
)

limits := {"color_scratch_metallic": {"measure": {"text": "P500"}}}

found(c) := vs if {
	vs := rule.verdict with input as {"contacts_under_color": [c], "limits": limits, "zones": []}
}

grades(c) := {v.grade | some v in found(c)}

color(kind, more) := contact(object.union({"lower_kind": kind, "upper_traits": {"class": "color"}}, more))

test_color_on_any_unsanded_surfacer_is_a_risk if {
	every kind in ["urethane surfacer", "epoxy surfacer", "lacquer primer", "waterborne primer"] {
		grades(color(kind, {})) == {"risk"}
	}
}

test_a_surfacer_that_was_abraded_is_silent if grades(color("urethane surfacer", {"abraded": true})) == set()

test_a_card_that_says_wet_on_wet_is_silent if grades(color("urethane surfacer", {"lower_traits": {"wet_on_wet": true}})) == set()

test_a_color_card_that_goes_on_it_does_not_do_the_sanding if grades(color("urethane surfacer", {"card_says": "allows"})) == {"risk"}

test_a_surfacer_that_was_there_wants_sanding_too if {
	grades(color("urethane surfacer", {"lower_existing": true, "lower_step": 0})) == {"risk"}
}

test_primers_and_sealers_may_be_covered_as_they_lie if {
	every kind in ["epoxy primer", "urethane sealer", "epoxy sealer", "solvent basecoat", "factory finish"] {
		grades(color(kind, {})) == set()
	}
}

test_clear_on_it_has_a_rule_of_its_own if grades(color("urethane surfacer", {"upper_traits": {"class": "clear"}})) == set()

test_it_offers_to_sand_before_the_wipe if {
	some v in found(color("urethane surfacer", {"wipes": [{"step": 4}, {"step": 5}]}))
	[e.step | some e in v.mend] == [5, 6]
	{e.set | some e in v.mend} == {{"do": "sand", "grit": "P500"}}
}
