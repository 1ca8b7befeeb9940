package guidecoat.film["filler-too-thick_test"]

import data.guidecoat.film["filler-too-thick"] as rule

# Filler whose ratio to a most runs from lo to hi.
filler(text, limit, lo, hi) := {
	"sense": "most", "open": false, "source": "limit", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": text, "shown": {"lo": 0.3, "hi": 0.3, "unit": "in"}},
	"limit": {"text": limit, "shown": {"lo": 0.25, "hi": 0.25, "unit": "in"}},
}

found(plain, fiber) := vs if {
	vs := rule.verdict with input as {
		"totals": [{
			"id": "dent/7-0", "zone": "dent", "top_step": 7, "filler_step": 4,
			"filler_max": plain, "fiber_max": fiber, "place": {},
		}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_filler_over_a_quarter_inch_is_a_risk if {
	some v in found(filler("0.3 in", "0.25 in", 1.2, 1.2), null)
	v.grade == "risk"
	v.certainty == "will"
	v.on == "dent/7-0"
	v.step == 4
	v.message == "dent carries 0.3 in of filler; 0.25 in is the most"
}

test_filler_that_may_be_over_it_may_be if {
	some v in found(filler("0.2-0.3 in", "0.25 in", 0.8, 1.2), null)
	v.certainty == "may"
}

test_fiber_and_all_else_over_its_own_most_is_a_risk if {
	some v in found(filler("0.2 in", "0.25 in", 0.8, 0.8), filler("0.4 in", "0.375 in", 1.07, 1.07))
	v.grade == "risk"
	contains(v.message, "0.375 in is the most")
}

test_both_over_are_told_once if {
	count(found(filler("0.3 in", "0.25 in", 1.2, 1.2), filler("0.5 in", "0.375 in", 1.33, 1.33))) == 1
}

test_fiber_filler_of_three_eighths_is_silent if count(found(null, filler("0.375 in", "0.375 in", 1, 1))) == 0

test_filler_of_a_quarter_inch_is_silent if count(found(filler("0.25 in", "0.25 in", 1, 1), null)) == 0

test_a_zone_without_filler_is_silent if count(found(null, null)) == 0
