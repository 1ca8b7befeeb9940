package guidecoat.people["isocyanate-without-supplied-air_test"]

import data.guidecoat.people["isocyanate-without-supplied-air"] as rule

cup(more) := object.union(
	{
		"id": "3", "step": 3, "name": "two-pack (urethane surfacer)", "place": {},
		"isocyanate": true, "sprayed": true, "brushed": false, "wear": ["gloves"],
	},
	more,
)

test_sprayed_isocyanate_without_air_fails if {
	some v in rule.verdict with input as {"mixes": [cup({})]}
	v.grade == "fails"
	v.on == "3"
}

test_a_cartridge_is_not_supplied_air if {
	some v in rule.verdict with input as {"mixes": [cup({"wear": ["cartridge respirator", "gloves"]})]}
	v.grade == "fails"
}

test_brushed_isocyanate_is_a_risk if {
	vs := rule.verdict with input as {"mixes": [cup({"sprayed": false, "brushed": true})]}
	{v.grade | some v in vs} == {"risk"}
}

test_supplied_air_is_silent if {
	count(rule.verdict) == 0 with input as {"mixes": [cup({"wear": ["supplied-air respirator"]})]}
}

test_a_cup_without_isocyanate_is_silent if {
	count(rule.verdict) == 0 with input as {"mixes": [cup({"isocyanate": false})]}
}

test_a_spread_cup_is_silent if {
	count(rule.verdict) == 0 with input as {"mixes": [cup({"sprayed": false})]}
}

test_brushed_in_supplied_air_is_silent if {
	every worn, n in {"supplied-air respirator": 0, "cartridge respirator": 1} {
		vs := rule.verdict with input as {"mixes": [cup({"sprayed": false, "brushed": true, "wear": [worn]})]}
		count(vs) == n
	}
}
