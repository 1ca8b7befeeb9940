package guidecoat.mix["over-reduced_test"]

import data.guidecoat.mix["over-reduced"] as rule

# A share of reducer whose ratio to the most that the card lets in, 10 %, runs from lo to hi.
share(lo, hi) := {
	"sense": "most", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "25 %", "shown": {"lo": 25, "hi": 25, "unit": "%"}},
	"limit": {"text": "10 %", "shown": {"lo": 10, "hi": 10, "unit": "%"}},
}

cup(reduced, more) := object.union(
	{
		"id": "5", "step": 5, "name": "two-pack (urethane surfacer)", "written": "step",
		"step_mix": "4:1 + 25 %", "card_mix": "4:1", "reduced": reduced, "place": {},
	},
	more,
)

found(m) := vs if {
	vs := rule.verdict with input as {"mixes": [m], "limits": {"grace": {"low": 0.9, "high": 1.1}}}
}

test_far_more_reducer_than_the_card_lets_in_fails if {
	some v in found(cup(share(2.5, 2.5), {}))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "5"
	v.message == "two-pack (urethane surfacer) is reduced by 25 % of base and hardener; its card lets in 10 %"
	v.mend == [{"edit": "set", "step": 5, "key": "mix", "value": "4:1"}]
}

test_a_share_that_may_be_too_much_is_a_risk if {
	some v in found(cup(share(0.5, 2.5), {}))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_tenth_over_is_graced if {
	some v in found(cup(share(1.1, 1.1), {}))
	v.grade == "risk"
	v.certainty == "will"
}

test_more_than_a_tenth_over_fails if {
	some v in found(cup(share(1.11, 1.11), {}))
	v.grade == "fails"
}

test_a_typical_share_makes_it_a_risk_and_says_so if {
	some v in found(cup(object.union(share(2.5, 2.5), {"source": "typical", "leaned": ["two-pack.reduce_up_to"]}), {}))
	v.grade == "risk"
	v.certainty == "may"
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_exactly_the_most_is_silent if count(found(cup(share(1, 1), {}))) == 0

test_a_card_that_names_no_most_is_silent if count(found(cup(null, {}))) == 0

test_a_cards_own_mix_at_fault_is_offered_nothing if {
	some v in found(cup(share(2.5, 2.5), {"written": "card", "step_mix": "", "card_mix": "4:1:1"}))
	v.mend == []
}

test_a_card_with_no_mix_or_the_very_same_has_none_to_offer if {
	every mix in ["", "4:1 + 25 %"] {
		some v in found(cup(share(2.5, 2.5), {"card_mix": mix}))
		v.mend == []
	}
}
