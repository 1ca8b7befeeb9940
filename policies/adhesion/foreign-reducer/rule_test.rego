package guidecoat.adhesion["foreign-reducer_test"]

import data.guidecoat.adhesion["foreign-reducer"] as rule

mix(more) := object.union(
	{
		"id": "4", "step": 4, "name": "gloss (urethane clear)", "hardener_known": "listed", "hardener_name": "fast",
		"card_hardeners": ["fast", "slow"], "reducer_known": "listed", "reducer_name": "warm", "reducer_kind": "reducer",
		"card_reducers": ["warm"], "isocyanate": true, "place": {},
	},
	more,
)

found(m) := vs if {
	vs := rule.verdict with input as {"mixes": [m]}
}

grades(m) := {v.grade | some v in found(m)}

test_a_reducer_that_the_card_does_not_name_is_a_risk if {
	some v in found(mix({"reducer_known": "foreign", "reducer_name": "cheap"}))
	[v.grade, v.certainty, v.on, v.step] == ["risk", "will", "4", 4]
	v.message == "gloss (urethane clear) is reduced with cheap; its card names warm"
	v.mend == [{"edit": "set", "step": 4, "key": "reducer", "value": "warm"}]
}

test_one_that_it_names_is_silent if grades(mix({})) == set()

test_where_step_or_card_names_none_it_is_silent if grades(mix({"reducer_known": ""})) == set()

test_a_foreign_hardener_is_not_this_rules_matter if grades(mix({"hardener_known": "foreign"})) == set()
