package guidecoat.paper["product-unused_test"]

import data.guidecoat.paper["product-unused"] as rule

found(own, used) := vs if {
	vs := rule.verdict with input as {"cards": {"grey": {
		"ref": "grey", "shown": "grey (epoxy primer)", "own": own, "used": used,
		"place": {},
	}}}
}

test_an_own_card_nobody_uses_is_advice if {
	some v in found(true, false)
	v.grade == "advice"
}

test_a_used_card_is_silent if count(found(true, true)) == 0

test_a_shelf_card_is_silent if count(found(false, false)) == 0
