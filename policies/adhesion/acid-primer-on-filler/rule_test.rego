package guidecoat.adhesion["acid-primer-on-filler_test"]

import data.guidecoat.adhesion["acid-primer-on-filler"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "one-part acid primer", "lower_kind": "body filler",
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

over(kind) := contact({"lower_kind": kind, "upper_traits": {"acid": true}})

test_acid_primer_on_any_filler_fails if {
	every kind in ["body filler", "fiber filler", "finishing putty", "one-part putty", "plastic repair filler", "polyester surfacer"] {
		grades(over(kind)) == {"fails"}
	}
}

test_wash_primer_fails_too if {
	grades(contact({"upper_kind": "two-part wash primer", "upper_traits": {"acid": true, "two_part": true}})) == {"fails"}
}

test_body_solder_and_seam_sealer_are_no_filler_here if {
	grades(over("body solder")) == set()
	grades(over("seam sealer")) == set()
}

test_other_surfacers_are_not_this_rules_matter if {
	grades(over("urethane surfacer")) == set()
	grades(over("lacquer primer")) == set()
	grades(over("mild steel")) == set()
}

test_a_card_that_names_filler_lets_it_in if {
	grades(contact({"upper_traits": {"acid": true}, "card_says": "allows"})) == set()
}

test_a_primer_without_acid_is_silent if grades(contact({"upper_kind": "epoxy primer", "upper_traits": {"epoxy": true}})) == set()

test_it_offers_epoxy_instead if {
	some v in found(over("body filler"))
	v.mend == [{"edit": "set", "step": 6, "key": "product_kind", "value": ["epoxy primer", "urethane surfacer"]}]
}
