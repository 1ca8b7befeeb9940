package guidecoat.mix["hardener-missing_test"]

import data.guidecoat.mix["hardener-missing"] as rule

cup(more) := object.union(
	{
		"id": "5", "step": 5, "name": "two-pack (urethane surfacer)", "two_part": true, "written": "step",
		"step_mix": "1:0:1", "card_mix": "4:1", "hardener_parts": 0, "paste": null, "place": {},
	},
	more,
)

found(m) := vs if {
	vs := rule.verdict with input as {"mixes": [m]}
}

test_a_two_part_product_without_hardener_fails if {
	some v in found(cup({}))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "5"
	v.message == `two-pack (urethane surfacer) is two-part, and the mix "1:0:1" has no hardener in it; its card gives 4:1`
	v.mend == [{"edit": "set", "step": 5, "key": "mix", "value": "4:1"}]
}

test_a_cards_own_mix_without_hardener_fails_and_offers_nothing if {
	some v in found(cup({"written": "card", "step_mix": "", "card_mix": "1"}))
	v.grade == "fails"
	contains(v.message, `its card's mix "1" has no hardener in it`)
	v.mend == []
}

test_a_step_that_repeats_its_cards_fault_is_offered_nothing if {
	some v in found(cup({"step_mix": "1", "card_mix": "1"}))
	v.mend == []
}

test_a_card_without_a_mix_offers_nothing if {
	some v in found(cup({"card_mix": ""}))
	v.mend == []
}

test_a_mix_with_hardener_is_silent if count(found(cup({"step_mix": "4:1", "hardener_parts": 1}))) == 0

test_a_paste_by_weight_is_a_hardener if count(found(cup({"step_mix": "2 %", "paste": {"text": "2 %"}}))) == 0

test_a_mix_nobody_wrote_is_another_rules_matter if count(found(cup({"written": "none"}))) == 0

test_a_one_part_product_is_silent if count(found(cup({"two_part": false}))) == 0
