package guidecoat.film["film-too-thin_test"]

import data.guidecoat.film["film-too-thin"] as rule

cmp(sense, lo, hi, source) := {
	"sense": sense, "open": false, "leaned": leans(source), "source": source, "graced": true, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "1 mil", "shown": {"lo": 1, "hi": 1, "unit": "mil"}},
	"limit": {"text": "2 mil", "shown": {"lo": 2, "hi": 2, "unit": "mil"}},
}

leans("typical") := ["grey.film"]

leans(source) := [] if source != "typical"

limits := {"grace": {"low": 0.9, "high": 1.1}}

layer(t) := {"id": "3:grey", "name": "grey (epoxy primer)", "thin": t}

contact(more) := object.union(
	{
		"id": "panel/3:grey", "zone": "panel", "step": 3, "upper": "3:grey", "lower": "0:mild-steel", "place": {},
		"fades": false, "zone_facts": {"role": ""}, "upper_traits": {"class": "primer"}, "lower_traits": {"metal": true},
	},
	more,
)

found(t, c) := vs if {
	vs := rule.verdict with input as {
		"layers": [layer(t)], "contacts_by_upper": {"3:grey": [c]}, "limits": limits,
		"lays": [{"layer": "3:grey", "step": 3, "coats": 1, "coats_enough": 2}],
	}
}

grades(t, c) := {[v.grade, v.certainty] | some v in found(t, c)}

test_a_thin_primer_on_metal_fails if grades(cmp("least", 0.5, 0.5, "card"), contact({})) == {["fails", "will"]}

test_it_offers_the_coats_that_make_the_film if {
	some v in found(cmp("least", 0.5, 0.5, "card"), contact({}))
	v.mend == [{"edit": "set", "step": 3, "key": "coats", "value": 2}]
}

test_a_perhaps_thin_primer_is_a_risk if grades(cmp("least", 0.5, 1.5, "card"), contact({})) == {["risk", "may"]}

test_a_typical_number_is_a_risk if grades(cmp("least", 0.5, 0.5, "typical"), contact({})) == {["risk", "may"]}

test_within_a_tenth_is_a_risk if grades(cmp("least", 0.95, 0.95, "card"), contact({})) == {["risk", "will"]}

test_at_the_least_is_silent if grades(cmp("least", 1, 1, "card"), contact({})) == set()

test_a_thin_clear_is_a_risk if {
	grades(cmp("least", 0.5, 0.5, "card"), contact({"upper_traits": {"class": "clear"}, "lower_traits": {"metal": false}})) == {["risk", "will"]}
}

test_a_thin_primer_on_film_is_a_risk if {
	grades(cmp("least", 0.5, 0.5, "card"), contact({"lower_traits": {"metal": false}})) == {["risk", "will"]}
}

test_a_thin_color_is_advice if {
	grades(cmp("least", 0.5, 0.5, "card"), contact({"upper_traits": {"class": "color"}, "lower_traits": {"metal": false}})) == {["advice", "will"]}
}

test_where_it_fades_it_is_silent if grades(cmp("least", 0.5, 0.5, "card"), contact({"fades": true})) == set()

test_a_blend_zone_is_silent if grades(cmp("least", 0.5, 0.5, "card"), contact({"zone_facts": {"role": "blend"}})) == set()

test_no_number_is_silent if grades(null, contact({})) == set()
