package guidecoat.film["film-too-thick_test"]

import data.guidecoat.film["film-too-thick"] as rule

cmp(sense, lo, hi, source) := {
	"sense": sense, "open": false, "leaned": leans(source), "source": source, "graced": true, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "1 mil", "shown": {"lo": 1, "hi": 1, "unit": "mil"}},
	"limit": {"text": "2 mil", "shown": {"lo": 2, "hi": 2, "unit": "mil"}},
}

leans("typical") := ["grey.film"]

leans(source) := [] if source != "typical"

limits := {"grace": {"low": 0.9, "high": 1.1}}

found(thick, half) := {[v.grade, v.certainty] | some v in every_one(thick, half)}

every_one(thick, half) := vs if {
	vs := rule.verdict with input as {
		"layers": [{"id": "3:etch", "name": "etch (one-part acid primer)", "thick": thick, "thick_half": half}],
		"contacts_by_upper": {"3:etch": [{"id": "panel/3:etch", "zone": "panel", "step": 3, "upper": "3:etch", "lower": "0:mild-steel", "place": {}}]},
		"limits": limits,
	}
}

test_over_the_most_is_a_risk if found(cmp("most", 1.4, 1.4, "card"), null) == {["risk", "will"]}

test_perhaps_over_the_most_may_be if found(cmp("most", 0.8, 1.4, "card"), null) == {["risk", "may"]}

test_a_typical_most_may_be if found(cmp("most", 1.4, 1.4, "typical"), null) == {["risk", "may"]}

test_at_the_most_is_silent if found(cmp("most", 1, 1, "card"), null) == set()

test_acid_primer_far_over_fails_once if found(cmp("most", 2, 2, "card"), cmp("most", 1.33, 1.33, "card")) == {["fails", "will"]}

test_acid_primer_over_but_not_by_half_is_a_risk if found(cmp("most", 1.4, 1.4, "card"), cmp("most", 0.93, 0.93, "card")) == {["risk", "will"]}

test_acid_primer_far_over_a_typical_number_is_a_risk if found(cmp("most", 2, 2, "typical"), cmp("most", 1.33, 1.33, "typical")) == {["risk", "may"]}

test_no_number_is_silent if found(null, null) == set()
