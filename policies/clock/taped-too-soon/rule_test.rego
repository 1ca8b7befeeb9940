package guidecoat.clock["taped-too-soon_test"]

import data.guidecoat.clock["taped-too-soon"] as rule

# An age whose ratio to tape_after, 45 min, runs from lo to hi.
aged(lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "20 min", "shown": {"lo": 20, "hi": 20, "unit": "min"}},
	"limit": {"text": "45 min", "shown": {"lo": 45, "hi": 45, "unit": "min"}},
}

found(t) := vs if {
	vs := rule.verdict with input as {
		"masks": [{
			"id": "panel/6", "zone": "panel", "step": 6, "layer": "5:blue",
			"name": "blue (solvent basecoat)", "tape_after": t, "place": {},
		}],
		"layers_by_id": {"5:blue": {"steps": [5]}},
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_tape_on_a_young_film_is_a_risk if {
	some v in found(aged(0.44, 0.44))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/6"
	v.message == "tape goes on blue (solvent basecoat) 20 min after it was laid; it wants 45 min first"
	v.mend == [{"edit": "set", "step": 5, "key": "then_wait", "value": "45 min"}]
}

test_an_age_that_may_be_too_young_may_be if {
	some v in found(aged(0.44, 1.5))
	v.certainty == "may"
}

test_a_typical_time_is_said if {
	some v in found(object.union(aged(0.44, 0.44), {"leaned": ["blue.tape_after"]}))
	v.certainty == "may"
	v.leaned == ["blue.tape_after"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_exactly_the_time_is_silent if count(found(aged(1, 1))) == 0

test_an_age_nobody_wrote_is_silent if count(found(object.union(aged(0, null), {"open": true}))) == 0

test_a_film_that_may_be_taped_at_once_is_silent if count(found(null)) == 0
