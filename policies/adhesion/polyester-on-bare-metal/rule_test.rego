package guidecoat.adhesion["polyester-on-bare-metal_test"]

import data.guidecoat.adhesion["polyester-on-bare-metal"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "polyester surfacer", "lower_kind": "mild steel",
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

found(work, c) := vs if {
	vs := rule.verdict with input as {"sheet": {"work": work}, "contacts_on_metal": [c], "zones": [{"name": "panel", "parent": ""}, {"name": "dent", "parent": ""}]}
}

grades(work, c) := {v.grade | some v in found(work, c)}

on_metal(kind, more) := contact(object.union(
	{"lower_kind": kind, "lower_step": 0, "lower_substrate": true, "lower_traits": {"class": "substrate", "metal": true}},
	more,
))

test_on_aluminum_and_zinc_it_fails if {
	every work in ["restoration", "collision"] {
		grades(work, on_metal("aluminum", {})) == {"fails"}
		grades(work, on_metal("galvanized steel", {"lower_traits": {"zinc": true}})) == {"fails"}
	}
}

test_on_steel_it_is_a_risk_in_restoration if {
	every kind in ["mild steel", "cast iron", "stainless steel"] {
		grades("restoration", on_metal(kind, {})) == {"risk"}
	}
}

test_on_steel_it_is_advice_in_collision if {
	every kind in ["mild steel", "cast iron", "stainless steel"] {
		grades("collision", on_metal(kind, {})) == {"advice"}
	}
}

test_a_card_that_is_direct_to_metal_lets_it_in if {
	grades("restoration", on_metal("mild steel", {"card_says": "allows"})) == set()
	grades("restoration", on_metal("aluminum", {"card_says": "allows"})) == set()
}

test_a_list_without_the_metal_does_not if grades("restoration", on_metal("aluminum", {"card_says": "unlisted"})) == {"fails"}

test_filler_has_a_rule_of_its_own if grades("restoration", on_metal("mild steel", {"upper_kind": "body filler"})) == set()

test_another_surfacer_is_not_this_rules_matter if {
	grades("restoration", on_metal("mild steel", {"upper_kind": "urethane surfacer"})) == set()
}

test_it_offers_epoxy_overnight if {
	some v in found("restoration", on_metal("mild steel", {}))
	v.mend == [{
		"edit": "insert", "where": "before", "step": 6,
		"set": {"do": "spray", "product_kind": ["epoxy primer"], "then_wait": "overnight", "on": ["dent"]},
	}]
}
