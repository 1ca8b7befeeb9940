package guidecoat.paper["data-sheet-missing_test"]

import data.guidecoat.paper["data-sheet-missing"] as rule

card(more) := object.union(
	{
		"ref": "grey", "shown": "grey (epoxy primer)", "laid": true, "data_sheet": {"written": false}, "place": {},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"cards": {"grey": c}}
}

test_a_laid_product_without_its_sheet_is_advice if {
	some v in found(card({}))
	v.grade == "advice"
	v.on == "grey"
}

test_a_card_with_its_sheet_is_silent if count(found(card({"data_sheet": {"written": true}}))) == 0

test_a_product_never_laid_is_silent if count(found(card({"laid": false}))) == 0
