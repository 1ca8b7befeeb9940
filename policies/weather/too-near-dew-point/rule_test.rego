package guidecoat.weather["too-near-dew-point_test"]

import data.guidecoat.weather["too-near-dew-point"] as rule

# The panel's height over the dew point, whose ratio to 3 °C runs from lo to hi.
margin(lo, hi) := {
	"sense": "least", "open": false, "source": "limit", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"lo": 2, "hi": 2, "text": "2 °C", "shown": {"lo": 2, "hi": 2, "unit": "C"}},
	"limit": {"text": "3 °C", "shown": {"lo": 3, "hi": 3, "unit": "C"}},
}

lay(m) := {
	"id": "3", "step": 3, "layer": "3:grey", "name": "grey (epoxy primer)", "contacts": ["panel/3:grey", "dent/3:grey"],
	"panel": {"text": "16 °C"}, "dew_point": {"text": "14 °C"}, "dew_margin": m, "place": {"line": 20},
}

contact(zone) := {
	"id": concat("/", [zone, "3:grey"]), "zone": zone, "step": 3,
	"upper": "3:grey", "lower": "0:mild-steel", "place": {"line": 20},
}

found(l) := vs if {
	vs := rule.verdict with input as {
		"lays": [l],
		"contacts_by_upper": {"3:grey": [contact("panel"), contact("dent")]},
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_two_degrees_over_the_dew_point_fails_in_every_zone if {
	vs := found(lay(margin(0.67, 0.67)))
	{v.on | some v in vs} == {"panel/3:grey", "dent/3:grey"}
	every v in vs {
		v.grade == "fails"
		v.certainty == "will"
		v.step == 3
		v.message == "grey (epoxy primer) is laid on a panel at 16 °C with the dew point at 14 °C: 2 °C above it, where 3 °C is the least"
	}
}

test_a_panel_colder_than_the_dew_point_fails if {
	every v in found(lay(margin(-0.5, -0.5))) { v.grade == "fails" }
	count(found(lay(margin(-0.5, -0.5)))) == 2
}

test_how_far_below_it_is_said_without_a_sign if {
	colder := object.union(margin(-0.3, -0.3), {"measured": {"lo": -1, "hi": -1, "text": "-1 °C", "shown": {"lo": -1, "hi": -1, "unit": "C"}}})
	every v in found(lay(colder)) { contains(v.message, "with the dew point at 14 °C: 1 °C below it, where 3 °C is the least") }
	either := object.union(margin(-0.3, 0.3), {"measured": {"lo": -1, "hi": 1, "text": "-1 to 1 °C", "shown": {"lo": -1, "hi": 1, "unit": "C"}}})
	every v in found(lay(either)) { contains(v.message, ": -1 to 1 °C above it, where") }
}

test_a_range_that_reaches_too_near_may_be if {
	every v in found(lay(margin(0.67, 2))) {
		v.grade == "risk"
		v.certainty == "may"
	}
	count(found(lay(margin(0.67, 2)))) == 2
}

test_a_hair_too_near_has_no_grace if {
	every v in found(lay(margin(0.99, 0.99))) { v.grade == "fails" }
	count(found(lay(margin(0.99, 0.99)))) == 2
}

test_exactly_three_degrees_is_silent if count(found(lay(margin(1, 1)))) == 0

test_weather_nobody_wrote_is_silent if count(found(lay(null))) == 0
