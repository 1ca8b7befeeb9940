package guidecoat.mix["ratio-off-card_test"]

import data.guidecoat.mix["ratio-off-card"] as rule

compared(sense, source, text, limit, lo, hi) := {
	"sense": sense, "open": false, "source": source, "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": text, "shown": {"lo": 1, "hi": 1, "unit": "%"}},
	"limit": {"text": limit, "shown": {"lo": 1, "hi": 1, "unit": "%"}},
}

cup(more) := object.union(
	{
		"id": "5", "step": 5, "name": "two-pack (urethane surfacer)", "written": "step",
		"step_mix": "3:1", "card_mix": "4:1", "ratio_off": null, "paste_low": null, "paste_high": null, "place": {},
	},
	more,
)

found(m) := vs if {
	vs := rule.verdict with input as {"mixes": [m], "limits": {"grace": {"low": 0.9, "high": 1.1}}}
}

# 1/3 hardener to base where 1/4 is asked: a third too much, against 5 %.
test_three_to_one_for_four_to_one_fails if {
	some v in found(cup({"ratio_off": compared("most", "limit", "33.33 %", "5 %", 6.67, 6.67)}))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "5"
	v.message == "two-pack (urethane surfacer) is mixed 3:1 where its card gives 4:1: the hardener is 33.33 % off, and 5 % is let pass"
	v.mend == [{"edit": "set", "step": 5, "key": "mix", "value": "4:1"}]
}

test_a_hair_over_the_tolerance_has_no_grace if {
	some v in found(cup({"ratio_off": compared("most", "limit", "5.1 %", "5 %", 1.02, 1.02)}))
	v.grade == "fails"
}

test_exactly_the_tolerance_is_silent if {
	count(found(cup({"ratio_off": compared("most", "limit", "5 %", "5 %", 1, 1)}))) == 0
}

test_a_mix_that_is_the_cards_is_silent if count(found(cup({}))) == 0

paste(text, low, high) := cup({
	"name": "lite (body filler)", "step_mix": text, "card_mix": "",
	"paste_low": compared("least", "limit", text, "1 %", low, low),
	"paste_high": compared("most", "limit", text, "3 %", high, high),
})

test_a_fat_dose_of_paste_is_a_risk if {
	some v in found(paste("5 %", 5, 1.67))
	v.grade == "risk"
	v.certainty == "will"
	v.message == "lite (body filler) gets 5 % of paste hardener by weight; it wants 1 % to 3 %"
	v.mend == [{"edit": "set", "step": 5, "key": "mix", "value": "2 %"}]
}

test_a_lean_dose_of_paste_is_a_risk if {
	some v in found(paste("0.5 %", 0.5, 0.17))
	v.grade == "risk"
}

test_a_dose_that_may_be_too_fat_may_be if {
	fat := object.union(paste("2-4 %", 2, 1), {"paste_high": compared("most", "limit", "2-4 %", "3 %", 0.67, 1.33)})
	some v in found(fat)
	v.grade == "risk"
	v.certainty == "may"
}

test_a_step_that_strayed_from_its_card_is_offered_the_cards_dose if {
	some v in found(object.union(paste("5 %", 5, 1.67), {"card_mix": "1.5 %"}))
	v.mend == [{"edit": "set", "step": 5, "key": "mix", "value": "1.5 %"}]
}

test_one_to_three_percent_of_paste_is_silent if {
	count(found(paste("1 %", 1, 0.33))) == 0
	count(found(paste("3 %", 3, 1))) == 0
}

test_a_card_that_is_itself_at_fault_is_no_cure if {
	every more in [{"written": "card"}, {"card_mix": "5 %"}] {
		some v in found(object.union(object.union(paste("5 %", 5, 1.67), {"card_mix": "4 %"}), more))
		v.mend == [{"edit": "set", "step": 5, "key": "mix", "value": "2 %"}]
	}
}
