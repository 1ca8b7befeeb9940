package guidecoat.adhesion["filler-on-bare-metal_test"]

import data.guidecoat.adhesion["filler-on-bare-metal"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "body filler", "lower_kind": "mild steel",
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

on_metal(more) := contact(object.union(
	{"lower_step": 0, "lower_substrate": true, "lower_traits": {"class": "substrate", "metal": true, "steel": true}},
	more,
))

test_filler_on_bare_steel_is_a_risk_in_restoration if {
	every kind in ["body filler", "fiber filler", "finishing putty", "one-part putty"] {
		grades("restoration", on_metal({"upper_kind": kind})) == {"risk"}
	}
}

test_cast_iron_is_steel_here if grades("restoration", on_metal({"lower_kind": "cast iron"})) == {"risk"}

test_in_collision_it_is_silent if grades("collision", on_metal({})) == set()

test_a_card_that_is_direct_to_metal_lets_it_in if grades("restoration", on_metal({"card_says": "allows"})) == set()

test_a_list_without_steel_does_not if grades("restoration", on_metal({"card_says": "unlisted"})) == {"risk"}

test_metals_that_do_not_rust_are_silent if {
	every kind in ["aluminum", "galvanized steel", "stainless steel"] {
		grades("restoration", on_metal({"lower_kind": kind, "lower_traits": {"steel": false}})) == set()
	}
}

test_body_solder_is_at_home_there if grades("restoration", on_metal({"upper_kind": "body solder"})) == set()

test_polyester_surfacer_has_a_rule_of_its_own if grades("restoration", on_metal({"upper_kind": "polyester surfacer"})) == set()

test_it_offers_epoxy_overnight if {
	some v in found("restoration", on_metal({}))
	v.mend[0].set == {"do": "spray", "product_kind": ["epoxy primer"], "then_wait": "overnight", "on": ["dent"]}
}
