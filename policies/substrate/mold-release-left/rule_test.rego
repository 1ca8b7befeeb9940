package guidecoat.substrate["mold-release-left_test"]

import data.guidecoat.substrate["mold-release-left"] as rule

beginning(more) := object.union(
	{
		"id": "panel/3", "zone": "panel", "step": 3, "act": "abrasion", "layer": "0:bare-plastic", "name": "bare plastic",
		"soap": true, "cleaner": true, "place": {},
	},
	more,
)

found(b) := vs if {
	vs := rule.verdict with input as {
		"beginnings": [b],
		"limits": {"water_flash": {"measure": {"text": "15 min"}}},
	}
}

test_neither_soap_nor_cleaner_fails if {
	some v in found(beginning({"soap": false, "cleaner": false}))
	v.grade == "fails"
	v.on == "panel/3"
	count(v.mend) == 2
	v.mend[0].set["with"] == "soap and water"
	v.mend[1].set.with_kind == "plastic cleaner"
}

test_only_soap_is_a_risk if {
	some v in found(beginning({"cleaner": false}))
	v.grade == "risk"
	contains(v.message, "plastic cleaner")
	not contains(v.message, "soap")
}

test_only_cleaner_is_a_risk if {
	some v in found(beginning({"soap": false}))
	v.grade == "risk"
	contains(v.message, "soap")
}

test_both_are_silent if found(beginning({})) == set()

test_a_film_as_the_beginning_stands_on_its_contact if {
	some v in found(beginning({"id": "panel/4:x", "act": "film", "step": 4, "soap": false}))
	v.on == "panel/4:x"
	contains(v.message, "first film")
}
