package guidecoat.film["sanded-through-unsaid_test"]

import data.guidecoat.film["sanded-through-unsaid"] as rule

cmp(sense, lo, hi, source) := {
	"sense": sense, "open": false, "leaned": leans(source), "source": source, "graced": true, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "1 mil", "shown": {"lo": 1, "hi": 1, "unit": "mil"}},
	"limit": {"text": "2 mil", "shown": {"lo": 2, "hi": 2, "unit": "mil"}},
}

leans("typical") := ["grey.film"]

leans(source) := [] if source != "typical"

limits := {"grace": {"low": 0.9, "high": 1.1}}

abrasion(c, more) := object.union(
	{
		"id": "panel/4", "zone": "panel", "step": 4, "layer": "3:grey", "surface_name": "grey (epoxy primer)",
		"grit": {"name": "P180"}, "cuts_written": false, "through_middle": c, "place": {},
	},
	more,
)

found(a) := {v.grade | some v in every_one(a)}

every_one(a) := vs if {
	vs := rule.verdict with input as {"abrasions": [a]}
}

test_taking_off_more_than_is_left_is_a_risk if found(abrasion(cmp("most", 1.4, 1.4, "sheet"), {})) == {"risk"}

test_taking_off_just_what_is_left_is_a_risk if found(abrasion(cmp("most", 1, 1, "sheet"), {})) == {"risk"}

test_taking_off_less_is_silent if found(abrasion(cmp("most", 0.99, 0.99, "sheet"), {})) == set()

test_a_written_cut_is_silent if found(abrasion(cmp("most", 1.4, 1.4, "sheet"), {"cuts_written": true})) == set()

test_an_unknown_film_is_silent if {
	found(abrasion(null, {})) == set()
	found(abrasion(object.union(cmp("most", 1.4, 1.4, "sheet"), {"open": true}), {})) == set()
}
