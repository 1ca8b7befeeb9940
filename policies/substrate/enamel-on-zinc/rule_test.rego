package guidecoat.substrate["enamel-on-zinc_test"]

import data.guidecoat.substrate["enamel-on-zinc"] as rule

contact(more) := object.union(
	{
		"id": "panel/4:x", "zone": "panel", "step": 4, "upper": "4:x", "lower": "0:galvanized-steel", "upper_name": "x",
		"lower_name": "galvanized steel", "upper_kind": "single-stage enamel",
		"upper_traits": {"class": "color", "two_part": false, "acid": false}, "lower_traits": {"zinc": true},
		"card_says": "silent", "place": {},
	},
	more,
)

one_part(kind, class) := contact({"upper_kind": kind, "upper_traits": {"class": class}})

found(c) := vs if {
	vs := rule.verdict with input as {"contacts_on_metal": [c]}
}

fails(c) if {
	some v in found(c)
	v.grade == "fails"
}

test_single_stage_enamel_on_galvanized_fails if fails(contact({}))

test_hardened_enamel_on_galvanized_fails if fails(contact({"upper_traits": {"two_part": true}}))

test_one_part_primers_on_galvanized_fail if {
	fails(one_part("waterborne primer", "primer"))
	fails(one_part("lacquer primer", "surfacer"))
}

test_acid_primer_is_let_pass if {
	found(contact({"upper_kind": "one-part acid primer", "upper_traits": {"class": "primer", "acid": true}})) == set()
}

test_two_part_primer_is_silent if {
	found(contact({"upper_kind": "epoxy primer", "upper_traits": {"class": "primer", "two_part": true}})) == set()
}

test_urethane_single_stage_is_not_this_rules_matter if {
	found(contact({"upper_kind": "single-stage urethane", "upper_traits": {"two_part": true}})) == set()
}

test_enamel_on_mild_steel_is_silent if found(contact({"lower_traits": {"zinc": false}})) == set()

test_card_that_allows_it_is_silent if found(contact({"card_says": "allows"})) == set()

test_one_part_color_and_clear_are_other_rules_matter if {
	found(one_part("solvent basecoat", "color")) == set()
	found(one_part("one-part clear", "clear")) == set()
}
