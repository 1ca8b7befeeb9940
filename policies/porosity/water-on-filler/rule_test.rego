package guidecoat.porosity["water-on-filler_test"]

import data.guidecoat.porosity["water-on-filler"] as rule

touch(more) := object.union(
	{
		"id": "dent/5", "zone": "dent", "step": 5, "layer": "4:x", "do": "clean", "agent": "soap and water",
		"surface_name": "x", "water": true, "pore": true, "follows_wet": false, "place": {},
	},
	more,
)

found(t) := vs if {
	vs := rule.verdict with input as {"touches": [t]}
}

test_soap_and_waterborne_cleaner_on_a_pore_fail if {
	every agent in ["soap and water", "water-wash"] {
		some v in found(touch({"agent": agent}))
		v.grade == "fails"
		contains(v.message, agent)
		v.mend == [{"edit": "set", "step": 5, "key": "with_kind", "value": "wax and grease remover"}]
	}
}

test_rinse_of_a_pore_fails if {
	some v in found(touch({"do": "rinse", "agent": "water"}))
	v.grade == "fails"
	v.mend == [{"edit": "drop", "step": 5}]
}

test_rinse_that_washes_chemistry_off_fails_too_but_is_not_for_dropping if {
	some v in found(touch({"do": "rinse", "agent": "water", "follows_wet": true}))
	v.grade == "fails"
	v.mend == []
}

test_solvent_cleaner_on_a_pore_is_silent if found(touch({"water": false})) == set()

test_water_on_a_closed_film_is_silent if found(touch({"pore": false})) == set()

test_water_that_came_with_another_act_is_told_without_an_edit if {
	some v in found(touch({"do": "neutralize"}))
	v.grade == "fails"
	v.mend == []
}
