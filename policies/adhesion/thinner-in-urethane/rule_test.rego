package guidecoat.adhesion["thinner-in-urethane_test"]

import data.guidecoat.adhesion["thinner-in-urethane"] as rule

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

test_thinner_alcohol_and_cleaners_in_a_cup_with_isocyanate_fail if {
	every kind in ["lacquer thinner", "alcohol wipe", "wax and grease remover", "waterborne cleaner", "plastic cleaner", "soap and water"] {
		grades(mix({"reducer_kind": kind})) == {"fails"}
	}
}

test_reducer_and_retarder_are_silent if {
	every kind in ["reducer", "retarder", ""] {
		grades(mix({"reducer_kind": kind})) == set()
	}
}

test_thinner_in_a_cup_without_isocyanate_is_silent if {
	grades(mix({"reducer_kind": "lacquer thinner", "isocyanate": false})) == set()
}

test_a_card_that_lists_it_does_not_change_what_it_does if {
	grades(mix({"reducer_kind": "lacquer thinner", "reducer_known": "listed"})) == {"fails"}
}

test_it_offers_the_cards_own_reducer if {
	some v in found(mix({"reducer_kind": "lacquer thinner", "reducer_name": "gun wash", "reducer_known": "foreign"}))
	v.message == "gloss (urethane clear) has isocyanate in the cup and is reduced with gun wash (lacquer thinner)"
	v.mend == [{"edit": "set", "step": 4, "key": "reducer", "value": "warm"}]
}

test_it_never_offers_the_thinner_itself if {
	some v in found(mix({"reducer_kind": "lacquer thinner", "reducer_name": "lacquer thinner", "card_reducers": ["lacquer thinner"]}))
	v.message == "gloss (urethane clear) has isocyanate in the cup and is reduced with lacquer thinner"
	v.mend == []
}

test_a_thinner_without_a_name_goes_by_its_kind if {
	some v in found(mix({"reducer_kind": "lacquer thinner", "reducer_name": ""}))
	v.message == "gloss (urethane clear) has isocyanate in the cup and is reduced with lacquer thinner"
}
