package guidecoat.mix["hardener-missing_test"]

import data.guidecoat.mix["hardener-missing"] as rule

cup(more) := object.union(
	{
		"id": "5", "step": 5, "name": "two-pack (urethane surfacer)", "two_part": true, "written": "step",
		"step_mix": "1:0:1", "card_mix": "4:1", "hardener_parts": 0, "paste": null,
		"traits": {"class": "surfacer", "hazards": ["isocyanate"]}, "place": {},
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

two_percent := {"lo": 2, "hi": 2, "text": "2 %"}

filler := {"step_mix": "2 %", "card_mix": "2 %", "paste": two_percent, "traits": {"class": "filler", "hazards": []}}

test_a_paste_by_weight_hardens_filler_and_what_peroxide_hardens if {
	found(cup(filler)) == set()
	found(cup(object.union(filler, {"traits": {"class": "surfacer", "hazards": ["peroxide", "styrene"]}}))) == set()
	found(cup(object.union(filler, {"paste": object.union(two_percent, {"hi": null})}))) == set()
}

test_a_paste_by_weight_hardens_nothing_else if {
	some v in found(cup({"step_mix": "2 %", "paste": two_percent}))
	[v.grade, v.certainty] == ["fails", "will"]
	v.message == concat("", [
		`two-pack (urethane surfacer) is two-part, and the mix "2 %" has no hardener in it: `,
		"a share by weight is the paste of a filler or putty; its card gives 4:1",
	])
	v.mend == [{"edit": "set", "step": 5, "key": "mix", "value": "4:1"}]
}

test_filler_with_no_paste_at_all_fails if {
	some v in found(cup(object.union(filler, {"step_mix": "0 %", "paste": {"lo": 0, "hi": 0, "text": "0 %"}})))
	v.grade == "fails"
	endswith(v.message, `the mix "0 %" has no hardener in it; its card gives 2 %`)
}

test_filler_with_perhaps_no_paste_is_another_rules_matter if {
	found(cup(object.union(filler, {"paste": {"lo": 0, "hi": 2, "text": "0 - 2 %"}}))) == set()
}

test_a_mix_nobody_wrote_is_another_rules_matter if count(found(cup({"written": "none"}))) == 0

test_a_one_part_product_is_silent if count(found(cup({"two_part": false}))) == 0
