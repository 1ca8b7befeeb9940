package guidecoat.film["clear-sanded-thin_test"]

import data.guidecoat.film["clear-sanded-thin"] as rule

cmp(sense, lo, hi, source) := {
	"sense": sense, "open": false, "leaned": leans(source), "source": source, "graced": true, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "1 mil", "shown": {"lo": 1, "hi": 1, "unit": "mil"}},
	"limit": {"text": "2 mil", "shown": {"lo": 2, "hi": 2, "unit": "mil"}},
}

leans("typical") := ["grey.film"]

leans(source) := [] if source != "typical"

limits := {"grace": {"low": 0.9, "high": 1.1}}

act(low, bad) := {
	"id": "panel/6", "zone": "panel", "step": 6, "layer": "5:gloss",
	"clear_left_low": low, "clear_left_bad": bad, "place": {},
}

sanded(low, bad) := gs if {
	vs := rule.verdict with input as {"abrasions": [act(low, bad)], "polishes": [], "limits": limits}
	gs := {[v.grade, v.certainty] | some v in vs}
}

polished(low, bad) := gs if {
	vs := rule.verdict with input as {"abrasions": [], "polishes": [act(low, bad)], "limits": limits}
	gs := {[v.grade, v.certainty] | some v in vs}
}

test_under_two_mil_is_a_risk if sanded(cmp("least", 0.8, 0.8, "limit"), cmp("least", 1.6, 1.6, "limit")) == {["risk", "will"]}

test_under_one_mil_fails_once if sanded(cmp("least", 0.4, 0.4, "limit"), cmp("least", 0.8, 0.8, "limit")) == {["fails", "will"]}

test_perhaps_under_one_mil_is_a_risk if {
	sanded(cmp("least", 0.4, 0.9, "limit"), cmp("least", 0.8, 1.8, "limit")) == {["risk", "will"]}
}

test_perhaps_under_two_mil_may_be if sanded(cmp("least", 0.9, 1.2, "limit"), cmp("least", 1.8, 2.4, "limit")) == {["risk", "may"]}

test_a_typical_film_is_a_risk if sanded(cmp("least", 0.4, 0.4, "typical"), cmp("least", 0.8, 0.8, "typical")) == {["risk", "may"]}

test_polishing_counts if polished(cmp("least", 0.4, 0.4, "limit"), cmp("least", 0.8, 0.8, "limit")) == {["fails", "will"]}

test_enough_is_silent if sanded(cmp("least", 1, 1, "limit"), cmp("least", 2, 2, "limit")) == set()

test_what_is_no_clear_is_silent if sanded(null, null) == set()
