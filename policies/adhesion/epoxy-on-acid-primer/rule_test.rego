package guidecoat.adhesion["epoxy-on-acid-primer_test"]

import data.guidecoat.adhesion["epoxy-on-acid-primer"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "epoxy primer", "lower_kind": "one-part acid primer",
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

over(kind, more) := contact(object.union(
	{"lower_kind": kind, "upper_traits": {"epoxy": true}, "lower_traits": {"class": "primer", "acid": true}},
	more,
))

test_on_one_part_acid_primer_it_is_a_risk if grades(over("one-part acid primer", {})) == {"risk"}

test_on_two_part_wash_primer_it_is_advice if grades(over("two-part wash primer", {})) == {"advice"}

test_epoxy_surfacer_and_sealer_are_epoxy_too if {
	every kind in ["epoxy surfacer", "epoxy sealer"] {
		grades(over("one-part acid primer", {"upper_kind": kind})) == {"risk"}
	}
}

test_a_card_that_names_it_lets_it_in if {
	grades(over("one-part acid primer", {"card_says": "allows"})) == set()
	grades(over("two-part wash primer", {"card_says": "allows"})) == set()
}

test_a_list_without_it_is_as_good_as_silence if grades(over("one-part acid primer", {"card_says": "unlisted"})) == {"risk"}

test_a_card_that_forbids_it_has_a_rule_of_its_own if grades(over("one-part acid primer", {"card_says": "forbids"})) == set()

test_epoxy_on_epoxy_is_silent if grades(contact({"lower_kind": "epoxy primer", "upper_traits": {"epoxy": true}})) == set()

test_a_urethane_surfacer_there_is_silent if {
	grades(over("one-part acid primer", {"upper_kind": "urethane surfacer", "upper_traits": {"epoxy": false, "urethane": true}})) == set()
}

test_it_offers_to_leave_the_acid_primer_out if {
	some v in found(over("one-part acid primer", {}))
	v.mend[0] == {"edit": "drop", "step": 3}
}

test_it_cannot_leave_out_what_was_there if {
	some v in found(over("one-part acid primer", {"lower_step": 0, "lower_existing": true}))
	count([e | some e in v.mend; e.edit == "drop"]) == 0
	count(v.mend) == 1
}

test_acid_primer_of_the_first_step_can_be_left_out_too if {
	some v in found(over("one-part acid primer", {"lower_step": 1}))
	v.mend[0] == {"edit": "drop", "step": 1}
}
