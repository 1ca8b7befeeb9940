package guidecoat.film["film-too-thin_test"]

import data.guidecoat.film["film-too-thin"] as rule

# A dry film whose ratio to the least of the card's range, 1.5 mil, runs from lo to hi.
film(lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "0.9 mil", "shown": {"lo": 0.9, "hi": 0.9, "unit": "mil"}},
	"limit": {"text": "1.5 mil", "shown": {"lo": 1.5, "hi": 1.5, "unit": "mil"}},
}

on_metal(class) := {
	"id": "panel/3:grey", "zone": "panel", "step": 3, "upper": "3:grey", "lower": "0:mild-steel",
	"lower_name": "mild steel", "upper_traits": {"class": class}, "lower_traits": {"metal": true},
	"fades": false, "zone_facts": {"role": "repair"}, "place": {},
}

on_film(class) := object.union(on_metal(class), {"lower_name": "build (urethane surfacer)", "lower_traits": {"metal": false}})

found(t, c) := vs if {
	vs := rule.verdict with input as {
		"layers": [{"id": "3:grey", "name": "grey (epoxy primer)", "thin": t}],
		"contacts_by_upper": {"3:grey": [c]},
		"lays": [{"layer": "3:grey", "step": 3, "coats": 1, "coats_enough": 2}, {"layer": "2:other", "step": 2, "coats": 1, "coats_enough": 5}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_a_thin_primer_on_metal_fails if {
	every class in ["primer", "surfacer", "sealer"] {
		some v in found(film(0.6, 0.6), on_metal(class))
		v.grade == "fails"
		v.certainty == "will"
		v.on == "panel/3:grey"
		v.message == "grey (epoxy primer) comes out at 0.9 mil dry on mild steel; it wants 1.5 mil at least"
	}
}

test_a_thin_primer_that_may_be_enough_is_a_risk if {
	some v in found(film(0.6, 1.2), on_metal("primer"))
	v.grade == "risk"
	v.certainty == "may"
}

test_typical_solids_make_it_a_risk_and_are_said if {
	some v in found(object.union(film(0.6, 0.6), {"leaned": ["grey.volume_solids"]}), on_metal("primer"))
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["grey.volume_solids"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_a_tenth_thin_is_graced if {
	some v in found(film(0.9, 0.9), on_metal("primer"))
	v.grade == "risk"
	v.certainty == "will"
}

test_more_than_a_tenth_thin_fails if {
	some v in found(film(0.89, 0.89), on_metal("primer"))
	v.grade == "fails"
}

test_a_thin_primer_on_a_film_is_a_risk if {
	some v in found(film(0.6, 0.6), on_film("primer"))
	v.grade == "risk"
	v.certainty == "will"
}

test_a_thin_clear_is_a_risk if {
	some v in found(film(0.6, 0.6), on_film("clear"))
	v.grade == "risk"
}

test_a_thin_promoter_on_metal_is_a_risk if {
	some v in found(film(0.6, 0.6), on_metal("promoter"))
	v.grade == "risk"
}

test_a_thin_color_is_advice if {
	some v in found(film(0.6, 0.6), on_film("color"))
	v.grade == "advice"
}

test_a_film_that_fades_out_is_silent if {
	count(found(film(0.6, 0.6), object.union(on_film("clear"), {"fades": true}))) == 0
}

test_a_blend_zone_is_silent if {
	count(found(film(0.6, 0.6), object.union(on_film("clear"), {"zone_facts": {"role": "blend"}}))) == 0
}

test_exactly_the_least_is_silent if count(found(film(1, 1), on_metal("primer"))) == 0

test_a_film_that_is_not_known_is_silent if count(found(null, on_metal("primer"))) == 0

test_it_offers_the_coats_that_would_be_enough if {
	some v in found(film(0.6, 0.6), on_metal("primer"))
	v.mend == [{"edit": "set", "step": 3, "key": "coats", "value": 2}]
}

test_it_offers_nothing_where_coats_would_not_do if {
	vs := rule.verdict with input as {
		"layers": [{"id": "3:grey", "name": "grey (epoxy primer)", "thin": film(0.6, 0.6)}],
		"contacts_by_upper": {"3:grey": [on_metal("primer")]},
		"lays": [{"layer": "3:grey", "step": 3, "coats": 1, "coats_enough": 0}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
	some v in vs
	v.mend == []
}

test_it_offers_nothing_where_as_many_coats_should_have_done if {
	vs := rule.verdict with input as {
		"layers": [{"id": "3:grey", "name": "grey (epoxy primer)", "thin": film(0.6, 0.6)}],
		"contacts_by_upper": {"3:grey": [on_metal("primer")]},
		"lays": [{"layer": "3:grey", "step": 3, "coats": 2, "coats_enough": 2}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
	some v in vs
	v.mend == []
}
