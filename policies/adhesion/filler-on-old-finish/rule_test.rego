package guidecoat.adhesion["filler-on-old-finish_test"]

import data.guidecoat.adhesion["filler-on-old-finish"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "body filler", "lower_kind": "factory finish",
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

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "zones": [{"name": "panel", "parent": ""}, {"name": "dent", "parent": ""}]}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

on(kind, class, two_part, more) := contact(object.union(
	{"lower_kind": kind, "lower_traits": {"class": class, "two_part": two_part}},
	more,
))

reversible := {"lower_traits": {"reversible": true}}

test_on_films_that_soften_again_it_fails if {
	grades(on("aged lacquer", "finish", false, reversible)) == {["fails", "will"]}
	grades(on("lacquer primer", "surfacer", false, reversible)) == {["fails", "will"]}
	grades(on("lacquer topcoat", "color", false, reversible)) == {["fails", "will"]}
	grades(on("one-part clear", "clear", false, reversible)) == {["fails", "will"]}
}

test_a_hardener_does_not_make_a_lacquer_safe if {
	grades(on("lacquer topcoat", "color", true, reversible)) == {["fails", "will"]}
}

test_on_one_part_color_it_fails if {
	grades(on("aged enamel", "finish", false, {})) == {["fails", "will"]}
	grades(on("single-stage enamel", "color", false, {})) == {["fails", "will"]}
	grades(on("solvent basecoat", "color", false, {})) == {["fails", "will"]}
}

test_on_powder_coat_it_fails if grades(on("powder coat", "finish", true, {})) == {["fails", "will"]}

test_on_two_part_color_and_clear_it_is_a_risk if {
	grades(on("factory finish", "finish", true, {})) == {["risk", "will"]}
	grades(on("two-part refinish", "finish", true, {})) == {["risk", "will"]}
	grades(on("urethane clear", "clear", true, {})) == {["risk", "will"]}
	grades(on("single-stage urethane", "color", true, {})) == {["risk", "will"]}
}

test_sanding_it_does_not_change_that_for_body_filler if {
	grades(on("factory finish", "finish", true, {"abraded": true})) == {["risk", "will"]}
}

test_on_seam_sealer_it_is_a_risk if grades(on("seam sealer", "seam", false, {})) == {["risk", "will"]}

test_on_an_unknown_finish_it_may_fail if grades(on("unknown finish", "finish", false, {})) == {["risk", "may"]}

putty(kind, class, more) := on(kind, class, true, object.union({"upper_kind": "finishing putty"}, more))

test_finishing_putty_on_abraded_factory_finish_is_advice if {
	grades(putty("factory finish", "finish", {"abraded": true})) == {["advice", "will"]}
	grades(putty("two-part refinish", "finish", {"abraded": true})) == {["advice", "will"]}
	grades(putty("urethane clear", "clear", {"abraded": true})) == {["advice", "will"]}
}

test_finishing_putty_on_gloss_is_a_risk if grades(putty("factory finish", "finish", {})) == {["risk", "will"]}

test_finishing_putty_on_lacquer_fails if {
	grades(on("aged lacquer", "finish", false, object.union(reversible, {"upper_kind": "finishing putty", "abraded": true}))) == {["fails", "will"]}
}

test_finishing_putty_on_powder_coat_fails if grades(putty("powder coat", "finish", {"abraded": true})) == {["fails", "will"]}

test_one_part_putty_belongs_to_lacquer if {
	grades(on("lacquer primer", "surfacer", false, object.union(reversible, {"upper_kind": "one-part putty"}))) == set()
}

test_one_part_putty_on_enamel_fails if {
	grades(on("aged enamel", "finish", false, {"upper_kind": "one-part putty"})) == {["fails", "will"]}
}

test_a_card_that_names_the_finish_lets_it_in if {
	grades(on("factory finish", "finish", true, {"card_says": "allows"})) == set()
	grades(on("aged lacquer", "finish", false, object.union(reversible, {"card_says": "allows"}))) == set()
}

test_a_list_without_it_does_not if grades(on("factory finish", "finish", true, {"card_says": "unlisted"})) == {["risk", "will"]}

test_primers_are_no_old_finish if {
	every kind in ["e-coat", "factory primer", "gelcoat"] {
		grades(on(kind, "finish", true, {})) == set()
	}
	every kind in ["epoxy primer", "waterborne primer", "rust converter", "one-part acid primer"] {
		grades(on(kind, "primer", false, {})) == set()
	}
	grades(on("urethane surfacer", "surfacer", true, {})) == set()
	grades(on("body filler", "filler", true, {})) == set()
}

test_bare_metal_is_no_old_finish if grades(on("mild steel", "substrate", false, {"lower_substrate": true})) == set()

test_polyester_surfacer_and_body_solder_are_not_this_rules_matter if {
	grades(on("aged lacquer", "finish", false, object.union(reversible, {"upper_kind": "polyester surfacer"}))) == set()
	grades(on("factory finish", "finish", true, {"upper_kind": "body solder"})) == set()
}

test_it_offers_bare_metal if {
	some v in found(on("factory finish", "finish", true, {}))
	v.mend == [{
		"edit": "insert", "where": "before", "step": 6,
		"set": {"do": "strip", "tool": "sander", "grit": "P80", "on": ["dent"]},
	}]
}

test_underbody_coating_is_a_finish_and_never_hard_enough_to_glaze if {
	grades(on("underbody coating", "coating", true, {})) == {["risk", "will"]}
	grades(putty("underbody coating", "coating", {"abraded": true})) == {["risk", "will"]}
	grades(on("underbody coating", "coating", false, {})) == {["fails", "will"]}
}
