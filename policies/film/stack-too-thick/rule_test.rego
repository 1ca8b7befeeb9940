package guidecoat.film["stack-too-thick_test"]

import data.guidecoat.film["stack-too-thick"] as rule

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

test_too_much_paint_is_a_risk if found(total({"stack_max": cmp("most", 1.2, 1.2, "limit")})) == {["risk", "will"]}

test_perhaps_too_much_may_be if found(total({"stack_max": cmp("most", 0.7, 1.2, "limit")})) == {["risk", "may"]}

test_as_much_as_it_may_is_silent if found(total({"stack_max": cmp("most", 1, 1, "limit")})) == set()

test_too_much_lacquer_is_a_risk if found(total({"lacquer_max": cmp("most", 1.2, 1.2, "limit")})) == {["risk", "will"]}

test_a_little_lacquer_is_silent if found(total({"lacquer_max": cmp("most", 0.5, 0.5, "limit")})) == set()

test_one_mistake_is_one_finding if {
	count(every_one(total({"stack_max": cmp("most", 1.2, 1.2, "limit"), "lacquer_max": cmp("most", 2, 2, "limit")}))) == 1
}

test_an_unknown_film_is_silent if found(total({})) == set()
