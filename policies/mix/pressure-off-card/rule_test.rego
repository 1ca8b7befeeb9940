package guidecoat.mix["pressure-off-card_test"]

import data.guidecoat.mix["pressure-off-card"] as rule

# A pressure held to an end of the card's range, 26 to 30 psi; its ratio to that end runs from lo to hi.
pressure(sense, text, limit, lo, hi) := {
	"sense": sense, "open": false, "source": "card", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": text, "shown": {"lo": 20, "hi": 20, "unit": "psi"}},
	"limit": {"text": limit, "shown": {"lo": 26, "hi": 26, "unit": "psi"}},
}

found(low, high) := vs if {
	vs := rule.verdict with input as {
		"lays": [{"id": "5", "step": 5, "name": "build (urethane surfacer)", "pressure_low": low, "pressure_high": high, "place": {}}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_pressure_too_low_is_a_risk if {
	some v in found(pressure("least", "20 psi", "26 psi", 0.77, 0.77), pressure("most", "20 psi", "30 psi", 0.67, 0.67))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "5"
	v.message == "build (urethane surfacer) is sprayed at 20 psi; its card wants 26 psi at least"
	v.mend == [{"edit": "set", "step": 5, "key": "pressure", "value": "26 psi"}]
}

test_pressure_too_high_is_a_risk if {
	some v in found(pressure("least", "36 psi", "26 psi", 1.38, 1.38), pressure("most", "36 psi", "30 psi", 1.2, 1.2))
	v.grade == "risk"
	contains(v.message, "its card wants 30 psi at most")
	v.mend == [{"edit": "set", "step": 5, "key": "pressure", "value": "30 psi"}]
}

test_a_range_of_pressures_that_reaches_out_of_it_may_be if {
	some v in found(pressure("least", "20-30 psi", "26 psi", 0.77, 1.15), pressure("most", "20-30 psi", "30 psi", 0.67, 1))
	v.certainty == "may"
}

test_the_ends_of_the_range_are_silent if {
	count(found(pressure("least", "26 psi", "26 psi", 1, 1), pressure("most", "26 psi", "30 psi", 0.87, 0.87))) == 0
	count(found(pressure("least", "30 psi", "26 psi", 1.15, 1.15), pressure("most", "30 psi", "30 psi", 1, 1))) == 0
}

test_a_card_or_step_that_names_no_pressure_is_silent if count(found(null, null)) == 0
