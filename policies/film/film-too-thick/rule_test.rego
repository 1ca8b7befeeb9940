package guidecoat.film["film-too-thick_test"]

import data.guidecoat.film["film-too-thick"] as rule

# A dry film whose ratio to a most runs from lo to hi.
film(limit, graced, lo, hi) := {
	"sense": "most", "open": false, "source": "card", "graced": graced, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "1 mil", "shown": {"lo": 1, "hi": 1, "unit": "mil"}},
	"limit": {"text": sprintf("%s mil", [limit]), "shown": {"lo": 0.5, "hi": 0.5, "unit": "mil"}},
}

found(acid, thick, half) := vs if {
	vs := rule.verdict with input as {
		"layers": [{
			"id": "3:etch", "name": "etch (one-part acid primer)", "traits": {"acid": acid},
			"thick": thick, "thick_half": half,
		}],
		"contacts_by_upper": {"3:etch": [{
			"id": "panel/3:etch", "zone": "panel", "step": 3, "upper": "3:etch", "lower": "0:mild-steel", "place": {},
		}]},
		"lays": [{"layer": "3:etch", "step": 3, "coats": 2, "coats_most": 1}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_acid_primer_twice_too_thick_fails if {
	some v in found(true, film("0.5", true, 2, 2), film("0.75", false, 1.33, 1.33))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "panel/3:etch"
	v.mend == [{"edit": "set", "step": 3, "key": "coats", "value": 1}]
	v.message == "etch (one-part acid primer) comes out at 1 mil dry; it lets in 0.5 mil"
}

test_acid_primer_just_over_half_as_thick_again_has_no_grace if {
	some v in found(true, film("0.5", true, 1.52, 1.52), film("0.75", false, 1.01, 1.01))
	v.grade == "fails"
}

test_acid_primer_exactly_half_as_thick_again_is_a_risk if {
	some v in found(true, film("0.5", true, 1.5, 1.5), film("0.75", false, 1, 1))
	v.grade == "risk"
	v.certainty == "will"
}

test_acid_primer_that_may_be_half_as_thick_again_is_a_risk if {
	some v in found(true, film("0.5", true, 1.2, 2), film("0.75", false, 0.8, 1.33))
	v.grade == "risk"
	v.certainty == "will"
}

test_a_typical_range_makes_it_a_risk_and_says_so if {
	lean := {"source": "typical", "leaned": ["etch.film"]}
	some v in found(
		true,
		object.union(film("0.5", true, 2, 2), lean),
		object.union(film("0.75", false, 1.33, 1.33), lean),
	)
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["etch.film"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_any_other_film_too_thick_is_a_risk if {
	some v in found(false, film("0.5", true, 2, 2), null)
	v.grade == "risk"
	v.certainty == "will"
}

test_a_film_that_may_be_too_thick_may_be if {
	some v in found(false, film("0.5", true, 0.8, 1.2), null)
	v.grade == "risk"
	v.certainty == "may"
}

test_exactly_the_most_is_silent if count(found(false, film("0.5", true, 1, 1), null)) == 0

test_a_film_that_is_not_known_is_silent if count(found(true, null, null)) == 0

test_only_acid_primer_splits_when_half_as_thick_again if {
	{v.grade | some v in found(false, film("0.5", true, 2, 2), film("0.75", false, 1.3, 1.3))} == {"risk"}
}

# A film twice too thick, by how its coats were laid.
offered(lays) := m if {
	vs := rule.verdict with input as {
		"layers": [{"id": "3:etch", "name": "etch", "traits": {"acid": false}, "thick": film("0.5", true, 2, 2), "thick_half": null}],
		"contacts_by_upper": {"3:etch": [{
			"id": "panel/3:etch", "zone": "panel", "step": 3, "upper": "3:etch", "lower": "0:mild-steel", "place": {},
		}]},
		"lays": lays,
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
	some v in vs
	m := v.mend
}

test_it_offers_the_coats_that_stay_within_it if {
	offered([
		{"layer": "2:other", "step": 2, "coats": 4, "coats_most": 1},
		{"layer": "3:etch", "step": 3, "coats": 2, "coats_most": 1},
	]) == [{"edit": "set", "step": 3, "key": "coats", "value": 1}]
}

test_it_offers_nothing_where_fewer_coats_would_not_do if {
	every most in [0, 2, 3] {
		offered([{"layer": "3:etch", "step": 3, "coats": 2, "coats_most": most}]) == []
	}
}
