package guidecoat.adhesion["acid-primer-on-paint_test"]

import data.guidecoat.adhesion["acid-primer-on-paint"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "one-part acid primer", "lower_kind": "factory finish",
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

grades(c) := {v.grade | some v in found(c)}

over(kind, more) := contact(object.union({"lower_kind": kind, "upper_traits": {"acid": true}}, more))

test_on_a_cured_finish_it_is_a_risk if {
	every kind in ["factory finish", "two-part refinish", "e-coat", "epoxy primer", "urethane surfacer", "seam sealer", "unknown finish", "rust converter"] {
		grades(over(kind, {"lower_existing": true})) == {"risk"}
	}
}

test_on_a_film_that_softens_again_it_fails if {
	every kind in ["aged lacquer", "lacquer primer", "lacquer topcoat", "one-part clear"] {
		grades(over(kind, {"lower_traits": {"reversible": true}})) == {"fails"}
	}
}

test_over_itself_it_is_laid_again if {
	grades(over("one-part acid primer", {"lower_traits": {"acid": true}})) == set()
	grades(over("two-part wash primer", {"lower_traits": {"acid": true}})) == set()
}

test_on_bare_metal_it_is_at_home if {
	grades(over("mild steel", {"lower_substrate": true, "lower_traits": {"metal": true}})) == set()
}

test_on_bare_plastic_another_rule_speaks if {
	grades(over("bare plastic", {"lower_substrate": true, "lower_traits": {"plastic": true}})) == set()
}

test_on_filler_another_rule_speaks if {
	every kind in ["body filler", "fiber filler", "finishing putty", "one-part putty", "polyester surfacer"] {
		grades(over(kind, {})) == set()
	}
}

test_on_body_solder_it_is_on_metal if grades(over("body solder", {})) == set()

test_a_card_that_names_the_paint_lets_it_in if grades(over("factory finish", {"card_says": "allows"})) == set()

test_a_list_without_it_does_not if grades(over("factory finish", {"card_says": "unlisted"})) == {"risk"}

test_an_epoxy_there_is_silent if grades(contact({"upper_kind": "epoxy primer", "upper_traits": {"epoxy": true}})) == set()

test_it_offers_a_primer_that_may_lie_on_paint_or_the_metal if {
	some v in found(over("factory finish", {}))
	v.mend[0] == {
		"edit": "set", "step": 6, "key": "product_kind",
		"value": ["epoxy primer", "waterborne primer", "urethane surfacer"],
	}
	v.mend[1].set.do == "strip"
}
