package guidecoat.adhesion["color-on-bare-metal_test"]

import data.guidecoat.adhesion["color-on-bare-metal"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "solvent basecoat", "lower_kind": "mild steel",
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
	vs := rule.verdict with input as {"contacts_under_color": [c], "zones": [{"name": "panel", "parent": ""}, {"name": "dent", "parent": ""}]}
}

grades(c) := {v.grade | some v in found(c)}

on_metal(more) := contact(object.union(
	{"lower_step": 0, "lower_substrate": true, "lower_traits": {"class": "substrate", "metal": true}},
	more,
))

test_color_on_bare_metal_fails if {
	every kind in ["mild steel", "aluminum", "galvanized steel", "stainless steel", "cast iron"] {
		grades(on_metal({"lower_kind": kind})) == {"fails"}
	}
}

test_single_stage_and_clear_fail if {
	every kind in ["single-stage urethane", "single-stage enamel", "urethane clear", "waterborne basecoat"] {
		grades(on_metal({"upper_kind": kind})) == {"fails"}
	}
}

test_a_rub_through_counts if grades(on_metal({"zone_facts": {"cut": true}})) == {"fails"}

test_a_card_that_is_direct_to_metal_lets_it_in if grades(on_metal({"card_says": "allows"})) == set()

test_a_list_of_other_metals_does_not if grades(on_metal({"card_says": "unlisted"})) == {"fails"}

test_a_card_that_forbids_it_has_a_rule_of_its_own if grades(on_metal({"card_says": "forbids"})) == set()

test_color_on_primer_is_silent if grades(contact({"lower_kind": "epoxy primer"})) == set()

test_color_on_plastic_is_not_this_rules_matter if {
	grades(contact({"lower_kind": "bare plastic", "lower_substrate": true, "lower_traits": {"plastic": true}})) == set()
}

test_it_offers_epoxy_between if {
	some v in found(on_metal({}))
	v.mend[0].set == {"do": "spray", "product_kind": ["epoxy primer", "epoxy sealer"], "on": ["dent"]}
}
