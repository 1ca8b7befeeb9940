package guidecoat.clock["bake-too-short_test"]

import data.guidecoat.clock["bake-too-short"] as rule

# A heat or a time whose ratio to the schedule's runs from lo to hi.
against(text, limit, lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": text, "shown": {"lo": 20, "hi": 20, "unit": "min"}},
	"limit": {"text": limit, "shown": {"lo": 30, "hi": 30, "unit": "min"}},
}

film(hot, long, more) := object.union(
	{
		"zone": "panel", "layer": "5:build", "name": "build (urethane surfacer)",
		"hot_enough": hot, "long_enough": long, "relied_on": true, "relied_step": 7,
	},
	more,
)

found(f) := vs if {
	vs := rule.verdict with input as {
		"bakes": [{"id": "6", "step": 6, "place": {"line": 60}, "films": [f]}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

hot := against("140 °F", "140 °F", 1, 1)

long := against("30 min", "30 min", 1, 1)

test_a_bake_too_short_that_a_step_relies_on_is_a_risk if {
	some v in found(film(hot, against("20 min", "30 min", 0.67, 0.67), {}))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/5:build"
	v.step == 6
	v.message == "build (urethane surfacer) is baked for 20 min; it wants 30 min, and step 7 comes as if it had had it"
	v.mend == [{"edit": "set", "step": 6, "key": "for", "value": "30 min"}]
}

test_a_bake_too_cool_that_a_step_relies_on_is_a_risk if {
	some v in found(film(against("110 °F", "140 °F", 0.95, 0.95), long, {}))
	v.grade == "risk"
	v.message == "build (urethane surfacer) is baked at 110 °F; it wants 140 °F, and step 7 comes as if it had had it"
	v.mend == [{"edit": "set", "step": 6, "key": "metal", "value": "140 °F"}]
}

test_too_cool_and_too_short_is_told_once if {
	vs := found(film(against("110 °F", "140 °F", 0.95, 0.95), against("20 min", "30 min", 0.67, 0.67), {}))
	count(vs) == 1
	some v in vs
	contains(v.message, "at 110 °F")
}

test_surely_too_short_is_told_before_perhaps_too_cool if {
	some v in found(film(against("130-150 °F", "140 °F", 0.98, 1.02), against("20 min", "30 min", 0.67, 0.67), {}))
	v.certainty == "will"
	contains(v.message, "for 20 min")
}

test_perhaps_too_cool_may_be if {
	some v in found(film(against("130-150 °F", "140 °F", 0.98, 1.02), long, {}))
	v.certainty == "may"
}

test_perhaps_too_short_may_be if {
	some v in found(film(hot, against("20-40 min", "30 min", 0.67, 1.33), {}))
	v.certainty == "may"
}

test_a_typical_schedule_is_said if {
	short := object.union(against("20 min", "30 min", 0.67, 0.67), {"source": "typical", "leaned": ["build.bake"]})
	some v in found(film(hot, short, {}))
	v.certainty == "may"
	v.leaned == ["build.bake"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_a_bake_that_nothing_relies_on_is_silent if {
	count(found(film(hot, against("20 min", "30 min", 0.67, 0.67), {"relied_on": false, "relied_step": 0}))) == 0
}

test_a_bake_to_the_schedule_is_silent if count(found(film(hot, long, {}))) == 0

test_a_film_without_a_schedule_is_silent if count(found(film(null, null, {}))) == 0
