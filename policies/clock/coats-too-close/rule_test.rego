package guidecoat.clock["coats-too-close_test"]

import data.guidecoat.clock["coats-too-close"] as rule

# A wait whose ratio to the flash, 10 min, runs from lo to hi.
wait(lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "4 min", "shown": {"lo": 4, "hi": 4, "unit": "min"}},
	"limit": {"text": "10 min", "shown": {"lo": 10, "hi": 10, "unit": "min"}},
}

lay(more) := object.union(
	{
		"id": "5", "step": 5, "name": "gloss (urethane clear)", "card": "gloss", "coats": 2,
		"between": null, "between_written": true, "joins": null, "joins_step": 0, "joins_written": true, "place": {},
	},
	more,
)

judged(l, card) := vs if {
	vs := rule.verdict with input as {
		"lays": [l],
		"cards": {"gloss": card},
		"limits": {"grace": {"low": 0.9, "high": 1.1}, "flash_half": {"measure": {"lo": 0.5}}},
	}
}

found(l) := judged(l, {"card": {}, "typical": {"flash": "10 min"}})

test_under_half_the_flash_fails if {
	some v in found(lay({"between": wait(0.4, 0.4)}))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "5"
	v.message == "coats of gloss (urethane clear) follow each other after 4 min; they want 10 min to flash"
	v.mend == [{"edit": "set", "step": 5, "key": "between", "value": "10 min"}]
}

test_exactly_half_the_flash_is_a_risk if {
	some v in found(lay({"between": wait(0.5, 0.5)}))
	v.grade == "risk"
	v.certainty == "will"
}

test_a_hair_under_half_has_no_grace if {
	some v in found(lay({"between": wait(0.49, 0.49)}))
	v.grade == "fails"
}

test_under_the_flash_is_a_risk if {
	some v in found(lay({"between": wait(0.8, 0.8)}))
	v.grade == "risk"
	v.certainty == "will"
}

test_a_wait_that_may_be_under_half_and_is_under_the_flash_is_a_risk if {
	some v in found(lay({"between": wait(0.4, 0.8)}))
	v.grade == "risk"
	v.certainty == "will"
}

test_a_wait_that_may_be_under_the_flash_may_be if {
	some v in found(lay({"between": wait(0.4, 1.5)}))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_typical_flash_makes_it_a_risk_and_says_so if {
	some v in found(lay({"between": object.union(wait(0.4, 0.4), {"source": "typical", "leaned": ["gloss.flash"]})}))
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["gloss.flash"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_exactly_the_flash_is_silent if count(found(lay({"between": wait(1, 1)}))) == 0

test_until_matte_satisfies_any_flash if {
	count(found(lay({"between": object.union(wait(0, null), {"open": true})}))) == 0
}

test_a_product_without_a_flash_is_silent if count(found(lay({"between": null}))) == 0

test_one_coat_has_nothing_between if count(found(lay({"coats": 1, "between": wait(0.4, 0.4)}))) == 0

test_two_coats_with_nothing_written_between_are_a_risk if {
	some v in found(lay({"between_written": false}))
	v.grade == "risk"
	v.certainty == "will"
	v.message == "2 coats of gloss (urethane clear) are laid, and no step says how long to wait between them; the flash is 10 min"
	v.mend == [{"edit": "set", "step": 5, "key": "between", "value": "10 min"}]
}

test_the_cards_flash_is_offered_before_the_kinds if {
	some v in judged(lay({"between_written": false}), {"card": {"flash": "15 min"}, "typical": {"flash": "10 min"}})
	v.mend == [{"edit": "set", "step": 5, "key": "between", "value": "15 min"}]
}

test_nothing_is_offered_where_no_flash_is_known if {
	some v in judged(lay({"between_written": false}), {"card": {}, "typical": {}})
	v.mend == []
	endswith(v.message, "no step says how long to wait between them")
}

test_one_coat_needs_nothing_written if count(found(lay({"between_written": false, "coats": 1}))) == 0

joined(more) := lay(object.union({"coats": 1, "between_written": false, "joins_step": 4}, more))

test_a_later_step_of_the_same_layer_under_half_the_flash_fails if {
	some v in found(joined({"joins": wait(0.4, 0.4)}))
	v.grade == "fails"
	v.message == "gloss (urethane clear) goes on 4 min after its coat of step 4; it wants 10 min to flash"
	v.mend == [{"edit": "set", "step": 4, "key": "then_wait", "value": "10 min"}]
}

test_a_later_step_under_the_flash_is_a_risk if {
	some v in found(joined({"joins": wait(0.8, 0.8)}))
	v.grade == "risk"
}

test_a_later_step_after_the_flash_is_silent if count(found(joined({"joins": wait(1.5, 1.5)}))) == 0

open := object.union(wait(0, null), {"open": true})

test_a_later_step_with_nothing_written_between_is_a_risk if {
	some v in found(joined({"joins": open, "joins_written": false}))
	v.grade == "risk"
	v.certainty == "will"
	v.message == "gloss (urethane clear) goes on over its coat of step 4, and no step says how long to wait between them; the flash is 10 min"
	v.mend == [{"edit": "set", "step": 4, "key": "then_wait", "value": "10 min"}]
}

test_a_later_step_once_the_first_is_matte_is_silent if count(found(joined({"joins": open}))) == 0

test_what_is_not_written_is_told_as_that_and_once if {
	vs := found(lay({"between_written": false, "between": wait(0.4, 0.4)}))
	count(vs) == 1
	some v in vs
	contains(v.message, "no step says")
}

test_a_gap_that_is_known_needs_no_other_wait_written if {
	count(found(joined({"joins": wait(1.5, 1.5), "joins_written": false}))) == 0
}
