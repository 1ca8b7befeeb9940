package guidecoat.weather["too-cold_test"]

import data.guidecoat.weather["too-cold"] as rule

# A temperature whose ratio (in kelvin) to the card's coldest, 60 °F, runs from lo to hi.
at(text, lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": text, "shown": {"lo": 50, "hi": 50, "unit": "F"}},
	"limit": {"text": "60 °F", "shown": {"lo": 60, "hi": 60, "unit": "F"}},
}

typical(c) := object.union(c, {"source": "typical", "leaned": ["grey.air"]})

lay(panel, air) := {
	"id": "3", "step": 3, "layer": "3:grey", "name": "grey (epoxy primer)", "contacts": ["panel/3:grey"],
	"cold_panel": panel, "cold_air": air, "place": {"line": 20},
}

found(l) := vs if {
	vs := rule.verdict with input as {
		"lays": [l],
		"contacts_by_upper": {"3:grey": [{
			"id": "panel/3:grey", "zone": "panel", "step": 3,
			"upper": "3:grey", "lower": "0:mild-steel", "place": {},
		}]},
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

warm := at("72 °F", 1.02, 1.02)

test_a_cold_panel_fails if {
	some v in found(lay(at("50 °F", 0.98, 0.98), warm))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "panel/3:grey"
	v.message == "grey (epoxy primer) is laid on a panel at 50 °F; it wants 60 °F at least"
}

test_cold_air_over_a_warm_panel_fails if {
	some v in found(lay(warm, at("50 °F", 0.98, 0.98)))
	v.grade == "fails"
	contains(v.message, "in air at 50 °F")
}

test_cold_air_and_a_cold_panel_are_one_finding if {
	count(found(lay(at("50 °F", 0.98, 0.98), at("52 °F", 0.98, 0.98)))) == 1
}

test_sure_cold_of_the_air_is_told_before_possible_cold_of_the_panel if {
	some v in found(lay(at("50-70 °F", 0.98, 1.01), at("52 °F", 0.98, 0.98)))
	v.grade == "fails"
	contains(v.message, "in air at 52 °F")
}

test_a_range_that_reaches_into_the_cold_may_be if {
	some v in found(lay(at("50-70 °F", 0.98, 1.02), warm))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_typical_range_makes_it_a_risk_and_says_so if {
	some v in found(lay(typical(at("50 °F", 0.98, 0.98)), typical(warm)))
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["grey.air"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_exactly_the_coldest_is_silent if count(found(lay(at("60 °F", 1, 1), at("60 °F", 1, 1)))) == 0

test_temperatures_nobody_wrote_are_silent if count(found(lay(null, null))) == 0
