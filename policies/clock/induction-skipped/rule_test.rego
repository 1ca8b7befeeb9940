package guidecoat.clock["induction-skipped_test"]

import data.guidecoat.clock["induction-skipped"] as rule

due := {"text": "30 min", "shown": {"lo": 30, "hi": 30, "unit": "min"}}

# A stand in the cup whose ratio to the induction, 30 min, runs from lo to hi.
stood(lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "10 min", "shown": {"lo": 10, "hi": 10, "unit": "min"}},
	"limit": due,
}

found(due, written, s) := vs if {
	vs := rule.verdict with input as {
		"mixes": [{
			"id": "5", "step": 5, "name": "grey (epoxy primer)",
			"induction_due": due, "stood_written": written, "induction": s, "place": {},
		}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_no_stand_written_is_a_risk if {
	some v in found(due, false, null)
	v.grade == "risk"
	v.certainty == "will"
	v.on == "5"
	v.message == "grey (epoxy primer) is to stand 30 min in the cup after mixing, and the step writes no such wait"
	v.measured == null
	v.limit == {"lo": 30, "hi": 30, "unit": "min"}
	v.mend == [{"edit": "set", "step": 5, "key": "stood", "value": "30 min"}]
}

test_a_stand_too_short_is_a_risk if {
	some v in found(due, true, stood(0.33, 0.33))
	v.grade == "risk"
	v.certainty == "will"
	v.message == "grey (epoxy primer) stands 10 min in the cup before it is sprayed; it wants 30 min"
	v.mend == [{"edit": "set", "step": 5, "key": "stood", "value": "30 min"}]
}

test_a_stand_that_may_be_too_short_may_be if {
	some v in found(due, true, stood(0.33, 1.5))
	v.certainty == "may"
}

test_exactly_the_induction_is_silent if count(found(due, true, stood(1, 1))) == 0

test_a_card_without_induction_is_silent if count(found(null, false, null)) == 0

test_a_stand_that_is_not_written_is_told_once if count(found(due, false, stood(0.3, 0.3))) == 1
