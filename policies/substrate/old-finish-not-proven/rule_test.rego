package guidecoat.substrate["old-finish-not-proven_test"]

import data.guidecoat.substrate["old-finish-not-proven"] as rule

contact(more) := object.union(
	{
		"id": "panel/4:x", "zone": "panel", "step": 4, "upper": "4:x", "lower": "0.1:y", "upper_name": "x", "lower_name": "y",
		"upper_traits": {"epoxy": false, "two_part": true, "solvent": true}, "lower_kind": "unknown finish",
		"lower_existing": true, "lower_condition": "sound", "inspected": [], "place": {},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c]}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

epoxy := {"upper_traits": {"epoxy": true}}

water := {"upper_traits": {"two_part": false, "solvent": false}}

test_film_on_an_unknown_finish_is_a_risk if grades(contact({})) == {["risk", "will"]}

test_film_on_a_finish_of_unknown_or_peeling_condition_is_a_risk if {
	every condition in ["unknown", "peeling"] {
		grades(contact({"lower_kind": "factory finish", "lower_condition": condition})) == {["risk", "will"]}
	}
}

test_film_on_a_sound_known_finish_is_silent if found(contact({"lower_kind": "factory finish"})) == set()

test_chalking_and_cracked_are_not_this_rules_matter if {
	every condition in ["chalking", "cracked"] {
		found(contact({"lower_kind": "factory finish", "lower_condition": condition})) == set()
	}
}

test_adhesion_and_solvent_rub_inspected_is_silent if found(contact({"inspected": ["adhesion", "solvent rub"]})) == set()

test_adhesion_alone_before_a_two_part_film_is_a_risk if {
	some v in found(contact({"inspected": ["adhesion"], "upper_traits": {"solvent": false}}))
	v.grade == "risk"
	v.mend == [{"edit": "insert", "where": "before", "step": 4, "set": {"do": "inspect", "measure": ["solvent rub"]}}]
}

test_adhesion_alone_before_a_solvent_rich_film_is_a_risk if {
	grades(contact({"inspected": ["adhesion"], "upper_traits": {"two_part": false}})) == {["risk", "will"]}
}

test_adhesion_alone_before_epoxy_is_silent if found(contact(object.union(epoxy, {"inspected": ["adhesion"]}))) == set()

test_nothing_inspected_before_epoxy_is_a_risk if grades(contact(epoxy)) == {["risk", "will"]}

test_adhesion_alone_before_a_waterborne_film_is_silent if found(contact(object.union(water, {"inspected": ["adhesion"]}))) == set()

test_solvent_rub_alone_before_a_waterborne_film_is_a_risk if {
	grades(contact(object.union(water, {"inspected": ["solvent rub"]}))) == {["risk", "will"]}
}

test_film_on_a_film_of_this_sheet_is_silent if found(contact({"lower_existing": false})) == set()

test_adhesion_and_solvent_rub_are_both_asked_for if {
	some v in found(contact({}))
	contains(v.message, "adhesion and solvent rub")
	v.mend[0].set.measure == ["adhesion", "solvent rub"]
}
