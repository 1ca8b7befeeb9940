package guidecoat.film["coat-too-wet_test"]

import data.guidecoat.film["coat-too-wet"] as rule

# A wet coat whose ratio to the card's most, 4 mil, runs from lo to hi.
wet(lo, hi) := {
	"sense": "most", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "6 mil", "shown": {"lo": 6, "hi": 6, "unit": "mil"}},
	"limit": {"text": "4 mil", "shown": {"lo": 4, "hi": 4, "unit": "mil"}},
}

found(w) := vs if {
	vs := rule.verdict with input as {
		"lays": [{
			"id": "5", "step": 5, "layer": "5:gloss", "name": "gloss (urethane clear)",
			"contacts": ["panel/5:gloss"], "wet_max": w, "place": {},
		}],
		"contacts_by_upper": {"5:gloss": [{
			"id": "panel/5:gloss", "zone": "panel", "upper": "5:gloss", "lower": "4:blue", "place": {},
		}]},
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_a_coat_half_as_wet_again_is_a_risk if {
	some v in found(wet(1.5, 1.5))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/5:gloss"
	v.step == 5
	v.message == "a coat of gloss (urethane clear) is laid 6 mil wet; its card lets in 4 mil"
	v.mend == [{"edit": "set", "step": 5, "key": "wet_film", "value": "4 mil"}]
}

test_a_coat_that_may_be_too_wet_may_be if {
	some v in found(wet(0.75, 1.5))
	v.certainty == "may"
}

test_exactly_the_most_is_silent if count(found(wet(1, 1))) == 0

test_a_card_or_step_that_names_no_wet_film_is_silent if count(found(null)) == 0
