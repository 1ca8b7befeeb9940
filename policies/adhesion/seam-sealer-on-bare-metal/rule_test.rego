package guidecoat.adhesion["seam-sealer-on-bare-metal_test"]

import data.guidecoat.adhesion["seam-sealer-on-bare-metal"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "seam sealer", "lower_kind": "mild steel",
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

metal(more) := contact(object.union({"lower_traits": {"metal": true}, "lower_step": 0, "lower_substrate": true}, more))

test_on_bare_metal_it_is_a_risk if {
	every kind in ["mild steel", "aluminum", "galvanized steel", "stainless steel"] {
		grades(metal({"lower_kind": kind})) == {"risk"}
	}
}

test_on_acid_primer_it_is_a_risk if {
	every kind in ["one-part acid primer", "two-part wash primer"] {
		grades(contact({"lower_kind": kind, "lower_traits": {"acid": true}})) == {"risk"}
	}
}

test_on_epoxy_it_is_silent if grades(contact({"lower_kind": "epoxy primer", "lower_traits": {"epoxy": true}})) == set()

test_a_card_that_allows_bare_metal_lets_it_in if grades(metal({"card_says": "allows"})) == set()

test_a_list_without_it_does_not if grades(metal({"card_says": "unlisted"})) == {"risk"}

test_a_card_that_forbids_it_has_a_rule_of_its_own if grades(metal({"card_says": "forbids"})) == set()

test_another_film_is_not_this_rules_matter if grades(metal({"upper_kind": "epoxy primer"})) == set()

test_it_offers_epoxy_between if {
	some v in found(metal({}))
	v.mend[0].set == {"do": "spray", "product_kind": ["epoxy primer"], "on": ["dent"]}
}
