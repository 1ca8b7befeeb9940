package guidecoat.porosity["color-on-exposed-filler_test"]

import data.guidecoat.porosity["color-on-exposed-filler"] as rule

contact(upper, lower, more) := object.union(
	{
		"id": "dent/8:x", "zone": "dent", "step": 8, "upper": "8:x", "lower": "5:y", "upper_name": "x", "lower_name": "y",
		"upper_traits": {"class": upper}, "lower_kind": lower, "lower_traits": {"class": "other"},
		"under_kind": "epoxy primer", "left_thin": null, "card_says": "silent", "place": {},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {
		"contacts": [c],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
		"zones": [
			{"name": "dent", "parent": ""},
			{"name": "panel", "parent": ""},
			{"name": "rub-through", "parent": "dent"},
			{"name": "dent cut to body filler", "parent": "dent"},
		],
	}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

drinking := [
	"body filler", "fiber filler", "finishing putty", "one-part putty", "plastic repair filler",
	"polyester surfacer",
]

test_color_on_every_filler_putty_and_polyester_surfacer_fails if {
	every kind in drinking {
		grades(contact("color", kind, {})) == {["fails", "will"]}
	}
}

test_clear_on_every_filler_putty_and_polyester_surfacer_fails if {
	every kind in drinking {
		grades(contact("clear", kind, {})) == {["fails", "will"]}
	}
}

test_primer_surfacer_and_sealer_on_filler_are_silent if {
	every class in ["primer", "surfacer", "sealer", "filler", "seam", "promoter", "coating"] {
		found(contact(class, "body filler", {})) == set()
	}
}

test_color_on_sealed_filler_is_silent if {
	every kind in ["epoxy primer", "urethane surfacer", "epoxy surfacer", "urethane sealer", "lacquer primer", "solvent basecoat"] {
		found(contact("color", kind, {"under_kind": "body filler"})) == set()
	}
}

test_color_on_solder_and_seam_sealer_is_not_this_rules_matter if {
	every kind in ["body solder", "seam sealer", "mild steel", "fiberglass"] {
		found(contact("color", kind, {})) == set()
	}
}

test_a_card_that_allows_it_changes_nothing if {
	grades(contact("color", "body filler", {"card_says": "allows"})) == {["fails", "will"]}
}

left(lo, hi, leaned) := {
	"sense": "least", "open": false, "leaned": leaned, "source": "limit", "graced": false, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "0.3 mil", "shown": {"lo": 0.3, "hi": 0.3, "unit": "mil"}},
	"limit": {"text": "0.5 mil", "shown": {"lo": 0.5, "hi": 0.5, "unit": "mil"}},
}

thin(film, under) := contact("color", "urethane surfacer", {"left_thin": film, "under_kind": under})

test_film_left_under_half_a_mil_over_filler_counts_as_cut_through if {
	every kind in drinking {
		grades(thin(left(0.6, 0.6, []), kind)) == {["fails", "will"]}
	}
}

test_film_left_just_under_half_a_mil_has_no_grace if grades(thin(left(0.99, 0.99, []), "body filler")) == {["fails", "will"]}

test_film_left_of_half_a_mil_is_silent if found(thin(left(1, 1, []), "body filler")) == set()

test_film_left_perhaps_under_half_a_mil_may_be if grades(thin(left(0.6, 2, []), "body filler")) == {["risk", "may"]}

test_film_left_known_only_from_typical_numbers_may_be if {
	some v in found(thin(left(0.6, 0.6, ["quick.film"]), "body filler"))
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["quick.film"]
	contains(v.message, "typical")
}

test_thin_film_over_primer_is_silent if found(thin(left(0.6, 0.6, []), "epoxy primer")) == set()

test_thin_film_of_unknown_thickness_is_silent if {
	found(thin(object.union(left(0, 0, []), {"open": true, "over": {"lo": 0, "hi": null}}), "body filler")) == set()
}

test_clear_over_thin_color_on_filler_is_told_once_at_the_color if {
	c := contact("clear", "solvent basecoat", {
		"lower_traits": {"class": "color"}, "under_kind": "body filler", "left_thin": left(0.6, 0.6, []),
	})
	found(c) == set()
}

test_surfacer_over_a_thin_film_is_silent if {
	c := contact("surfacer", "epoxy primer", {"left_thin": left(0.6, 0.6, []), "under_kind": "body filler"})
	found(c) == set()
}

test_each_zone_is_judged_by_what_lies_there if {
	vs := rule.verdict with input as {"contacts": [
		contact("color", "urethane sealer", {"id": "panel/8:x", "zone": "panel"}),
		contact("color", "body filler", {"id": "rub-through/8:x", "zone": "rub-through"}),
	]}
	[v.on | some v in vs] == ["rub-through/8:x"]
}

test_a_sealer_is_offered_for_the_place if {
	some v in found(contact("color", "body filler", {"zone": "rub-through"}))
	v.mend[0] == {
		"edit": "insert", "where": "before", "step": 8,
		"set": {"do": "spray", "product_kind": ["urethane sealer", "epoxy sealer", "epoxy primer"], "then_wait": "1 h", "on": ["rub-through"]},
	}
}

test_a_cut_without_a_name_is_reached_through_its_zone if {
	some v in found(contact("color", "body filler", {"zone": "dent cut to body filler"}))
	v.mend[0].set.on == ["dent"]
}

test_color_on_filler_is_told_once_whatever_lies_below if {
	count(found(contact("color", "body filler", {"left_thin": left(0.6, 0.6, []), "under_kind": "finishing putty"}))) == 1
}
