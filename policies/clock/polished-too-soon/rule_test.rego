package guidecoat.clock["polished-too-soon_test"]

import data.guidecoat.clock["polished-too-soon"] as rule

# A wait whose ratio to a least runs from lo to hi.
waited(text, limit, lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": text, "shown": {"lo": 6, "hi": 6, "unit": "h"}},
	"limit": {"text": limit, "shown": {"lo": 20, "hi": 20, "unit": "h"}},
}

found(after, bake) := vs if {
	vs := rule.verdict with input as {
		"polishes": [{
			"id": "panel/9", "zone": "panel", "step": 9, "layer": "5:gloss", "name": "gloss (urethane clear)",
			"polish_after": after, "since_bake": bake, "place": {},
		}],
		"bakes": [
			{"step": 3, "zones": ["panel"]}, {"step": 6, "zones": ["panel", "dent"]},
			{"step": 7, "zones": ["dent"]}, {"step": 10, "zones": ["panel"]},
		],
		"layers_by_id": {"5:gloss": {"steps": [4, 5]}},
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_polishing_a_green_film_is_a_risk if {
	some v in found(waited("6 h", "20 h", 0.3, 0.3), null)
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/9"
	v.message == "gloss (urethane clear) is polished 6 h after it was laid; it wants 20 h"
	v.mend == [{"edit": "set", "step": 5, "key": "then_wait", "value": "20 h"}]
}

test_polishing_a_film_hot_from_the_oven_is_a_risk if {
	some v in found(waited("20 min", "1 h", 0.33, 0.33), waited("20 min", "1 h", 0.33, 0.33))
	v.grade == "risk"
	v.message == "gloss (urethane clear) is polished 20 min after its bake; it wants 1 h"
	v.mend == [{"edit": "set", "step": 6, "key": "then_wait", "value": "1 h"}]
}

test_a_wait_that_may_be_too_short_may_be if {
	some v in found(waited("6-30 h", "20 h", 0.3, 1.5), null)
	v.certainty == "may"
}

test_a_wait_after_a_bake_that_may_be_too_short_may_be if {
	some v in found(null, waited("20-90 min", "1 h", 0.33, 1.5))
	v.certainty == "may"
}

test_a_typical_time_is_said if {
	some v in found(object.union(waited("6 h", "20 h", 0.3, 0.3), {"leaned": ["gloss.polish_after"]}), null)
	v.certainty == "may"
	v.leaned == ["gloss.polish_after"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_exactly_the_time_is_silent if count(found(waited("20 h", "20 h", 1, 1), waited("1 h", "1 h", 1, 1))) == 0

test_a_wait_nobody_wrote_is_silent if {
	count(found(object.union(waited("", "20 h", 0, null), {"open": true}), null)) == 0
}

test_what_was_there_is_silent if count(found(null, null)) == 0
