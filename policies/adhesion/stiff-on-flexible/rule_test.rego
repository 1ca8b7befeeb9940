package guidecoat.adhesion["stiff-on-flexible_test"]

import data.guidecoat.adhesion["stiff-on-flexible"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "epoxy primer", "lower_kind": "bare plastic",
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

found(c) := mixed(c, [])

mixed(c, mixes) := vs if {
	vs := rule.verdict with input as {
		"contacts": [c], "mixes": mixes, "zones": [],
		"cards": {"upper": {"goes_on": []}, "for plastic": {"goes_on": ["bare plastic"]}},
		"layers_by_id": {
			"0:bare plastic": {"traits": {"class": "substrate"}}, "2:tie": {"traits": {"class": "promoter"}},
			"3:tie": {"traits": {"class": "promoter"}}, "3:flexible": {"traits": {"class": "primer"}},
		},
	}
}

grades(c) := {v.grade | some v in found(c)}

stiff := {"epoxy primer": {"epoxy": true}, "epoxy sealer": {"epoxy": true}, "polyester surfacer": {}, "body filler": {}, "fiber filler": {}, "finishing putty": {}}

on_plastic(kind, more) := contact(object.union(
	{
		"upper_kind": kind, "upper_traits": stiff[kind], "lower_kind": "bare plastic", "lower_name": "TPO",
		"lower_traits": {"class": "substrate", "plastic": true}, "lower_step": 0, "lower_substrate": true,
		"substrate": "bare plastic", "films": ["0:bare plastic"], "zone_facts": {"olefin": true, "plastic": "TPO"},
	},
	more,
))

test_stiff_films_on_an_olefin_are_a_risk if {
	every kind, _ in stiff {
		grades(on_plastic(kind, {})) == {"risk"}
	}
}

test_stiff_films_on_pur_are_a_risk if {
	grades(on_plastic("epoxy primer", {"zone_facts": {"olefin": false, "plastic": "PUR"}})) == {"risk"}
}

test_stiff_plastics_are_silent if {
	every plastic in ["ABS", "PC", "nylon", "SMC"] {
		grades(on_plastic("epoxy primer", {"zone_facts": {"olefin": false, "plastic": plastic}})) == set()
	}
}

test_a_plastic_not_said_is_silent if grades(on_plastic("epoxy primer", {"zone_facts": {"olefin": false, "plastic": "unknown"}})) == set()

test_a_film_that_is_itself_flexible_is_silent if grades(on_plastic("epoxy primer", {"upper_traits": {"flexible": true}})) == set()

test_a_card_that_names_the_plastic_lets_it_in if grades(on_plastic("epoxy primer", {"card_says": "allows"})) == set()

test_films_that_are_not_stiff_are_silent if {
	every kind in ["urethane surfacer", "adhesion promoter", "solvent basecoat", "seam sealer"] {
		c := object.union(on_plastic("body filler", {}), {"upper_kind": kind})
		grades(c) == set()
	}
}

through(films, more) := on_plastic("epoxy primer", object.union(
	{
		"lower": "2:tie", "lower_kind": "adhesion promoter", "lower_step": 2, "lower_substrate": false, "films": films,
		"lower_traits": {"class": "promoter", "plastic": false},
	},
	more,
))

test_a_promoter_between_does_not_make_it_bend if {
	some v in found(through(["0:bare plastic", "2:tie"], {}))
	v.grade == "risk"
	v.message == "upper is stiff, and the plastic beneath it gives"
}

test_two_coats_of_promoter_do_not_either if grades(through(["0:bare plastic", "2:tie", "3:tie"], {})) == {"risk"}

test_promoter_over_a_flexible_primer_is_silent if grades(through(["0:bare plastic", "3:flexible", "2:tie"], {})) == set()

test_promoter_on_a_stiff_plastic_is_silent if {
	grades(through(["0:bare plastic", "2:tie"], {"zone_facts": {"olefin": false, "plastic": "ABS"}})) == set()
}

test_promoter_on_painted_metal_is_silent if grades(through(["2:tie"], {"substrate": "mild steel"})) == set()

test_a_card_that_names_plastic_lets_it_in_over_promoter_too if {
	grades(through(["0:bare plastic", "2:tie"], {"upper_card": "for plastic"})) == set()
}

on_film(more) := on_plastic("epoxy primer", object.union(
	{"lower_kind": "epoxy primer", "lower_substrate": false, "lower_traits": {"class": "primer", "plastic": false}, "substrate": "mild steel"},
	more,
))

test_on_seam_sealer_it_is_a_risk if {
	grades(on_film({"lower_kind": "seam sealer", "lower_traits": {"class": "seam"}})) == {"risk"}
}

test_on_a_film_marked_flexible_it_is_a_risk if grades(on_film({"lower_traits": {"flexible": true}})) == {"risk"}

test_on_an_ordinary_film_it_is_silent if grades(on_film({})) == set()

test_a_card_that_names_seam_sealer_lets_it_in if grades(on_film({"lower_kind": "seam sealer", "card_says": "allows"})) == set()

test_flex_additive_in_the_cup_makes_it_bend if {
	count(mixed(on_plastic("epoxy primer", {}), [{"layer": "6:upper", "additive_kind": "flex additive"}])) == 0
}

test_flex_additive_in_one_of_two_cups_does_not if {
	count(mixed(on_plastic("epoxy primer", {}), [
		{"layer": "6:upper", "additive_kind": "flex additive"},
		{"layer": "6:upper", "additive_kind": ""},
	])) == 1
}

test_filler_for_plastic_is_offered_for_filler if {
	some v in found(on_plastic("body filler", {}))
	v.mend == [{"edit": "set", "step": 6, "key": "product_kind", "value": ["plastic repair filler"]}]
}

test_another_primer_or_flex_additive_is_offered_for_a_primer if {
	some v in found(on_plastic("epoxy primer", {}))
	[e.key | some e in v.mend] == ["product_kind", "additive"]
}

test_plastic_and_promoter_are_told_once if {
	some v in found(on_plastic("epoxy primer", {"lower_traits": {"class": "substrate", "plastic": true, "flexible": true}}))
	contains(v.message, "the plastic beneath it gives")
	some w in found(through(["0:bare plastic", "2:tie"], {"lower_traits": {"class": "promoter", "plastic": false, "flexible": true}}))
	contains(w.message, "the plastic beneath it gives")
}

test_it_offers_urethane_first_and_then_the_additive if {
	some v in found(on_plastic("epoxy primer", {}))
	[e.value | some e in v.mend] == [["urethane surfacer", "urethane sealer"], "flex additive"]
}
