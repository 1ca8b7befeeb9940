package guidecoat.clock["chilled-before-cure_test"]

import data.guidecoat.clock["chilled-before-cure"] as rule

# A panel whose ratio (in kelvin) to the coldest it may be, 60 °F, runs from lo to hi.
panel(lo, hi) := {
	"sense": "least", "open": false, "source": "limit", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "45 °F", "shown": {"lo": 45, "hi": 45, "unit": "F"}},
	"limit": {"text": "60 °F", "shown": {"lo": 60, "hi": 60, "unit": "F"}},
}

# Minutes after the last coat.
after(lo, hi) := {"lo": lo, "hi": hi, "open": false, "text": "12 h", "shown": {"lo": 12, "hi": 12, "unit": "h"}}

piece(more) := object.union({"step": 6, "outdoors": false, "after": after(720, 720), "cold": null}, more)

day := {"lo": 1440, "hi": 1440, "open": false, "text": "24 h"}

judged(layer, pieces) := vs if {
	vs := rule.verdict with input as {
		"layers": [object.union(
			{"id": "5:gloss", "name": "gloss (urethane clear)", "traits": {"two_part": true}, "baked_full": false, "first_day": pieces},
			layer,
		)],
		"contacts_by_upper": {"5:gloss": [{
			"id": "panel/5:gloss", "zone": "panel", "step": 5, "upper": "5:gloss", "lower": "4:blue", "place": {"line": 50},
		}]},
		"steps": [{"n": 5, "place": {"line": 50}}, {"n": 6, "place": {"line": 60}}, {"n": 7, "place": {"line": 70}}],
		"layers_by_id": {"5:gloss": {"steps": [5]}},
		"limits": {"grace": {"low": 0.9, "high": 1.1}, "cure_day": {"measure": day}},
	}
}

found(pieces) := judged({}, pieces)

test_outdoors_in_the_first_day_is_a_risk if {
	some v in found([piece({"outdoors": true})])
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/5:gloss"
	v.step == 6
	v.place.line == 60
	v.mend == [{"edit": "set", "step": 5, "key": "then_wait", "value": "24 h"}]
	v.message == "gloss (urethane clear) stands outdoors, 12 h after its last coat, and needs 24 h to cure"
}

test_a_cold_panel_in_the_first_day_is_a_risk if {
	some v in found([piece({"cold": panel(0.97, 0.97)})])
	v.grade == "risk"
	v.certainty == "will"
	v.message == "gloss (urethane clear) stands at 45 °F, under 60 °F, 12 h after its last coat, and needs 24 h to cure"
	v.measured == {"lo": 45, "hi": 45, "unit": "F"}
}

test_a_panel_that_may_be_cold_may_be if {
	some v in found([piece({"cold": panel(0.97, 1.02)})])
	v.certainty == "may"
}

test_exactly_warm_enough_is_silent if count(found([piece({"cold": panel(1, 1)})])) == 0

test_outdoors_after_a_whole_day_is_silent if {
	count(found([piece({"outdoors": true, "after": after(1440, 1440)})])) == 0
}

test_outdoors_perhaps_within_the_day_may_be if {
	some v in found([piece({"outdoors": true, "after": after(720, 2000)})])
	v.grade == "risk"
	v.certainty == "may"
}

test_cold_perhaps_within_the_day_may_be if {
	some v in found([piece({"cold": panel(0.97, 0.97), "after": after(720, 2000)})])
	v.certainty == "may"
}

test_outdoors_after_a_wait_nobody_wrote_may_be_at_once if {
	some v in found([piece({"outdoors": true, "after": {"lo": 0, "hi": null, "open": true, "text": "not written"}})])
	v.grade == "risk"
	v.certainty == "may"
	v.message == "gloss (urethane clear) stands outdoors, how long after its last coat no step says, and needs 24 h to cure"
}

test_the_first_chill_speaks_for_the_day if {
	vs := found([piece({}), piece({"outdoors": true}), piece({"step": 7, "outdoors": true})])
	count(vs) == 1
	some v in vs
	v.step == 6
}

test_a_sure_chill_is_told_before_a_possible_one if {
	some v in found([piece({"cold": panel(0.97, 1.02)}), piece({"step": 7, "outdoors": true})])
	v.step == 7
	v.certainty == "will"
}

test_a_film_that_may_have_been_baked_is_only_perhaps_chilled if {
	some v in judged({"baked_perhaps": true}, [piece({"outdoors": true})])
	v.certainty == "may"
}

test_a_bake_to_the_schedule_has_the_cure_behind_it if {
	count(judged({"baked_full": true}, [piece({"outdoors": true})])) == 0
}

test_a_one_part_film_is_silent if {
	count(judged({"traits": {"two_part": false}}, [piece({"outdoors": true})])) == 0
}

test_a_warm_first_day_inside_is_silent if count(found([piece({"cold": panel(1.02, 1.02)})])) == 0

test_a_sure_cold_that_may_fall_in_the_first_day_is_a_risk_that_may_be if {
	{[v.grade, v.certainty] | some v in found([piece({"cold": panel(0.98, 0.98), "after": after(720, 2880)})])} == {["risk", "may"]}
}
