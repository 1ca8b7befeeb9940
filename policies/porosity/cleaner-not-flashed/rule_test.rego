package guidecoat.porosity["cleaner-not-flashed_test"]

import data.guidecoat.porosity["cleaner-not-flashed"] as rule

minutes(lo, hi) := {"lo": lo, "hi": hi, "open": false, "text": "some min", "shown": {"lo": lo, "hi": hi, "unit": "min"}}

limit(m) := {"measure": object.union(minutes(m, m), {"text": sprintf("%d min", [m])})}

limits := {"porous_dry_out": limit(30), "solvent_flash": limit(5), "water_flash": limit(15)}

solvent(lo, hi) := {"step": 3, "agent": "degreaser", "kind": "wax and grease remover", "solvent": true, "age": minutes(lo, hi)}

water(lo, hi) := {"step": 3, "agent": "water-wash", "kind": "waterborne cleaner", "solvent": false, "age": minutes(lo, hi)}

contact(wipes, pore) := {
	"id": "dent/4:x", "zone": "dent", "step": 4, "upper": "4:x", "lower": "2:y", "upper_name": "x", "lower_name": "y",
	"lower_pore": pore, "all_wipes": wipes, "place": {},
}

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "limits": limits}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

test_solvent_under_half_an_hour_on_a_pore_is_a_risk if {
	some v in found(contact([solvent(20, 20)], true))
	v.grade == "risk"
	v.certainty == "will"
	v.limit.lo == 30
	v.mend == [{"edit": "set", "step": 3, "key": "then_wait", "value": "30 min"}]
}

test_solvent_half_an_hour_on_a_pore_is_silent if found(contact([solvent(30, 30)], true)) == set()

test_solvent_under_five_minutes_on_a_closed_film_is_a_risk if grades(contact([solvent(4, 4)], false)) == {["risk", "will"]}

test_solvent_five_minutes_on_a_closed_film_is_silent if found(contact([solvent(5, 5)], false)) == set()

test_waterborne_cleaner_under_a_quarter_of_an_hour_is_a_risk if grades(contact([water(10, 10)], false)) == {["risk", "will"]}

test_waterborne_cleaner_a_quarter_of_an_hour_is_silent if found(contact([water(15, 15)], false)) == set()

test_wait_perhaps_too_short_may_be if grades(contact([solvent(2, 10)], false)) == {["risk", "may"]}

test_wait_that_nobody_wrote_is_silent if {
	found(contact([object.union(solvent(0, 0), {"age": {"open": true, "hi": null}})], false)) == set()
}

test_an_earlier_wipe_that_has_not_left_counts_too if {
	some v in found(contact([object.union(water(10, 10), {"step": 2}), solvent(6, 6)], false))
	v.mend[0].step == 2
}

test_soap_and_water_is_not_this_rules_matter if {
	found(contact([object.union(water(1, 1), {"kind": "soap and water"})], false)) == set()
}

test_no_wipe_is_silent if found(contact([], true)) == set()

test_water_on_a_pore_has_a_rule_of_its_own if found(contact([water(1, 1)], true)) == set()
