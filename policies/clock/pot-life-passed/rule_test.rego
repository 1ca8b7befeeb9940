package guidecoat.clock["pot-life-passed_test"]

import data.guidecoat.clock["pot-life-passed"] as rule

# A cup's age whose ratio to its pot life, 2 h, runs from lo to hi.
pot(lo, hi) := {
	"sense": "most", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "3 h", "shown": {"lo": 3, "hi": 3, "unit": "h"}},
	"limit": {"text": "2 h", "shown": {"lo": 2, "hi": 2, "unit": "h"}},
}

judged(p, coats) := vs if {
	vs := rule.verdict with input as {
		"mixes": [{"id": "5", "step": 5, "name": "gloss (urethane clear)", "pot": p, "place": {}}],
		"lays": [{"id": "5", "coats": coats}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

found(p) := judged(p, 3)

test_a_cup_half_as_old_again_as_it_lives_fails if {
	some v in found(pot(1.5, 1.5))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "5"
	v.message == "the cup of gloss (urethane clear) is 3 h old at its last coat; it lives 2 h in this air"
	v.mend == [{"edit": "set", "step": 5, "key": "fresh_cup", "value": true}]
}

test_a_fresh_cup_does_not_help_a_single_coat if {
	some v in judged(pot(1.5, 1.5), 1)
	v.mend == []
}

test_a_cup_that_may_be_too_old_is_a_risk if {
	some v in found(pot(0.8, 1.5))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_typical_pot_life_makes_it_a_risk_and_says_so if {
	some v in found(object.union(pot(1.5, 1.5), {"source": "typical", "leaned": ["gloss.pot_life"]}))
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["gloss.pot_life"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_a_tenth_over_is_graced if {
	some v in found(pot(1.1, 1.1))
	v.grade == "risk"
	v.certainty == "will"
}

test_more_than_a_tenth_over_fails if {
	some v in found(pot(1.11, 1.11))
	v.grade == "fails"
}

test_exactly_the_pot_life_is_silent if count(found(pot(1, 1))) == 0

test_a_one_part_product_is_silent if count(found(null)) == 0

test_a_fresh_cup_is_offered_from_two_coats_on if {
	some v in judged(pot(1.5, 1.5), 2)
	v.mend == [{"edit": "set", "step": 5, "key": "fresh_cup", "value": true}]
}
