package guidecoat.film["filler-too-thick_test"]

import data.guidecoat.film["filler-too-thick"] as rule

cmp(sense, lo, hi, source) := {
	"sense": sense, "open": false, "leaned": leans(source), "source": source, "graced": true, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "1 mil", "shown": {"lo": 1, "hi": 1, "unit": "mil"}},
	"limit": {"text": "2 mil", "shown": {"lo": 2, "hi": 2, "unit": "mil"}},
}

leans("typical") := ["grey.film"]

leans(source) := [] if source != "typical"

limits := {"grace": {"low": 0.9, "high": 1.1}}

total(more) := object.union(
	{
		"id": "panel/5-0", "zone": "panel", "top_step": 5, "filler_step": 2, "place": {},
		"stack_max": null, "lacquer_max": null, "filler_max": null, "fiber_max": null, "one_part_putty_max": null, "has_fiber": false,
	},
	more,
)

found(t) := {[v.grade, v.certainty] | some v in every_one(t)}

every_one(t) := vs if {
	vs := rule.verdict with input as {"totals": [t], "limits": limits}
}

test_too_much_filler_is_a_risk if found(total({"filler_max": cmp("most", 1.2, 1.2, "limit")})) == {["risk", "will"]}

test_perhaps_too_much_may_be if found(total({"filler_max": cmp("most", 0.6, 1.2, "limit")})) == {["risk", "may"]}

test_it_stands_at_the_step_of_the_filler if {
	some v in every_one(total({"filler_max": cmp("most", 1.2, 1.2, "limit")}))
	v.step == 2
}

test_as_much_as_it_may_is_silent if found(total({"filler_max": cmp("most", 1, 1, "limit")})) == set()

test_fiber_filler_may_be_thicker if {
	found(total({"has_fiber": true, "filler_max": cmp("most", 1.2, 1.2, "limit"), "fiber_max": cmp("most", 0.8, 0.8, "limit")})) == set()
}

test_too_much_fiber_filler_is_a_risk if {
	found(total({"has_fiber": true, "fiber_max": cmp("most", 1.2, 1.2, "limit")})) == {["risk", "will"]}
}

test_no_filler_is_silent if found(total({})) == set()
