package guidecoat.adhesion["foreign-hardener_test"]

import data.guidecoat.adhesion["foreign-hardener"] as rule

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

test_a_hardener_that_the_card_does_not_name_fails if {
	some v in found(mix({"hardener_known": "foreign", "hardener_name": "cheap"}))
	[v.grade, v.certainty, v.on, v.step] == ["fails", "will", "4", 4]
	v.message == "gloss (urethane clear) is mixed with cheap; its card names fast or slow"
	v.mend == [
		{"edit": "set", "step": 4, "key": "hardener", "value": "fast"},
		{"edit": "set", "step": 4, "key": "hardener", "value": "slow"},
	]
}

test_one_that_it_names_is_silent if grades(mix({})) == set()

test_where_step_or_card_names_none_it_is_silent if grades(mix({"hardener_known": ""})) == set()

test_a_foreign_reducer_is_not_this_rules_matter if grades(mix({"reducer_known": "foreign"})) == set()
