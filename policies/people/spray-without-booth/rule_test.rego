package guidecoat.people["spray-without-booth_test"]

import data.guidecoat.people["spray-without-booth"] as rule

cup := {"id": "3", "flammable": true, "isocyanate": false}

lay(more) := object.union(
	{
		"id": "3", "step": 3, "do": "spray", "mix": "3", "name": "grey (epoxy primer)", "where": "booth",
		"metalwork_near": null, "place": {},
	},
	more,
)

near(lo, hi, over_lo, over_hi) := {
	"sense": "least", "open": false, "leaned": [], "source": "limit", "graced": false,
	"over": {"lo": over_lo, "hi": over_hi},
	"measured": {"text": "30 min", "shown": {"lo": lo, "hi": hi, "unit": "min"}},
	"limit": {"text": "1 h", "shown": {"lo": 60, "hi": 60, "unit": "min"}},
}

test_spraying_in_the_open_shop_fails if {
	some v in rule.verdict with input as {"mixes": [cup], "lays": [lay({"where": "open shop"})]}
	v.grade == "fails"
}

test_spraying_isocyanate_outdoors_fails if {
	some v in rule.verdict with input as {
		"mixes": [{"id": "3", "flammable": false, "isocyanate": true}],
		"lays": [lay({"where": "outdoors"})],
	}
	v.grade == "fails"
}

test_booth_and_prep_bay_are_silent if {
	count(rule.verdict) == 0 with input as {"mixes": [cup], "lays": [lay({}), lay({"where": "prep bay"})]}
}

test_a_cup_that_neither_burns_nor_poisons_is_silent if {
	count(rule.verdict) == 0 with input as {
		"mixes": [{"id": "3", "flammable": false, "isocyanate": false}],
		"lays": [lay({"where": "open shop"})],
	}
}

test_brushing_in_the_open_shop_is_silent if {
	count(rule.verdict) == 0 with input as {"mixes": [cup], "lays": [lay({"do": "brush", "where": "open shop"})]}
}

test_metalwork_half_an_hour_before_fails if {
	some v in rule.verdict with input as {"mixes": [cup], "lays": [lay({"metalwork_near": near(30, 30, 0.5, 0.5)})]}
	v.grade == "fails"
	v.certainty == "will"
}

test_metalwork_perhaps_an_hour_before_is_a_risk if {
	some v in rule.verdict with input as {"mixes": [cup], "lays": [lay({"metalwork_near": near(30, 90, 0.5, 1.5)})]}
	v.grade == "risk"
	v.certainty == "may"
}

test_metalwork_an_hour_before_is_silent if {
	count(rule.verdict) == 0 with input as {"mixes": [cup], "lays": [lay({"metalwork_near": near(60, 60, 1, 1)})]}
}

judged(l) := {[v.grade, contains(v.message, "after metalwork")] | some v in found} if {
	found := rule.verdict with input as {"lays": [l], "mixes": [cup, {"id": "9", "flammable": false, "isocyanate": false}]}
}

sparks := {"metalwork_near": near(30, 30, 0.5, 0.5)}

test_sparks_matter_to_a_gun_that_sprays_what_burns_in_that_place if {
	judged(lay(sparks)) == {["fails", true]}
	judged(lay(object.union(sparks, {"do": "brush"}))) == set()
	judged(lay(object.union(sparks, {"mix": "9"}))) == set()
	judged(lay(object.union(sparks, {"where": "open shop"}))) == {["fails", false]}
}
