package guidecoat.adhesion["strong-solvent-on-reversible_test"]

import data.guidecoat.adhesion["strong-solvent-on-reversible"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "urethane surfacer", "lower_kind": "aged lacquer",
		"upper_traits": {"class": "", "acid": false, "epoxy": false, "urethane": false, "two_part": false, "flexible": false, "waterborne": false},
		"lower_traits": {
			"class": "", "acid": false, "epoxy": false, "urethane": false, "reversible": false, "metal": false,
			"steel": false, "zinc": false, "plastic": false, "two_part": false, "flexible": false, "wet_on_wet": false,
		},
		"lower_step": 3, "lower_existing": false, "lower_substrate": false, "lower_pore": false,
		"card_says": "silent", "abraded": false, "wipes": [], "films": [], "substrate": "mild steel", "inspected": [],
		"gap_applies": true, "zone_facts": {"cut": false, "role": "", "olefin": false, "plastic": "unknown"},
		"place": {"line": 41},
	},
	more,
)

# Two mil, in mil.
limits := {"light_coat": {"measure": {"text": "2 mil", "lo": 2, "hi": 2}}, "grace": {"low": 0.9, "high": 1.1}}

found(c) := laid(c, [])

laid(c, lays) := vs if {
	vs := rule.verdict with input as {
		"contacts": [c], "lays": lays, "limits": limits,
		"zones": [{"name": "panel", "parent": ""}, {"name": "dent", "parent": ""}],
	}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

over(upper, lower, more) := contact(object.union(
	{"upper_kind": upper, "lower_kind": lower, "lower_traits": {"reversible": true}},
	more,
))

strong := {
	"solvent basecoat", "mid coat", "single-stage urethane", "single-stage enamel", "urethane surfacer",
	"urethane sealer", "urethane clear", "polyester surfacer",
}

soft := {"lacquer primer", "lacquer topcoat", "aged lacquer", "one-part clear"}

test_every_strong_film_on_every_soft_film_fails if {
	every upper in strong {
		every lower in soft {
			grades(over(upper, lower, {})) == {["fails", "will"]}
		}
	}
}

test_one_part_clear_on_lacquer_fails if {
	grades(over("one-part clear", "lacquer topcoat", {})) == {["fails", "will"]}
	grades(over("one-part clear", "aged lacquer", {})) == {["fails", "will"]}
}

test_lacquer_over_another_soft_kind_fails if {
	grades(over("lacquer topcoat", "lacquer primer", {})) == {["fails", "will"]}
	grades(over("lacquer primer", "lacquer topcoat", {})) == {["fails", "will"]}
	grades(over("lacquer topcoat", "one-part clear", {})) == {["fails", "will"]}
}

test_lacquer_on_aged_lacquer_is_a_risk if {
	grades(over("lacquer topcoat", "aged lacquer", {})) == {["risk", "will"]}
	grades(over("lacquer primer", "aged lacquer", {})) == {["risk", "will"]}
}

test_a_soft_film_over_its_own_kind_is_silent if {
	grades(over("lacquer topcoat", "lacquer topcoat", {})) == set()
	grades(over("lacquer primer", "lacquer primer", {})) == set()
	grades(over("one-part clear", "one-part clear", {})) == set()
}

test_waterborne_films_are_silent if {
	every lower in soft {
		grades(over("waterborne basecoat", lower, {"upper_traits": {"waterborne": true}})) == set()
		grades(over("waterborne primer", lower, {"upper_traits": {"waterborne": true}})) == set()
	}
}

test_films_the_table_does_not_name_are_silent if {
	every upper in ["seam sealer", "body filler", "one-part acid primer", "adhesion promoter", "chip guard"] {
		grades(over(upper, "aged lacquer", {})) == set()
	}
}

test_a_film_that_does_not_soften_again_is_silent if {
	grades(contact({"lower_kind": "two-part refinish"})) == set()
}

test_a_card_that_names_it_lets_it_in if {
	grades(over("lacquer topcoat", "lacquer primer", {"card_says": "allows"})) == set()
	grades(over("urethane surfacer", "aged lacquer", {"card_says": "allows"})) == set()
}

test_a_list_without_it_does_not if grades(over("urethane surfacer", "aged lacquer", {"card_says": "unlisted"})) == {["fails", "will"]}

test_a_solvent_rub_does_not_excuse_it if grades(over("urethane surfacer", "aged lacquer", {"inspected": ["solvent rub"]})) == {["fails", "will"]}

epoxy(lower) := over("epoxy primer", lower, {"upper_traits": {"epoxy": true}})

# A lay of wet film lo - hi mil against two.
lay(id, lo, hi) := {
	"id": id, "layer": "6:upper", "traits": {"epoxy": true},
	"light_coat": {
		"measured": {"lo": lo, "hi": hi}, "limit": {"lo": 2, "hi": 2}, "sense": "most", "open": false,
		"source": "limit", "leaned": [], "graced": false, "over": {"lo": lo / 2, "hi": hi / 2},
	},
}

unwritten := {"id": "6", "layer": "6:upper", "traits": {"epoxy": true}, "light_coat": null}

graded(c, lays) := {[v.grade, v.certainty] | some v in laid(c, lays)}

test_light_epoxy_is_advice if {
	every lower in soft {
		graded(epoxy(lower), [lay("6", 2, 2)]) == {["advice", "will"]}
	}
}

test_wetter_epoxy_is_a_risk if graded(epoxy("aged lacquer"), [lay("6", 2.1, 2.1)]) == {["risk", "will"]}

test_epoxy_that_may_be_wetter_is_a_risk_that_may_be if {
	graded(epoxy("aged lacquer"), [lay("6", 1.5, 2.5)]) == {["risk", "may"]}
}

test_epoxy_of_no_written_wet_film_is_a_risk if {
	graded(epoxy("aged lacquer"), [unwritten]) == {["risk", "will"]}
}

test_one_wet_coat_among_light_ones_is_a_risk if {
	graded(epoxy("aged lacquer"), [lay("6", 1.5, 1.5), lay("7", 3, 3)]) == {["risk", "will"]}
}

test_two_light_steps_are_advice if {
	graded(epoxy("aged lacquer"), [lay("6", 1.5, 1.5), lay("7", 2, 2)]) == {["advice", "will"]}
}

test_another_epoxy_elsewhere_does_not_count if {
	graded(epoxy("aged lacquer"), [lay("6", 1.5, 1.5), object.union(lay("9", 4, 4), {"layer": "9:other"})]) == {["advice", "will"]}
}

test_epoxy_that_its_card_lets_on_is_silent if {
	graded(object.union(epoxy("aged lacquer"), {"card_says": "allows"}), [unwritten]) == set()
}

test_it_offers_a_barrier_or_bare_metal if {
	some v in found(over("urethane surfacer", "aged lacquer", {}))
	v.mend == [
		{
			"edit": "insert", "where": "before", "step": 6,
			"set": {"do": "spray", "product_kind": ["waterborne primer", "epoxy primer"], "on": ["dent"]},
		},
		{"edit": "insert", "where": "before", "step": 6, "set": {"do": "strip", "tool": "sander", "grit": "P80", "on": ["dent"]}},
	]
}

test_a_wet_film_open_upward_is_no_light_coat if {
	open := object.union(lay("6", 1, 1), {"light_coat": object.union(lay("6", 1, 1).light_coat, {"open": true})})
	graded(epoxy("aged lacquer"), [open]) == {["risk", "will"]}
}
