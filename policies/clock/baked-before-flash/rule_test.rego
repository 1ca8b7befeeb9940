package guidecoat.clock["baked-before-flash_test"]

import data.guidecoat.clock["baked-before-flash"] as rule

# A wait before the bake whose ratio to the flash, 15 min, runs from lo to hi.
flashed(lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "5 min", "shown": {"lo": 5, "hi": 5, "unit": "min"}},
	"limit": {"text": "15 min", "shown": {"lo": 15, "hi": 15, "unit": "min"}},
}

found(s) := vs if {
	vs := rule.verdict with input as {
		"bakes": [{
			"id": "6", "step": 6, "place": {"line": 60},
			"films": [{"zone": "panel", "layer": "5:gloss", "name": "gloss (urethane clear)", "since": {"text": "5 min"}, "flash_first": s}],
		}],
		"layers_by_id": {"5:gloss": {"steps": [5]}},
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_the_oven_five_minutes_after_the_coat_is_a_risk if {
	some v in found(flashed(0.33, 0.33))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/5:gloss"
	v.step == 6
	v.message == "gloss (urethane clear) is baked 5 min after its last coat; it wants 15 min to flash before any heat"
	v.mend == [{"edit": "set", "step": 5, "key": "then_wait", "value": "15 min"}]
}

test_a_flash_that_may_be_too_short_may_be if {
	some v in found(flashed(0.33, 1.5))
	v.certainty == "may"
}

test_a_typical_flash_is_said if {
	some v in found(object.union(flashed(0.33, 0.33), {"source": "typical", "leaned": ["gloss.bake.flash_first"]}))
	v.certainty == "may"
	v.leaned == ["gloss.bake.flash_first"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_exactly_the_flash_is_silent if count(found(flashed(1, 1))) == 0

test_a_wait_nobody_wrote_is_silent if count(found(object.union(flashed(0, null), {"open": true}))) == 0

test_what_was_there_is_silent if count(found(null)) == 0
