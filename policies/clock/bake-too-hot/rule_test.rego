package guidecoat.clock["bake-too-hot_test"]

import data.guidecoat.clock["bake-too-hot"] as rule

# A panel's heat whose ratio (in kelvin) to a most runs from lo to hi.
hot(limit, source, lo, hi) := {
	"sense": "most", "open": false, "source": source, "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "180 °F", "shown": {"lo": 180, "hi": 180, "unit": "F"}},
	"limit": {"text": limit, "shown": {"lo": 150, "hi": 150, "unit": "F"}},
}

found(card, plastic, filler) := vs if {
	vs := rule.verdict with input as {
		"bakes": [{
			"id": "6", "step": 6, "place": {"line": 60}, "plastic_hot": plastic, "filler_hot": filler,
			"films": [{"zone": "panel", "layer": "5:gloss", "name": "gloss (urethane clear)", "too_hot": card}],
		}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_hotter_than_the_card_lets_in_is_a_risk if {
	some v in found(hot("160 °F", "card", 1.03, 1.03), null, null)
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/5:gloss"
	v.step == 6
	v.message == "the panel is baked at 180 °F; gloss (urethane clear) bears 160 °F at most"
	v.mend == [{"edit": "set", "step": 6, "key": "metal", "value": "160 °F"}]
}

test_hotter_than_plastic_bears_is_a_risk if {
	some v in found(null, hot("150 °F", "limit", 1.05, 1.05), null)
	v.grade == "risk"
	v.on == "6"
	v.message == "the panel is baked at 180 °F; plastic bears 150 °F at most"
}

test_hotter_than_filler_bears_is_a_risk if {
	some v in found(null, null, hot("160 °F", "limit", 1.03, 1.03))
	v.grade == "risk"
	v.on == "6"
	v.message == "the panel is baked at 180 °F; filler bears 160 °F at most"
}

test_filler_on_plastic_is_told_once if {
	count(found(null, hot("150 °F", "limit", 1.05, 1.05), hot("160 °F", "limit", 1.03, 1.03))) == 1
}

test_filler_beside_plastic_that_bears_it_speaks if {
	count(found(null, hot("190 °F", "house", 0.98, 0.98), hot("160 °F", "limit", 1.03, 1.03))) == 1
}

test_a_heat_that_may_be_too_much_may_be if {
	every vs in [
		found(hot("160 °F", "card", 0.98, 1.03), null, null),
		found(null, hot("150 °F", "limit", 0.98, 1.03), null),
		found(null, null, hot("160 °F", "limit", 0.98, 1.03)),
	] {
		some v in vs
		v.certainty == "may"
	}
}

test_exactly_the_most_is_silent if {
	count(found(hot("160 °F", "card", 1, 1), hot("150 °F", "limit", 1, 1), hot("160 °F", "limit", 1, 1))) == 0
}

test_a_card_that_names_no_most_is_silent if count(found(null, null, null)) == 0
