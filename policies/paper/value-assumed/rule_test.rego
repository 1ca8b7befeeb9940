package guidecoat.paper["value-assumed_test"]

import data.guidecoat.paper["value-assumed"] as rule

found(keys) := vs if {
	vs := rule.verdict with input as {"cards": {"grey": {
		"ref": "grey", "shown": "grey (epoxy primer)",
		"compared": keys, "place": {},
	}}}
}

test_one_finding_a_card_lists_every_key if {
	some v in found(["flash", "recoat"])
	v.grade == "advice"
	v.leaned == ["grey.flash", "grey.recoat"]
	contains(v.message, "flash, recoat")
}

test_nothing_assumed_is_silent if count(found([])) == 0

test_one_number_assumed_is_told if count(found(["flash"])) == 1
