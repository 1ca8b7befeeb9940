package guidecoat.mix["hardener-in-one-part_test"]

import data.guidecoat.mix["hardener-in-one-part"] as rule

cup(more) := object.union(
	{
		"id": "5", "step": 5, "name": "red-oxide (lacquer primer)", "kind": "lacquer primer", "two_part": false,
		"written": "step", "step_mix": "1", "card_mix": "1", "hardener_parts": 0, "paste": null,
		"hardener_name": "", "hardener_known": "", "card_hardeners": [], "additive_name": "", "additive_kind": "",
		"isocyanate": false, "place": {},
	},
	more,
)

found(m) := vs if {
	vs := rule.verdict with input as {"mixes": [m]}
}

test_a_hardener_named_for_a_lacquer_primer_is_a_risk if {
	some v in found(cup({"hardener_name": "fast", "isocyanate": true}))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "5"
	v.message == "red-oxide (lacquer primer) is one-part, and fast goes into its cup; the cup is isocyanate work then"
	v.mend == [{"edit": "unset", "step": 5, "key": "hardener"}]
}

test_a_share_of_hardener_is_a_risk_and_the_cards_mix_leaves_it_out if {
	some v in found(cup({"hardener_parts": 1, "step_mix": "8:1"}))
	v.grade == "risk"
	v.message == "red-oxide (lacquer primer) is one-part, and hardener goes into its cup"
	v.mend == [{"edit": "set", "step": 5, "key": "mix", "value": "1"}]
}

test_hardener_as_an_additive_counts if {
	some v in found(cup({"additive_name": "fast", "additive_kind": "hardener"}))
	v.grade == "risk"
	contains(v.message, "fast goes into its cup")
	v.mend == [{"edit": "unset", "step": 5, "key": "additive"}]
}

test_paste_counts if {
	some v in found(cup({"paste": {"text": "2 %"}}))
	v.grade == "risk"
}

test_in_basecoat_it_is_advice if {
	every kind in ["solvent basecoat", "waterborne basecoat"] {
		some v in found(cup({"kind": kind, "hardener_name": "fast"}))
		v.grade == "advice"
	}
}

test_in_enamel_it_is_advice if {
	some v in found(cup({"kind": "single-stage enamel", "hardener_name": "gloss hardener"}))
	v.grade == "advice"
}

test_a_hardener_that_the_card_lists_is_advice if {
	some v in found(cup({"hardener_name": "fast", "hardener_known": "listed", "card_hardeners": ["fast"]}))
	v.grade == "advice"
	contains(v.message, "as its card lets in")
}

test_a_hardener_that_the_card_does_not_list_stays_a_risk if {
	some v in found(cup({"hardener_name": "slow", "hardener_known": "foreign", "card_hardeners": ["fast"]}))
	v.grade == "risk"
}

test_a_one_part_product_as_it_comes_is_silent if count(found(cup({}))) == 0

test_another_additive_is_silent if {
	count(found(cup({"additive_name": "fish stop", "additive_kind": "fisheye additive"}))) == 0
}

test_a_two_part_product_is_silent if count(found(cup({"two_part": true, "hardener_parts": 1}))) == 0

test_a_named_hardener_is_told_before_an_additive if {
	some v in found(cup({"hardener_name": "slow", "additive_name": "fast", "additive_kind": "hardener"}))
	contains(v.message, "slow goes into its cup")
	v.mend == [{"edit": "unset", "step": 5, "key": "hardener"}, {"edit": "unset", "step": 5, "key": "additive"}]
}

test_the_cards_mix_is_offered_only_where_it_leaves_the_hardener_out if {
	share := {"hardener_parts": 1, "step_mix": "8:1"}
	every more in [
		{"written": "card"}, {"card_mix": ""}, {"card_mix": "8:1"},
		{"hardener_name": "slow"}, {"additive_kind": "hardener", "additive_name": "fast"},
	] {
		some v in found(cup(object.union(share, more)))
		count([e | some e in v.mend; e.key == "mix"]) == 0
	}
}
