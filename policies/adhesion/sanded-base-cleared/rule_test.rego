package guidecoat.adhesion["sanded-base-cleared_test"]

import data.guidecoat.adhesion["sanded-base-cleared"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "urethane clear", "lower_kind": "solvent basecoat",
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
	vs := rule.verdict with input as {
		"contacts_under_color": [c], "zones": [],
		"cards": {
			"silver": {"name": "silver", "effect": "metallic"}, "white": {"name": "white", "effect": "pearl"},
			"red": {"name": "red", "effect": "candy"}, "black": {"name": "black", "effect": "solid"}, "gray": {"name": "gray", "effect": ""},
		},
	}
}

grades(c) := {v.grade | some v in found(c)}

base(card, more) := contact(object.union(
	{"lower_card": card, "upper_traits": {"class": "clear"}, "abraded": true},
	more,
))

test_sanded_metallic_or_pearl_fails if {
	grades(base("silver", {})) == {"fails"}
	grades(base("white", {})) == {"fails"}
}

test_any_other_sanded_base_is_a_risk if {
	grades(base("black", {})) == {"risk"}
	grades(base("gray", {})) == {"risk"}
	grades(base("red", {})) == {"risk"}
}

test_base_that_was_there_is_a_risk if {
	some v in found(base("", {"lower_existing": true}))
	v.grade == "risk"
	v.mend == []
}

test_waterborne_base_and_mid_coat_count if {
	grades(base("silver", {"lower_kind": "waterborne basecoat"})) == {"fails"}
	grades(base("silver", {"lower_kind": "mid coat"})) == {"fails"}
}

test_base_that_nothing_abraded_is_silent if grades(base("silver", {"abraded": false})) == set()

test_more_base_over_sanded_base_is_silent if {
	grades(base("silver", {"upper_kind": "solvent basecoat", "upper_traits": {"class": "color"}})) == set()
}

test_sanded_single_stage_is_not_this_rules_matter if {
	grades(base("silver", {"lower_kind": "single-stage urethane"})) == set()
	grades(base("silver", {"lower_kind": "urethane clear"})) == set()
}

test_it_offers_the_same_base_again if {
	some v in found(base("silver", {}))
	v.mend == [{"edit": "insert", "where": "before", "step": 6, "set": {"do": "spray", "product": "silver"}}]
}
