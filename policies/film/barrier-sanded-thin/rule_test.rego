package guidecoat.film["barrier-sanded-thin_test"]

import data.guidecoat.film["barrier-sanded-thin"] as rule

# Film left whose ratio to the least, 1 mil, runs from lo to hi.
left(lo, hi) := {
	"sense": "least", "open": false, "source": "limit", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "0.5 mil", "shown": {"lo": 0.5, "hi": 0.5, "unit": "mil"}},
	"limit": {"text": "1 mil", "shown": {"lo": 1, "hi": 1, "unit": "mil"}},
}

abrasion(n, zone, b) := {
	"id": sprintf("%s/%d", [zone, n]), "zone": zone, "step": n, "layer": "3:grey",
	"surface_name": "grey (epoxy primer)", "barrier_left": b, "place": {},
}

found(list) := vs if {
	vs := rule.verdict with input as {"abrasions": list, "lays": [{"layer": "3:grey", "step": 3, "coats_more": 3, "coats_enough": 1}], "limits": {"grace": {"low": 0.9, "high": 1.1}}}
}

test_half_a_mil_left_is_a_risk if {
	some v in found([abrasion(5, "panel", left(0.5, 0.5))])
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/5"
	v.mend == [{"edit": "set", "step": 3, "key": "coats", "value": 3}]
	v.message == "grey (epoxy primer) is the only film here that holds water off the steel, and the sanding leaves 0.5 mil of it; 1 mil is the least"
}

test_a_film_that_may_be_left_too_thin_may_be if {
	some v in found([abrasion(5, "panel", left(0.5, 1.5))])
	v.certainty == "may"
}

test_a_typical_film_is_said if {
	some v in found([abrasion(5, "panel", object.union(left(0.5, 0.5), {"leaned": ["grey.film"]}))])
	v.certainty == "may"
	v.leaned == ["grey.film"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_the_last_sanding_of_a_film_speaks_for_all if {
	vs := found([abrasion(5, "panel", left(0.7, 0.7)), abrasion(6, "panel", left(0.5, 0.5))])
	{v.on | some v in vs} == {"panel/6"}
}

test_each_zone_speaks_for_itself if {
	vs := found([abrasion(5, "panel", left(0.7, 0.7)), abrasion(6, "dent", left(0.5, 0.5))])
	{v.on | some v in vs} == {"panel/5", "dent/6"}
}

test_exactly_one_mil_left_is_silent if count(found([abrasion(5, "panel", left(1, 1))])) == 0

test_a_film_that_is_not_the_only_barrier_is_silent if count(found([abrasion(5, "panel", null)])) == 0

test_a_later_sanding_of_another_film_does_not_speak_for_it if {
	other := object.union(abrasion(7, "panel", left(0.5, 0.5)), {"layer": "4:other"})
	count(found([abrasion(5, "panel", left(0.5, 0.5)), other])) == 2
}

test_a_later_sanding_that_is_not_of_the_barrier_does_not_speak_for_it if {
	count(found([abrasion(5, "panel", left(0.5, 0.5)), abrasion(7, "panel", null)])) == 1
}
