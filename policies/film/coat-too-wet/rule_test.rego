package guidecoat.film["coat-too-wet_test"]

import data.guidecoat.film["coat-too-wet"] as rule

cmp(sense, lo, hi, source) := {
	"sense": sense, "open": false, "leaned": leans(source), "source": source, "graced": true, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "1 mil", "shown": {"lo": 1, "hi": 1, "unit": "mil"}},
	"limit": {"text": "2 mil", "shown": {"lo": 2, "hi": 2, "unit": "mil"}},
}

leans("typical") := ["grey.film"]

leans(source) := [] if source != "typical"

limits := {"grace": {"low": 0.9, "high": 1.1}}

found(t) := {[v.grade, v.certainty] | some v in every_one(t)}

every_one(t) := vs if {
	vs := rule.verdict with input as {
		"lays": [{"step": 3, "layer": "3:grey", "name": "grey (epoxy primer)", "wet_max": t, "contacts": ["panel/3:grey"], "place": {}}],
		"contacts_by_upper": {"3:grey": [{"id": "panel/3:grey", "zone": "panel", "step": 3, "upper": "3:grey", "lower": "x"}]},
		"limits": limits,
	}
}

test_too_wet_is_a_risk if found(cmp("most", 1.5, 1.5, "card")) == {["risk", "will"]}

test_perhaps_too_wet_may_be if found(cmp("most", 0.9, 1.5, "card")) == {["risk", "may"]}

test_as_wet_as_it_takes_is_silent if found(cmp("most", 1, 1, "card")) == set()

test_no_number_is_silent if found(null) == set()
