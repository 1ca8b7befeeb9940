package guidecoat.clock["window-shut-by-heat_test"]

import data.guidecoat.clock["window-shut-by-heat"] as rule

# A gap whose ratio to the most recoat of the film beneath, 24 h, runs from lo to hi.
waited(lo, hi) := {"sense": "most", "open": false, "over": {"lo": lo, "hi": hi}, "limit": {"text": "24 h"}}

contact(more) := object.union(
	{
		"id": "panel/6:blue", "zone": "panel", "step": 6, "upper": "6:blue", "lower": "4:seal",
		"upper_name": "blue (solvent basecoat)", "lower_name": "seal (urethane sealer)",
		"upper_kind": "solvent basecoat", "upper_traits": {"class": "color"},
		"lower_traits": {"class": "sealer", "acid": false, "wet_sandable": true}, "lower_pore": false,
		"gap_applies": true, "baked": true, "baked_perhaps": false, "baked_full": true, "recoat_least": null, "bake_step": 5,
		"recoat_most": waited(0.1, 0.1), "abraded_since_bake": false,
		"wipes": [], "place": {},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "zones": [{"name": "panel", "parent": ""}]}
}

test_a_film_baked_hard_inside_its_hours_is_a_risk if {
	some v in found(contact({}))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/6:blue"
	v.message == "blue (solvent basecoat) goes on seal (urethane sealer) inside its window of 24 h, but step 5 has baked it hard, and nothing has abraded it since"
}

test_it_offers_to_scuff_it if {
	some v in found(contact({}))
	{e.set.pad | some e in v.mend} == {"very fine pad"}
}

too_soon := {"sense": "least", "open": false, "over": {"lo": 0.1, "hi": 0.1}, "limit": {"text": "12 h"}}

test_straight_from_the_oven_and_too_soon_another_rule_speaks if {
	count(found(contact({"baked_full": false, "recoat_least": too_soon}))) == 0
}

test_half_an_hour_from_the_oven_the_bake_stands_for_the_wait if {
	count(found(contact({"recoat_least": too_soon}))) == 1
}

test_a_film_that_was_not_baked_is_silent if count(found(contact({"baked": false}))) == 0

test_a_film_scuffed_since_is_silent if count(found(contact({"abraded_since_bake": true}))) == 0

test_a_film_that_may_have_been_baked_may_have_shut if {
	some v in found(contact({"baked": false, "baked_perhaps": true}))
	v.grade == "risk"
	v.certainty == "may"
	contains(v.message, "step 5 may have baked it hard")
}

test_exactly_at_the_end_of_its_hours_is_inside_them if count(found(contact({"recoat_most": waited(1, 1)}))) == 1

test_past_its_hours_another_rule_speaks if count(found(contact({"recoat_most": waited(1.2, 1.2)}))) == 0

test_perhaps_past_its_hours_another_rule_speaks if count(found(contact({"recoat_most": waited(0.5, 1.2)}))) == 0

test_a_film_whose_window_never_shuts_is_silent if count(found(contact({"recoat_most": null}))) == 0

test_what_was_there_is_silent if count(found(contact({"gap_applies": false}))) == 0

test_wax_need_not_bond if count(found(contact({"upper_kind": "cavity wax"}))) == 0
