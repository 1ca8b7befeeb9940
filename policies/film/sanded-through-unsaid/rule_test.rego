package guidecoat.film["sanded-through-unsaid_test"]

import data.guidecoat.film["sanded-through-unsaid"] as rule

# The middle of what is taken off over the middle of what is left.
middle(over) := {
	"sense": "most", "open": false, "source": "limit", "graced": false, "leaned": [],
	"over": {"lo": over, "hi": over},
}

abrasion(t, more) := object.union(
	{
		"id": "panel/5", "zone": "panel", "step": 5, "do": "sand", "layer": "3:grey", "surface_name": "grey (epoxy primer)",
		"grit": {"name": "P180"}, "through_middle": t, "cuts_written": false,
		"removed": {"text": "1.5 - 4 mil", "shown": {"lo": 1.5, "hi": 4, "unit": "mil"}},
		"left_before": {"text": "1.5 mil", "shown": {"lo": 1.5, "hi": 1.5, "unit": "mil"}},
		"place": {},
	},
	more,
)

found(a) := vs if {
	vs := rule.verdict with input as {"abrasions": [a]}
}

# P180 takes off 1.5 to 4 mil, 2.75 in the middle, of 1.5.
test_taking_off_more_than_is_left_is_a_risk if {
	some v in found(abrasion(middle(1.83), {}))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/5"
	v.message == "sanding with P180 takes off 1.5 - 4 mil of grey (epoxy primer), which has 1.5 mil left: it goes through in places, and no step says to what"
	v.measured == {"lo": 1.5, "hi": 4, "unit": "mil"}
	v.limit == {"lo": 1.5, "hi": 1.5, "unit": "mil"}
}

test_taking_off_just_what_is_left_is_a_risk if {
	some v in found(abrasion(middle(1), {}))
	v.grade == "risk"
}

test_taking_off_a_hair_less_than_is_left_is_silent if count(found(abrasion(middle(0.99), {}))) == 0

test_a_typical_film_is_said if {
	some v in found(abrasion(object.union(middle(1.83), {"leaned": ["grey.film"]}), {}))
	v.certainty == "may"
	v.leaned == ["grey.film"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_an_act_without_a_grade_is_named_alone if {
	some v in found(abrasion(middle(1.83), {"do": "block", "grit": {"name": ""}}))
	startswith(v.message, "blocking takes off")
}

test_a_sheet_that_says_what_it_cuts_to_is_silent if {
	count(found(abrasion(middle(1.83), {"cuts_written": true}))) == 0
}

test_bare_metal_is_silent if count(found(abrasion(null, {}))) == 0

test_a_film_of_unknown_thickness_is_silent if {
	count(found(abrasion(object.union(middle(0), {"open": true, "over": {"lo": 0, "hi": null}}), {}))) == 0
}

test_what_may_only_reach_through_is_silent if {
	count(found(abrasion(object.union(middle(1), {"over": {"lo": 0.8, "hi": 1.2}}), {}))) == 0
	count(found(abrasion(object.union(middle(1.5), {"open": true}), {}))) == 0
}
