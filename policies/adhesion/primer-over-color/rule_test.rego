package guidecoat.adhesion["primer-over-color_test"]

import data.guidecoat.adhesion["primer-over-color"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "urethane surfacer", "lower_kind": "solvent basecoat",
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

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "zones": [{"name": "panel", "parent": ""}, {"name": "dent", "parent": ""}]}
}

grades(c) := {v.grade | some v in found(c)}

over(upper, class, lower) := contact({"upper_traits": {"class": upper}, "lower_traits": {"class": class}, "lower_kind": lower})

test_primer_surfacer_sealer_or_filler_over_fresh_color_is_advice if {
	every upper in ["primer", "surfacer", "sealer", "filler"] {
		grades(over(upper, "color", "solvent basecoat")) == {"advice"}
		grades(over(upper, "clear", "urethane clear")) == {"advice"}
	}
}

test_over_what_was_there_it_is_silent if {
	c := object.union(over("surfacer", "color", "solvent basecoat"), {"gap_applies": false, "lower_existing": true})
	grades(c) == set()
}

test_over_primer_it_is_silent if grades(over("surfacer", "primer", "epoxy primer")) == set()

test_clear_over_color_is_silent if grades(over("clear", "color", "solvent basecoat")) == set()

test_color_over_clear_is_silent if grades(over("color", "clear", "urethane clear")) == set()

test_a_card_that_names_it_lets_it_in if {
	grades(object.union(over("surfacer", "clear", "urethane clear"), {"card_says": "allows"})) == set()
}
