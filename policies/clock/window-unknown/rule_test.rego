package guidecoat.clock["window-unknown_test"]

import data.guidecoat.clock["window-unknown"] as rule

contact(more) := object.union(
	{
		"id": "panel/4:grey", "zone": "panel", "step": 4, "upper": "4:grey", "lower": "3:zinc",
		"upper_name": "grey (epoxy primer)", "lower_name": "zinc (weld-through primer)",
		"upper_kind": "epoxy primer", "upper_traits": {"class": "primer"}, "lower_kind": "weld-through primer",
		"lower_traits": {"class": "primer", "acid": false, "wet_sandable": false}, "lower_pore": false,
		"gap_applies": true, "window_given": "none", "window_shut": false, "abraded": false, "wipes": [], "place": {},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "zones": [{"name": "panel", "parent": ""}]}
}

test_a_film_whose_window_nobody_gives_is_advice if {
	some v in found(contact({}))
	v.grade == "advice"
	v.certainty == "will"
	v.on == "panel/4:grey"
	v.message == "grey (epoxy primer) goes on zinc (weld-through primer) unsanded, and nobody says how long that film takes another"
	v.mend == [{"edit": "insert", "where": "before", "step": 4, "set": {"do": "scuff", "pad": "fine pad"}}]
}

test_a_window_on_the_card_is_enough if count(found(contact({"window_given": "card"}))) == 0

test_a_typical_window_is_enough if count(found(contact({"window_given": "typical"}))) == 0

test_a_film_that_was_abraded_needs_none if count(found(contact({"abraded": true}))) == 0

test_a_window_that_is_known_never_to_open_is_another_rules_matter if count(found(contact({"window_shut": true}))) == 0

test_what_was_there_is_silent if count(found(contact({"gap_applies": false}))) == 0

test_solder_is_metal if count(found(contact({"lower_kind": "body solder"}))) == 0

test_wax_need_not_bond if count(found(contact({"upper_kind": "cavity wax"}))) == 0

test_wax_takes_no_paint_at_any_time if count(found(contact({"lower_kind": "cavity wax"}))) == 0
