package guidecoat.adhesion["clear-without-base_test"]

import data.guidecoat.adhesion["clear-without-base"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "urethane clear", "lower_kind": "urethane surfacer",
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

clear(kind, class, more) := contact(object.union(
	{"lower_kind": kind, "upper_traits": {"class": "clear"}, "lower_traits": {"class": class}},
	more,
))

test_clear_on_primer_surfacer_sealer_or_filler_is_a_risk if {
	grades(clear("epoxy primer", "primer", {})) == {"risk"}
	grades(clear("urethane surfacer", "surfacer", {})) == {"risk"}
	grades(clear("urethane sealer", "sealer", {})) == {"risk"}
	grades(clear("body filler", "filler", {})) == {"risk"}
}

test_clear_on_primer_that_was_there_is_a_risk if {
	grades(clear("e-coat", "finish", {"lower_existing": true})) == {"risk"}
	grades(clear("factory primer", "finish", {"lower_existing": true})) == {"risk"}
}

test_clear_over_color_or_clear_is_silent if {
	grades(clear("solvent basecoat", "color", {})) == set()
	grades(clear("urethane clear", "clear", {})) == set()
	grades(clear("factory finish", "finish", {"lower_existing": true})) == set()
	grades(clear("two-part refinish", "finish", {"lower_existing": true})) == set()
	grades(clear("unknown finish", "finish", {"lower_existing": true})) == set()
}

test_clear_over_promoter_or_metal_is_not_this_rules_matter if {
	grades(clear("adhesion promoter", "promoter", {})) == set()
	grades(clear("mild steel", "substrate", {})) == set()
}

test_color_on_primer_is_not_this_rules_matter if {
	grades(clear("epoxy primer", "primer", {"upper_traits": {"class": "color"}})) == set()
}

test_a_card_that_names_the_primer_lets_it_in if grades(clear("epoxy primer", "primer", {"card_says": "allows"})) == set()

test_a_list_without_it_does_not if grades(clear("epoxy primer", "primer", {"card_says": "unlisted"})) == {"risk"}

test_it_offers_color_between if {
	some v in found(clear("epoxy primer", "primer", {}))
	v.mend[0].set == {"do": "spray", "product_kind": ["solvent basecoat", "waterborne basecoat"], "on": ["dent"]}
}
