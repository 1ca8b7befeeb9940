package guidecoat.mix["ratio-not-written_test"]

import data.guidecoat.mix["ratio-not-written"] as rule

found(two_part, written) := vs if {
	vs := rule.verdict with input as {"mixes": [{
		"id": "5", "step": 5, "name": "two-pack (urethane surfacer)",
		"two_part": two_part, "written": written, "place": {},
	}]}
}

test_a_two_part_product_without_a_mix_is_advice if {
	some v in found(true, "none")
	v.grade == "advice"
	v.certainty == "will"
	v.on == "5"
	v.message == "two-pack (urethane surfacer) is two-part, and neither the step nor its card says how it is mixed"
}

test_a_mix_in_the_step_is_enough if count(found(true, "step")) == 0

test_a_mix_on_the_card_is_enough if count(found(true, "card")) == 0

test_a_one_part_product_needs_none if count(found(false, "none")) == 0
