package guidecoat.people["skin-unprotected_test"]

import data.guidecoat.people["skin-unprotected"] as rule

cup(more) := object.union(
	{
		"id": "3", "step": 3, "name": "grey (epoxy primer)", "place": {}, "two_part": true,
		"isocyanate": false, "epoxy_hardener": true, "wear": ["gloves", "eye protection", "coverall"],
	},
	more,
)

test_epoxy_without_gloves_fails if {
	some v in rule.verdict with input as {"mixes": [cup({"wear": ["eye protection", "coverall"]})]}
	v.grade == "fails"
	contains(v.message, "no gloves")
	not contains(v.message, "no coverall")
}

test_isocyanate_without_eye_protection_fails if {
	some v in rule.verdict with input as {"mixes": [cup({
		"isocyanate": true, "epoxy_hardener": false,
		"wear": ["gloves", "coverall"],
	})]}
	v.grade == "fails"
}

test_filler_with_bare_hands_is_a_risk if {
	some v in rule.verdict with input as {"mixes": [cup({"epoxy_hardener": false, "wear": []})]}
	v.grade == "risk"
}

test_a_one_part_base_with_isocyanate_hardener_counts if {
	some v in rule.verdict with input as {"mixes": [cup({
		"two_part": false, "isocyanate": true, "epoxy_hardener": false,
		"wear": [],
	})]}
	v.grade == "fails"
}

test_a_one_part_cup_with_epoxy_hardener_counts if {
	some v in rule.verdict with input as {"mixes": [cup({"two_part": false, "wear": []})]}
	v.grade == "fails"
}

test_an_apron_is_no_coverall_here if {
	some v in rule.verdict with input as {"mixes": [cup({"wear": ["gloves", "eye protection", "apron"]})]}
	contains(v.message, "no coverall")
}

test_a_face_shield_counts_for_the_eyes if {
	count(rule.verdict) == 0 with input as {"mixes": [cup({"wear": ["gloves", "face shield", "coverall"]})]}
}

test_all_three_are_silent if {
	count(rule.verdict) == 0 with input as {"mixes": [cup({})]}
}

test_a_one_part_cup_is_silent if {
	count(rule.verdict) == 0 with input as {"mixes": [cup({"two_part": false, "epoxy_hardener": false, "wear": []})]}
}

test_whatever_covers_the_eyes_counts if {
	every eyes in ["eye protection", "face shield", "blast hood"] {
		vs := rule.verdict with input as {"mixes": [cup({"wear": ["gloves", eyes, "coverall"]})]}
		vs == set()
	}
}
