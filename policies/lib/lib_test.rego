package guidecoat.lib_test

import data.guidecoat.lib

# A comparison whose ratio measured ÷ limit runs from lo to hi.
least(lo, hi) := {"sense": "least", "open": false, "over": {"lo": lo, "hi": hi}, "leaned": [], "graced": false, "source": "card"}

most(lo, hi) := object.union(least(lo, hi), {"sense": "most"})

span(lo, hi) := {"lo": lo, "hi": hi, "open": false, "shown": {"lo": lo, "hi": hi, "unit": "h"}}

numbered(c) := object.union(c, {"measured": span(1, 1), "limit": span(2, 2)})

ten_percent := {"grace": {"low": 0.9, "high": 1.1}}

# broken: sense least

test_under_a_least_at_every_pairing_will_break if lib.broken(least(0.5, 0.99)) == "will"

test_under_a_least_at_one_pairing_may_break if lib.broken(least(0.5, 1.5)) == "may"

test_exactly_a_least_breaks_nothing if not lib.broken(least(1, 1))

test_up_to_exactly_a_least_may_break if lib.broken(least(0.5, 1)) == "may"

test_a_hair_under_a_least_will_break if lib.broken(least(0.999999999, 0.999999999)) == "will"

test_at_least_something_short_of_a_least_may_break if lib.broken(least(0.5, null)) == "may"

test_at_least_a_least_breaks_nothing if not lib.broken(least(1, null))

test_an_open_measure_breaks_no_least if not lib.broken(object.union(least(0, null), {"open": true}))

# broken: sense most

test_over_a_most_at_every_pairing_will_break if lib.broken(most(1.01, 2)) == "will"

test_over_a_most_at_one_pairing_may_break if lib.broken(most(0.5, 1.5)) == "may"

test_exactly_a_most_breaks_nothing if not lib.broken(most(1, 1))

test_from_exactly_a_most_upward_may_break if lib.broken(most(1, 1.5)) == "may"

test_a_hair_over_a_most_will_break if lib.broken(most(1.00000001, 1.00000001)) == "will"

test_at_least_more_than_a_most_may_break if lib.broken(most(1.5, null)) == "may"

test_at_least_less_than_a_most_breaks_nothing if not lib.broken(most(0.5, null))

test_at_least_exactly_a_most_breaks_nothing if not lib.broken(most(1, null))

test_an_open_measure_breaks_no_most if not lib.broken(object.union(most(0, null), {"open": true}))

test_no_comparison_breaks_nothing if not lib.broken(null)

# below and above

test_below_at_every_pairing_will if lib.below(span(1, 3), span(4, 5)) == "will"

test_below_at_one_pairing_may if lib.below(span(1, 8), span(4, 4)) == "may"

test_between_the_ends_of_a_limit_may_be_below_it if lib.below(span(5, 5), span(4, 6)) == "may"

test_exactly_a_limit_is_not_below_it if not lib.below(span(4, 4), span(4, 4))

test_at_least_less_than_a_limit_may_be_below_it if lib.below(span(1, null), span(4, 4)) == "may"

test_at_least_a_limit_is_not_below_it if not lib.below(span(4, null), span(4, 4))

test_an_open_measure_is_below_nothing if not lib.below(object.union(span(0, null), {"open": true}), span(4, 4))

test_nothing_is_below_an_open_limit if not lib.below(span(1, 1), object.union(span(9, null), {"open": true}))

test_the_open_end_of_a_limit_is_no_limit if {
	not lib.below(span(5, 5), span(4, null))
	lib.below(span(3, 3), span(4, null)) == "will"
	lib.above(span(5, 5), span(4, null)) == "will"
}

test_above_at_every_pairing_will if lib.above(span(7, 9), span(4, 6)) == "will"

test_above_at_one_pairing_may if lib.above(span(1, 8), span(4, 4)) == "may"

test_between_the_ends_of_a_limit_may_be_above_it if lib.above(span(5, 5), span(4, 6)) == "may"

test_exactly_a_limit_is_not_above_it if not lib.above(span(4, 4), span(4, 4))

test_at_least_more_than_a_limit_may_be_above_it if lib.above(span(5, null), span(4, 4)) == "may"

test_at_least_less_than_a_limit_is_not_above_it if not lib.above(span(1, null), span(4, 4))

test_an_open_measure_is_above_nothing if not lib.above(object.union(span(0, null), {"open": true}), span(4, 4))

test_nothing_is_above_an_open_limit if not lib.above(span(9, 9), object.union(span(0, null), {"open": true}))

# capped: a possible breach is a risk at most, and no cap raises a grade

test_what_will_happen_keeps_its_grade if {
	every g in ["fails", "risk", "advice"] { lib.capped(g, "will") == g }
}

test_what_may_happen_is_a_risk_at_most if {
	lib.capped("fails", "may") == "risk"
	lib.capped("risk", "may") == "risk"
	lib.capped("advice", "may") == "advice"
}

# grace

graced(c) := object.union(c, {"graced": true})

test_a_least_missed_by_exactly_the_grace_is_graced if {
	lib.graced(graced(least(0.9, 0.95))) with input.limits as ten_percent
}

test_a_least_missed_by_more_at_its_worse_end_is_not if {
	not lib.graced(graced(least(0.899999999, 0.95))) with input.limits as ten_percent
}

test_a_most_passed_by_exactly_the_grace_is_graced if {
	lib.graced(graced(most(1.05, 1.1))) with input.limits as ten_percent
}

test_a_most_passed_by_more_at_its_worse_end_is_not if {
	not lib.graced(graced(most(1.05, 1.10000001))) with input.limits as ten_percent
}

test_a_most_passed_by_an_open_end_is_not_graced if {
	not lib.graced(graced(most(1.05, null))) with input.limits as ten_percent
}

test_only_a_card_number_has_grace if {
	every source in ["typical", "limit", "house", "sheet"] {
		c := object.union(graced(least(0.95, 0.95)), {"source": source})
		not lib.graced(c) with input.limits as ten_percent
	}
}

test_a_number_that_has_no_grace_gets_none if {
	not lib.graced(least(0.95, 0.95)) with input.limits as ten_percent
}

test_grace_eases_fails_alone if {
	lib.eased("fails", graced(least(0.95, 0.95))) == "risk" with input.limits as ten_percent
	lib.eased("risk", graced(least(0.95, 0.95))) == "risk" with input.limits as ten_percent
	lib.eased("advice", graced(least(0.95, 0.95))) == "advice" with input.limits as ten_percent
	lib.eased("fails", graced(least(0.5, 0.5))) == "fails" with input.limits as ten_percent
}

# certainty

test_a_typical_number_makes_it_possible_only if {
	lib.certainty(object.union(least(0.5, 0.5), {"leaned": ["grey.recoat"]})) == "may"
}

test_a_written_number_leaves_the_certainty if {
	lib.certainty(least(0.5, 0.5)) == "will"
	lib.certainty(least(0.5, 2)) == "may"
}

# judged: certainty, the table, the cap of a possible breach, the cap of a typical number, grace

grade(table, c) := v.grade if {
	v := lib.judged(table, numbered(c)) with input.limits as ten_percent
}

test_a_sure_breach_of_a_card_has_the_grade_of_the_table if grade("fails", least(0.5, 0.5)) == "fails"

test_a_possible_breach_is_a_risk if grade("fails", least(0.5, 1.5)) == "risk"

test_a_breach_of_a_typical_number_is_a_risk if {
	grade("fails", object.union(least(0.5, 0.5), {"leaned": ["grey.recoat"], "source": "typical"})) == "risk"
}

test_a_breach_within_the_grace_is_a_risk if grade("fails", graced(least(0.95, 0.95))) == "risk"

test_no_step_raises_a_grade if {
	grade("advice", graced(least(0.95, 1.5))) == "advice"
	grade("risk", least(0.5, 0.5)) == "risk"
}

test_what_is_not_broken_is_not_judged if {
	not lib.judged("fails", numbered(least(1, 1)))
	not lib.judged("fails", numbered(object.union(least(1, 1), {"leaned": ["grey.recoat"]})))
}

test_a_judgement_carries_its_numbers if {
	v := lib.judged("fails", numbered(object.union(least(0.5, 0.5), {"leaned": ["grey.recoat"]})))
	v.certainty == "may"
	v.leaned == ["grey.recoat"]
	v.measured == {"lo": 1, "hi": 1, "unit": "h"}
	v.limit == {"lo": 2, "hi": 2, "unit": "h"}
}

# judgements without a comparison

test_plain_is_sure_and_has_no_numbers if {
	lib.plain("fails") == {"grade": "fails", "certainty": "will", "leaned": [], "measured": null, "limit": null}
}

test_possible_is_a_risk_at_most if {
	lib.possible("fails") == {"grade": "risk", "certainty": "may", "leaned": [], "measured": null, "limit": null}
	lib.possible("advice").grade == "advice"
}

test_measured_against_caps_what_may_be if {
	lib.measured_against("fails", "may", span(1, 8), span(4, 4)) == {
		"grade": "risk", "certainty": "may", "leaned": [],
		"measured": {"lo": 1, "hi": 8, "unit": "h"},
		"limit": {"lo": 4, "hi": 4, "unit": "h"},
	}
	lib.measured_against("fails", "will", span(1, 2), span(4, 4)).grade == "fails"
}

test_a_typical_limit_is_said if {
	lib.typical(least(0.5, 0.5)) == ""
	lib.typical(object.union(least(0.5, 0.5), {"leaned": ["grey.recoat"]})) == " (typical; copy the data sheet's)"
}

# where a verdict stands

test_a_contact_rests_on_two_films if {
	lib.at_contact({"id": "panel/3:grey", "zone": "panel", "step": 3, "upper": "3:grey", "lower": "0:mild-steel", "place": {"line": 7}}) == {
		"on": "panel/3:grey", "zone": "panel", "step": 3,
		"rests": {"upper": "3:grey", "lower": "0:mild-steel"},
		"place": {"line": 7},
	}
}

test_a_cup_stands_at_its_step if {
	lib.at_step({"id": "3", "step": 3, "place": {}}) == {"on": "3", "zone": null, "step": 3, "rests": {"step": "3"}, "place": {}}
}

test_a_step_counts_itself if lib.at_step({"id": "3", "n": 3, "place": {}}).step == 3

test_a_touch_stands_at_its_surface if {
	lib.at_surface({"id": "panel/3", "zone": "panel", "step": 3, "layer": "2:grey", "place": {}}) == {
		"on": "panel/3", "zone": "panel", "step": 3, "rests": {"lower": "2:grey"}, "place": {},
	}
}

test_an_exposure_stands_at_the_step_that_bared_it if {
	lib.at_surface({"id": "panel/3-0", "zone": "panel", "from_step": 3, "layer": "2:grey", "place": {}}).step == 3
}

test_a_total_stands_at_its_top_step_and_rests_on_no_one_film if {
	at := lib.at_surface({"id": "panel/3-0", "zone": "panel", "top_step": 5, "place": {}})
	at.step == 5
	at.rests == {}
}

# edits and the whole verdict

test_edits_say_what_to_do if {
	lib.insert_before(3, {"do": "tack"}) == {"edit": "insert", "where": "before", "step": 3, "set": {"do": "tack"}}
	lib.insert_after(3, {"do": "tack"}) == {"edit": "insert", "where": "after", "step": 3, "set": {"do": "tack"}}
	lib.drop(3) == {"edit": "drop", "step": 3}
	lib.unset_key(3, "hardener") == {"edit": "unset", "step": 3, "key": "hardener"}
	lib.set_key(3, "grit", "P80") == {"edit": "set", "step": 3, "key": "grit", "value": "P80"}
}

test_a_verdict_joins_place_judgement_words_and_edits if {
	v := lib.verdict(lib.at_step({"id": "3", "step": 3, "place": {}}), lib.plain("risk"), "too soon", [lib.drop(3)])
	v.on == "3"
	v.grade == "risk"
	v.message == "too soon"
	v.mend == [{"edit": "drop", "step": 3}]
}

test_an_open_measure_breaks_nothing_whatever_its_numbers if {
	every c in [least(0.4, 0.5), least(0.5, 1.5), most(2, 3), most(0.5, 1.5)] {
		not lib.broken(object.union(c, {"open": true}))
	}
	not lib.above(object.union(span(9, 12), {"open": true}), span(5, 5))
	not lib.below(object.union(span(1, 2), {"open": true}), span(5, 5))
}

test_from_exactly_a_limit_upward_may_be_above if lib.above(span(5, 8), span(5, 5)) == "may"

test_up_to_exactly_a_limit_may_be_below if lib.below(span(2, 5), span(5, 5)) == "may"

test_a_limit_that_is_no_cards_has_no_grace if {
	every c in [least(0.95, 0.95), most(1.05, 1.05)] {
		judged := lib.judged("fails", object.union(numbered(c), {"graced": true, "source": "limit"})) with input.limits as ten_percent
		judged.grade == "fails"
	}
}
