package guidecoat.weather["too-hot_test"]

import data.guidecoat.weather["too-hot"] as rule

# A temperature whose ratio (in kelvin) to the card's hottest, 95 °F, runs from lo to hi.
at(text, lo, hi) := {
	"sense": "most", "open": false, "source": "card", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": text, "shown": {"lo": 104, "hi": 104, "unit": "F"}},
	"limit": {"text": "95 °F", "shown": {"lo": 95, "hi": 95, "unit": "F"}},
}

typical(c) := object.union(c, {"source": "typical", "leaned": ["grey.air"]})

lay(panel, air) := {
	"id": "3", "step": 3, "layer": "3:grey", "name": "grey (epoxy primer)", "contacts": ["panel/3:grey"],
	"hot_panel": panel, "hot_air": air, "place": {"line": 20},
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

mild := at("72 °F", 0.96, 0.96)

test_a_hot_panel_fails if {
	some v in found(lay(at("104 °F", 1.02, 1.02), mild))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "panel/3:grey"
	v.message == "grey (epoxy primer) is laid on a panel at 104 °F; it lets in 95 °F at most"
}

test_hot_air_over_a_mild_panel_fails if {
	some v in found(lay(mild, at("104 °F", 1.02, 1.02)))
	v.grade == "fails"
	contains(v.message, "in air at 104 °F")
}

test_hot_air_and_a_hot_panel_are_one_finding if {
	count(found(lay(at("104 °F", 1.02, 1.02), at("100 °F", 1.01, 1.01)))) == 1
}

test_sure_heat_of_the_air_is_told_before_possible_heat_of_the_panel if {
	some v in found(lay(at("86-104 °F", 0.98, 1.02), at("100 °F", 1.01, 1.01)))
	v.grade == "fails"
	contains(v.message, "in air at 100 °F")
}

test_a_range_that_reaches_into_the_heat_may_be if {
	some v in found(lay(at("86-104 °F", 0.98, 1.02), mild))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_typical_range_makes_it_a_risk_and_says_so if {
	some v in found(lay(typical(at("104 °F", 1.02, 1.02)), typical(mild)))
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["grey.air"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_exactly_the_hottest_is_silent if count(found(lay(at("95 °F", 1, 1), at("95 °F", 1, 1)))) == 0

test_temperatures_nobody_wrote_are_silent if count(found(lay(null, null))) == 0
