package guidecoat.clock["sanded-too-soon_test"]

import data.guidecoat.clock["sanded-too-soon"] as rule

# An age whose ratio to sand_after, 3 h, runs from lo to hi.
aged(lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "1 h", "shown": {"lo": 1, "hi": 1, "unit": "h"}},
	"limit": {"text": "3 h", "shown": {"lo": 3, "hi": 3, "unit": "h"}},
}

abrasion(s, more) := object.union(
	{
		"id": "panel/5", "zone": "panel", "step": 5, "do": "block", "layer": "4:build",
		"surface_name": "build (urethane surfacer)", "surface_traits": {"sandable": true},
		"age": {"text": "1 h"}, "sand_after": s, "sand_after_baked": false, "place": {},
	},
	more,
)

found(a) := vs if {
	vs := rule.verdict with input as {
		"abrasions": [a],
		"layers_by_id": {"4:build": {"steps": [4]}},
		"limits": {"grace": {"low": 0.9, "high": 1.1}, "sand_half": {"measure": {"lo": 0.5}}},
	}
}

test_under_half_the_time_fails if {
	some v in found(abrasion(aged(0.33, 0.33), {}))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "panel/5"
	v.message == "build (urethane surfacer) is blocked 1 h after it was laid; it wants 3 h first"
	v.mend == [{"edit": "set", "step": 4, "key": "then_wait", "value": "3 h"}]
}

test_exactly_half_the_time_is_a_risk if {
	some v in found(abrasion(aged(0.5, 0.5), {}))
	v.grade == "risk"
	v.certainty == "will"
}

test_under_the_time_is_a_risk if {
	some v in found(abrasion(aged(0.8, 0.8), {}))
	v.grade == "risk"
	v.certainty == "will"
}

test_an_age_that_may_be_under_half_is_a_risk if {
	some v in found(abrasion(aged(0.33, 0.8), {}))
	v.grade == "risk"
	v.certainty == "will"
}

test_an_age_that_may_be_too_young_may_be if {
	some v in found(abrasion(aged(0.33, 1.5), {}))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_typical_time_makes_it_a_risk_and_says_so if {
	some v in found(abrasion(object.union(aged(0.33, 0.33), {"source": "typical", "leaned": ["build.sand_after"]}), {}))
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["build.sand_after"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_a_scuff_counts_too if {
	some v in found(abrasion(aged(0.8, 0.8), {"do": "scuff"}))
	contains(v.message, "is scuffed 1 h after")
}

test_exactly_the_time_is_silent if count(found(abrasion(aged(1, 1), {}))) == 0

test_an_age_nobody_wrote_is_silent if {
	count(found(abrasion(object.union(aged(0, null), {"open": true}), {}))) == 0
}

test_a_bake_to_the_schedule_does_instead if {
	count(found(abrasion(aged(0.33, 0.33), {"sand_after_baked": true}))) == 0
}

test_a_film_that_is_never_sanded_is_another_rules_matter if {
	count(found(abrasion(aged(0.33, 0.33), {"surface_traits": {"sandable": false}}))) == 0
}

test_what_was_there_is_silent if count(found(abrasion(null, {}))) == 0
