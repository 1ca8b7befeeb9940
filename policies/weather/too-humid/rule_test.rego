package guidecoat.weather["too-humid_test"]

import data.guidecoat.weather["too-humid"] as rule

# A humidity whose ratio to the card's most, 70 %, runs from lo to hi.
air(lo, hi) := {
	"sense": "most", "open": false, "source": "card", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "77 %", "shown": {"lo": 77, "hi": 77, "unit": "%"}},
	"limit": {"text": "70 %", "shown": {"lo": 70, "hi": 70, "unit": "%"}},
}

found(humid) := vs if {
	vs := rule.verdict with input as {
		"lays": [{
			"id": "3", "step": 3, "layer": "3:etch", "name": "etch (one-part acid primer)",
			"contacts": ["panel/3:etch"], "humid": humid, "place": {"line": 20},
		}],
		"contacts_by_upper": {"3:etch": [{
			"id": "panel/3:etch", "zone": "panel", "step": 3,
			"upper": "3:etch", "lower": "0:mild-steel", "place": {},
		}]},
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_damper_than_the_card_lets_in_is_a_risk if {
	some v in found(air(1.1, 1.1))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/3:etch"
	v.message == "etch (one-part acid primer) is laid in air of 77 % humidity; it lets in 70 % at most"
}

test_a_range_that_reaches_too_damp_may_be if {
	some v in found(air(0.7, 1.1))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_typical_most_is_said if {
	some v in found(object.union(air(1.1, 1.1), {"source": "typical", "leaned": ["etch.humidity"]}))
	v.certainty == "may"
	v.leaned == ["etch.humidity"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_exactly_the_most_is_silent if count(found(air(1, 1))) == 0

test_humidity_nobody_wrote_is_silent if count(found(null)) == 0
