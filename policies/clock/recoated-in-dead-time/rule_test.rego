package guidecoat.clock["recoated-in-dead-time_test"]

import data.guidecoat.clock["recoated-in-dead-time"] as rule

# A gap of lo to hi hours against one end of a dead time from 4 to 48 h.
gap(lo, hi, end, sense) := {
	"sense": sense, "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo / end, "hi": over(hi, end)},
	"measured": {"text": "so many h", "shown": {"lo": lo, "hi": hi, "unit": "h"}},
	"limit": {"lo": end * 60, "hi": end * 60, "text": sprintf("%d h", [end]), "shown": {"lo": end, "hi": end, "unit": "h"}},
}

over(hi, end) := hi / end if hi != null

over(hi, _) := null if hi == null

contact(lo, hi, more) := {
	"id": "panel/6:red", "zone": "panel", "step": 6, "upper": "6:red", "lower": "4:red",
	"upper_name": "red (single-stage enamel)", "lower_name": "red (single-stage enamel)",
	"gap_applies": true, "gap": {"text": "so many h"}, "recoat_most": {"limit": {"hi": 240, "text": "4 h"}},
	"dead_start": object.union(gap(lo, hi, 4, "least"), more), "dead_end": object.union(gap(lo, hi, 48, "most"), more), "place": {},
}

judged(c) := vs if {
	vs := rule.verdict with input as {
		"contacts": [c],
		"layers_by_id": {"4:red": {"steps": [4]}},
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

found(lo, hi) := judged(contact(lo, hi, {}))

test_in_the_middle_of_it_fails if {
	some v in found(20, 20)
	v.grade == "fails"
	v.certainty == "will"
	v.on == "panel/6:red"
	v.message == "red (single-stage enamel) goes on red (single-stage enamel) after so many h; from 4 h to 48 h it lifts if it is recoated"
	v.measured == {"lo": 20, "hi": 20, "unit": "h"}
	v.limit == {"lo": 4, "hi": 48, "unit": "h"}
}

test_it_offers_the_end_of_the_window_and_of_the_dead_time if {
	some v in found(20, 20)
	[e.value | some e in v.mend] == ["4 h", "48 h"]
}

test_without_a_window_it_offers_the_end_of_the_dead_time if {
	some v in judged(object.union(contact(20, 20, {}), {"recoat_most": null}))
	[e.value | some e in v.mend] == ["48 h"]
}

test_a_window_that_ends_after_the_dead_time_begins_is_no_way_out if {
	some v in judged(object.union(contact(20, 20, {}), {"recoat_most": {"limit": {"hi": 4320, "text": "72 h"}}}))
	[e.value | some e in v.mend] == ["48 h"]
}

test_a_gap_that_begins_before_it_may_be_in_it if {
	some v in found(2, 20)
	v.grade == "risk"
	v.certainty == "may"
}

test_a_gap_that_ends_after_it_may_be_in_it if {
	some v in found(20, 60)
	v.certainty == "may"
}

test_a_gap_that_spans_it_may_be_in_it if {
	some v in found(2, 60)
	v.certainty == "may"
}

test_at_least_so_long_may_be_in_it if {
	some v in found(20, null)
	v.certainty == "may"
}

test_at_least_so_little_says_nothing if count(found(2, null)) == 0

test_a_typical_dead_time_makes_it_a_risk_and_says_so if {
	some v in judged(contact(20, 20, {"source": "typical", "leaned": ["red.no_recoat"]}))
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["red.no_recoat"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

# 44 h is 0.917 of 48; 43 h is 0.896.
test_near_its_end_is_graced if {
	some v in found(44, 44)
	v.grade == "risk"
	v.certainty == "will"
}

test_further_from_its_end_fails if {
	some v in found(43, 43)
	v.grade == "fails"
}

# 4.4 h is 1.1 of 4; 5 h is 1.25.
test_just_begun_is_graced if {
	some v in found(4.4, 4.4)
	v.grade == "risk"
	v.certainty == "will"
}

test_well_begun_fails if {
	some v in found(5, 5)
	v.grade == "fails"
}

test_exactly_when_it_begins_is_silent if count(found(4, 4)) == 0

test_exactly_when_it_ends_is_silent if count(found(48, 48)) == 0

test_before_it_is_silent if count(found(1, 3)) == 0

test_after_it_is_silent if count(found(50, 60)) == 0

test_a_gap_nobody_wrote_is_silent if count(judged(contact(0, null, {"open": true}))) == 0

test_a_film_without_a_dead_time_is_silent if {
	count(judged(object.union(contact(20, 20, {}), {"dead_start": null, "dead_end": null}))) == 0
}

test_what_was_there_has_no_gap if count(judged(object.union(contact(20, 20, {}), {"gap_applies": false}))) == 0

verdicts(c) := {[v.grade, v.certainty] | some v in judged(c)}

test_a_gap_just_over_its_beginning_at_either_end_may_be_in_it if {
	verdicts(contact(6, null, {})) == {["risk", "may"]}
	verdicts(contact(3, 6, {})) == {["risk", "may"]}
}

# Working: a tenth under 48 h is 43.2 h, a tenth over 4 h is 4.4 h.
test_the_grace_goes_by_the_worse_end_of_the_gap if {
	verdicts(contact(40.8, 45.6, {})) == {["fails", "will"]}
	verdicts(contact(4.2, 4.8, {})) == {["fails", "will"]}
	verdicts(contact(4.2, 4.3, {})) == {["risk", "will"]}
}

test_exactly_a_tenth_before_its_end_is_graced if {
	c := contact(43, 43, {})
	verdicts(object.union(c, {"dead_end": {"over": {"lo": 0.9, "hi": 0.9}}})) == {["risk", "will"]}
	verdicts(object.union(c, {"dead_end": {"over": {"lo": 0.89, "hi": 0.89}}})) == {["fails", "will"]}
}

test_its_outermost_ends_are_shown if {
	some v in judged(object.union(contact(20, 20, {}), {
		"dead_start": {"limit": {"shown": {"lo": 4, "hi": 5, "unit": "h"}}},
		"dead_end": {"limit": {"shown": {"lo": 40, "hi": 48, "unit": "h"}}},
	}))
	v.limit == {"lo": 4, "hi": 48, "unit": "h"}
}

test_a_window_that_ends_while_it_may_have_begun_is_no_way_out if {
	some v in judged(object.union(contact(20, 20, {}), {
		"recoat_most": {"limit": {"hi": 270, "text": "4.5 h"}}, "dead_start": {"limit": {"lo": 240, "hi": 300}},
	}))
	count(v.mend) == 1
}

test_only_a_cards_own_number_has_grace if {
	every more in [{"graced": false}, {"source": "house"}] {
		verdicts(contact(46, 46, more)) == {["fails", "will"]}
		verdicts(contact(4.2, 4.2, more)) == {["fails", "will"]}
	}
}

test_an_open_end_of_either_side_says_nothing if {
	every end in ["dead_start", "dead_end"] {
		verdicts(object.union(contact(20, 20, {}), {end: {"open": true}})) == set()
		verdicts(object.union(contact(3, 20, {}), {end: {"open": true}})) == set()
	}
}
