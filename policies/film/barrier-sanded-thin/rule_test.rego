package guidecoat.film["barrier-sanded-thin_test"]

import data.guidecoat.film["barrier-sanded-thin"] as rule

cmp(sense, lo, hi, source) := {
	"sense": sense, "open": false, "leaned": leans(source), "source": source, "graced": true, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "1 mil", "shown": {"lo": 1, "hi": 1, "unit": "mil"}},
	"limit": {"text": "2 mil", "shown": {"lo": 2, "hi": 2, "unit": "mil"}},
}

leans("typical") := ["grey.film"]

leans(source) := [] if source != "typical"

limits := {"grace": {"low": 0.9, "high": 1.1}}

abrasion(step, c) := {
	"id": sprintf("panel/%d", [step]), "zone": "panel", "step": step, "layer": "3:grey", "surface_name": "grey (epoxy primer)",
	"barrier_left": c, "place": {},
}

found(list) := {[v.on, v.grade, v.certainty] | some v in every_one(list)}

every_one(list) := vs if {
	vs := rule.verdict with input as {"abrasions": list, "limits": limits}
}

test_too_little_left_is_a_risk if found([abrasion(4, cmp("least", 0.5, 0.5, "limit"))]) == {["panel/4", "risk", "will"]}

test_perhaps_too_little_may_be if found([abrasion(4, cmp("least", 0.5, 1.5, "limit"))]) == {["panel/4", "risk", "may"]}

test_the_last_abrasion_speaks if {
	found([abrasion(4, cmp("least", 0.5, 0.5, "limit")), abrasion(5, cmp("least", 0.5, 0.5, "limit"))]) == {["panel/5", "risk", "will"]}
}

test_enough_left_is_silent if found([abrasion(4, cmp("least", 1, 1, "limit"))]) == set()

test_not_the_only_barrier_is_silent if found([abrasion(4, null)]) == set()
