package guidecoat.film["stack-too-thick_test"]

import data.guidecoat.film["stack-too-thick"] as rule

# Paint whose ratio to a most runs from lo to hi.
paint(text, limit, lo, hi) := {
	"sense": "most", "open": false, "source": "limit", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": text, "shown": {"lo": 24, "hi": 24, "unit": "mil"}},
	"limit": {"text": limit, "shown": {"lo": 20, "hi": 20, "unit": "mil"}},
}

found(stack, lacquer) := vs if {
	vs := rule.verdict with input as {
		"totals": [{
			"id": "panel/7-0", "zone": "panel", "top_step": 7,
			"stack_max": stack, "lacquer_max": lacquer, "place": {},
		}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_paint_over_the_most_is_a_risk if {
	some v in found(paint("24 mil", "20 mil", 1.2, 1.2), null)
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/7-0"
	v.step == 7
	v.message == "panel carries 24 mil of paint in the end; 20 mil is the most"
}

test_paint_that_may_be_over_it_may_be if {
	some v in found(paint("18-24 mil", "20 mil", 0.9, 1.2), null)
	v.certainty == "may"
}

test_typical_films_are_said if {
	some v in found(object.union(paint("24 mil", "20 mil", 1.2, 1.2), {"leaned": ["blue.film"]}), null)
	v.certainty == "may"
	v.leaned == ["blue.film"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_lacquer_over_its_own_most_is_a_risk if {
	some v in found(paint("9 mil", "20 mil", 0.45, 0.45), paint("9 mil", "8 mil", 1.13, 1.13))
	v.grade == "risk"
	v.message == "panel carries 9 mil of lacquer in the end; 8 mil is the most"
}

test_lacquer_over_both_is_told_once if {
	count(found(paint("24 mil", "20 mil", 1.2, 1.2), paint("24 mil", "8 mil", 3, 3))) == 1
}

test_exactly_the_most_is_silent if {
	count(found(paint("20 mil", "20 mil", 1, 1), paint("8 mil", "8 mil", 1, 1))) == 0
}

test_an_unknown_old_film_is_silent if count(found(null, null)) == 0
