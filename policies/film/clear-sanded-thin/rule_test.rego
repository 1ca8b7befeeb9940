package guidecoat.film["clear-sanded-thin_test"]

import data.guidecoat.film["clear-sanded-thin"] as rule

# Clear left, from lo to hi mil, against a least in mil.
against(least, lo, hi) := {
	"sense": "least", "open": false, "source": "limit", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "some mil", "shown": {"lo": 1, "hi": 1, "unit": "mil"}},
	"limit": {"text": sprintf("%d mil", [least]), "shown": {"lo": least, "hi": least, "unit": "mil"}},
}

sanded(low, bad) := {"abrasions": [act({"surface_name": "gloss (urethane clear)", "clear_left_low": low, "clear_left_bad": bad})], "polishes": []}

polished(low, bad) := {"abrasions": [], "polishes": [act({"name": "gloss (urethane clear)", "clear_left_low": low, "clear_left_bad": bad})]}

act(more) := object.union({"id": "panel/9", "zone": "panel", "step": 9, "layer": "8:gloss", "place": {}}, more)

found(lists) := vs if {
	lays := [{"layer": "8:gloss", "step": 8, "coats_more": 3, "coats_enough": 2}]
	vs := rule.verdict with input as object.union(lists, {"lays": lays, "limits": {"grace": {"low": 0.9, "high": 1.1}}})
}

# 1.5 mil left: 0.75 of two mil, 1.5 of one.
test_a_mil_and_a_half_left_by_sanding_is_a_risk if {
	some v in found(sanded(against(2, 0.75, 0.75), against(1, 1.5, 1.5)))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/9"
	v.mend == [{"edit": "set", "step": 8, "key": "coats", "value": 3}]
	v.message == "sanding leaves some mil of gloss (urethane clear); 2 mil is the least that lasts"
}

test_half_a_mil_left_by_sanding_fails if {
	some v in found(sanded(against(2, 0.25, 0.25), against(1, 0.5, 0.5)))
	v.grade == "fails"
	v.certainty == "will"
	v.limit == {"lo": 1, "hi": 1, "unit": "mil"}
}

test_half_a_mil_left_by_polishing_fails if {
	some v in found(polished(against(2, 0.25, 0.25), against(1, 0.5, 0.5)))
	v.grade == "fails"
	startswith(v.message, "polishing leaves")
	v.mend == [{"edit": "set", "step": 8, "key": "coats", "value": 3}]
}

test_a_mil_and_a_half_left_by_polishing_is_a_risk if {
	some v in found(polished(against(2, 0.75, 0.75), against(1, 1.5, 1.5)))
	v.grade == "risk"
}

test_a_clear_that_may_be_under_one_mil_and_is_under_two_is_a_risk if {
	some v in found(sanded(against(2, 0.25, 0.75), against(1, 0.5, 1.5)))
	v.grade == "risk"
	v.certainty == "will"
}

test_a_clear_that_may_be_under_two_mil_may_be if {
	some v in found(sanded(against(2, 0.75, 1.5), against(1, 1.5, 3)))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_typical_film_makes_it_a_risk_and_says_so if {
	lean := {"leaned": ["gloss.film"]}
	some v in found(sanded(object.union(against(2, 0.25, 0.25), lean), object.union(against(1, 0.5, 0.5), lean)))
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["gloss.film"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_exactly_two_mil_left_is_silent if count(found(sanded(against(2, 1, 1), against(1, 2, 2)))) == 0

test_an_act_that_is_not_the_last_is_silent if count(found(polished(null, null))) == 0
