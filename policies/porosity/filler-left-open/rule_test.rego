package guidecoat.porosity["filler-left-open_test"]

import data.guidecoat.porosity["filler-left-open"] as rule

exposure(more) := object.union(
	{
		"id": "dent/4-7", "zone": "dent", "from_step": 4, "layer": "4:x", "name": "x", "pore": true, "outdoors": false,
		"pore_open": null, "place": {},
	},
	more,
)

open_for(lo, hi, leaned) := {
	"sense": "most", "open": false, "leaned": leaned, "source": "limit", "graced": false, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "10 days", "shown": {"lo": 10, "hi": 10, "unit": "days"}},
	"limit": {"text": "7 days", "shown": {"lo": 7, "hi": 7, "unit": "days"}},
}

found(x) := vs if {
	vs := rule.verdict with input as {"exposures": [x]}
}

grades(x) := {[v.grade, v.certainty] | some v in found(x)}

test_pore_open_too_long_is_a_risk if {
	some v in found(exposure({"pore_open": open_for(1.4, 1.4, [])}))
	v.grade == "risk"
	v.on == "dent/4-7"
	v.measured.lo == 10
}

test_pore_open_for_as_long_as_it_may_is_silent if found(exposure({"pore_open": open_for(1, 1, [])})) == set()

test_pore_open_perhaps_too_long_may_be if grades(exposure({"pore_open": open_for(0.2, 1.4, [])})) == {["risk", "may"]}

test_settling_taken_from_the_kind_is_said if {
	some v in found(exposure({"pore_open": open_for(1.4, 1.4, ["x.settles"])}))
	v.certainty == "may"
	contains(v.message, "typical")
}

test_pore_outdoors_at_all_is_a_risk if grades(exposure({"outdoors": true, "pore_open": open_for(0.1, 0.1, [])})) == {["risk", "will"]}

test_too_long_and_outdoors_is_one_finding if count(found(exposure({"outdoors": true, "pore_open": open_for(1.4, 1.4, [])}))) == 1

test_closed_film_outdoors_is_not_this_rules_matter if found(exposure({"pore": false, "outdoors": true})) == set()

test_time_that_nobody_wrote_is_silent if {
	open := object.union(open_for(0, 0, []), {"open": true, "over": {"lo": 0, "hi": null}})
	found(exposure({"pore_open": open})) == set()
}
