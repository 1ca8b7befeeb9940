package guidecoat.clock["hold-primer-kept-too-long_test"]

import data.guidecoat.clock["hold-primer-kept-too-long"] as rule

# A time as the top film whose ratio to a most runs from lo to hi.
stood(text, limit, lo, hi) := {
	"sense": "most", "open": false, "source": "limit", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": text, "shown": {"lo": 20, "hi": 20, "unit": "days"}},
	"limit": {"text": limit, "shown": {"lo": 14, "hi": 14, "unit": "days"}},
}

brief := stood("5 days", "14 days", 0.36, 0.36)

exposure(more) := object.union(
	{
		"id": "panel/3-5", "zone": "panel", "from_step": 3, "layer": "3:etch", "name": "etch (one-part acid primer)",
		"traits": {"acid": true}, "ended_by": "strip", "outdoors": false, "humidity": {"text": "80 %"},
		"acid_hold": brief, "acid_damp": null, "place": {},
	},
	more,
)

found(x) := vs if {
	vs := rule.verdict with input as {
		"exposures": [x],
		"limits": {"grace": {"low": 0.9, "high": 1.1}, "damp_acid": {"measure": {"text": "70 %"}}},
	}
}

test_twenty_days_before_it_is_stripped_is_a_risk if {
	some v in found(exposure({"acid_hold": stood("20 days", "14 days", 1.43, 1.43)}))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/3-5"
	v.step == 3
	v.message == "etch (one-part acid primer) stands as the top film for 20 days before it is stripped off; it holds rust back for 14 days at most"
}

test_a_time_that_may_be_too_long_may_be if {
	some v in found(exposure({"acid_hold": stood("10-20 days", "14 days", 0.71, 1.43)}))
	v.certainty == "may"
}

test_outdoors_at_all_is_a_risk if {
	some v in found(exposure({"outdoors": true}))
	v.grade == "risk"
	v.certainty == "will"
	contains(v.message, "outdoors")
}

test_outdoors_for_sure_is_told_before_perhaps_too_long if {
	some v in found(exposure({"outdoors": true, "acid_hold": stood("10-20 days", "14 days", 0.71, 1.43)}))
	v.certainty == "will"
	contains(v.message, "outdoors")
}

test_two_days_in_damp_air_is_a_risk if {
	some v in found(exposure({"acid_damp": stood("2 days", "24 h", 2, 2)}))
	v.grade == "risk"
	v.certainty == "will"
	v.message == "etch (one-part acid primer) stands in air of 80 % humidity for 2 days before it is stripped off; over 70 % it holds rust back for 24 h at most"
}

test_a_day_in_damp_air_is_silent if count(found(exposure({"acid_damp": stood("24 h", "24 h", 1, 1)}))) == 0

test_exactly_fourteen_days_is_silent if {
	count(found(exposure({"acid_hold": stood("14 days", "14 days", 1, 1)}))) == 0
}

test_too_long_in_every_way_is_told_once if {
	count(found(exposure({
		"acid_hold": stood("20 days", "14 days", 1.43, 1.43),
		"acid_damp": stood("20 days", "24 h", 20, 20),
		"outdoors": true,
	}))) == 1
}

test_acid_primer_that_is_coated_over_is_the_window_rules_matter if {
	count(found(exposure({"ended_by": "film", "outdoors": true}))) == 0
}

test_acid_primer_that_a_sheet_ends_with_is_another_rules_matter if {
	count(found(exposure({"ended_by": "end", "outdoors": true}))) == 0
}

test_any_other_primer_is_silent if count(found(exposure({"traits": {"acid": false}, "outdoors": true}))) == 0

test_a_time_nobody_wrote_is_silent if {
	count(found(exposure({"acid_hold": object.union(stood("", "14 days", 0, null), {"open": true})}))) == 0
}

test_what_may_be_too_long_is_a_risk_that_may_be if {
	{[v.grade, v.certainty] | some v in found(exposure({"acid_hold": stood("10 days - 20 days", "14 days", 0.7, 1.4)}))} == {["risk", "may"]}
}
