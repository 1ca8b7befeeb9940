package guidecoat.mix["tip-off-card_test"]

import data.guidecoat.mix["tip-off-card"] as rule

# A tip held to an end of the card's range, 1.6 to 1.8 mm; its ratio to that end runs from lo to hi.
tip(sense, text, limit, lo, hi) := {
	"sense": sense, "open": false, "source": "card", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": text, "shown": {"lo": 1.3, "hi": 1.3, "unit": "mm"}},
	"limit": {"text": limit, "shown": {"lo": 1.6, "hi": 1.6, "unit": "mm"}},
}

found(low, high) := vs if {
	vs := rule.verdict with input as {
		"lays": [{"id": "5", "step": 5, "name": "build (urethane surfacer)", "tip_low": low, "tip_high": high, "place": {}}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_a_tip_too_small_is_a_risk if {
	some v in found(tip("least", "1.3 mm", "1.6 mm", 0.81, 0.81), tip("most", "1.3 mm", "1.8 mm", 0.72, 0.72))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "5"
	v.message == "build (urethane surfacer) is sprayed through a tip of 1.3 mm; its card wants 1.6 mm at least"
	v.mend == [{"edit": "set", "step": 5, "key": "tip", "value": "1.6 mm"}]
}

test_a_tip_too_large_is_a_risk if {
	some v in found(tip("least", "2.2 mm", "1.6 mm", 1.38, 1.38), tip("most", "2.2 mm", "1.8 mm", 1.22, 1.22))
	v.grade == "risk"
	contains(v.message, "its card wants 1.8 mm at most")
	v.mend == [{"edit": "set", "step": 5, "key": "tip", "value": "1.8 mm"}]
}

test_a_range_of_tips_that_reaches_out_of_it_may_be if {
	some v in found(tip("least", "1.4-1.8 mm", "1.6 mm", 0.88, 1.13), tip("most", "1.4-1.8 mm", "1.8 mm", 0.78, 1))
	v.certainty == "may"
}

test_the_ends_of_the_range_are_silent if {
	count(found(tip("least", "1.6 mm", "1.6 mm", 1, 1), tip("most", "1.6 mm", "1.8 mm", 0.89, 0.89))) == 0
	count(found(tip("least", "1.8 mm", "1.6 mm", 1.13, 1.13), tip("most", "1.8 mm", "1.8 mm", 1, 1))) == 0
}

test_a_card_or_step_that_names_no_tip_is_silent if count(found(null, null)) == 0
