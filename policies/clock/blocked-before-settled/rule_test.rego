package guidecoat.clock["blocked-before-settled_test"]

import data.guidecoat.clock["blocked-before-settled"] as rule

# An age whose ratio to the settling time, 16 h, runs from lo to hi.
aged(lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "4 h", "shown": {"lo": 4, "hi": 4, "unit": "h"}},
	"limit": {"text": "16 h", "shown": {"lo": 16, "hi": 16, "unit": "h"}},
}

abrasion(settling, more) := object.union(
	{
		"id": "panel/5", "zone": "panel", "step": 5, "do": "block", "layer": "4:build", "last": true,
		"surface_name": "build (urethane surfacer)", "age": {"text": "4 h"}, "settling": settling, "place": {},
	},
	more,
)

settling(age) := {"age": age, "baked": false, "doubled": false}

found(a) := vs if {
	vs := rule.verdict with input as {
		"abrasions": [a],
		"layers_by_id": {"4:build": {"steps": [4]}},
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_blocked_for_the_last_time_too_young_is_a_risk if {
	some v in found(abrasion(settling(aged(0.25, 0.25)), {}))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/5"
	v.message == "build (urethane surfacer) is blocked for the last time 4 h after it was laid; it settles for 16 h"
	v.mend == [{"edit": "set", "step": 4, "key": "then_wait", "value": "16 h"}]
}

test_sanded_and_scuffed_count_too if {
	every act in ["sand", "scuff"] {
		count(found(abrasion(settling(aged(0.25, 0.25)), {"do": act}))) == 1
	}
}

test_an_age_that_may_be_too_young_may_be if {
	some v in found(abrasion(settling(aged(0.25, 2)), {}))
	v.certainty == "may"
}

test_a_typical_time_is_said if {
	some v in found(abrasion(settling(object.union(aged(0.25, 0.25), {"leaned": ["build.settles"]})), {}))
	v.certainty == "may"
	v.leaned == ["build.settles"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_a_film_over_its_range_settles_twice_as_long if {
	some v in found(abrasion(object.union(settling(aged(0.25, 0.25)), {"doubled": true}), {}))
	contains(v.message, "twice as long as usual")
}

test_an_earlier_blocking_is_silent if count(found(abrasion(settling(aged(0.25, 0.25)), {"last": false}))) == 0

test_exactly_the_time_is_silent if count(found(abrasion(settling(aged(1, 1)), {}))) == 0

test_an_age_nobody_wrote_is_silent if {
	count(found(abrasion(settling(object.union(aged(0, null), {"open": true})), {}))) == 0
}

test_a_bake_to_the_schedule_counts_as_settled if {
	count(found(abrasion(object.union(settling(aged(0.25, 0.25)), {"baked": true}), {}))) == 0
}

test_a_film_that_does_not_settle_is_silent if {
	count(found(abrasion(null, {}))) == 0
	count(found(abrasion(settling(null), {}))) == 0
}
