package guidecoat.adhesion["color-on-acid-primer_test"]

import data.guidecoat.adhesion["color-on-acid-primer"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "solvent basecoat", "lower_kind": "one-part acid primer",
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
	vs := rule.verdict with input as {"contacts_under_color": [c], "zones": [{"name": "panel", "parent": ""}, {"name": "dent", "parent": ""}]}
}

grades(c) := {v.grade | some v in found(c)}

over(kind, more) := contact(object.union({"lower_kind": kind, "lower_traits": {"acid": true}}, more))

test_color_on_acid_primer_fails if grades(over("one-part acid primer", {})) == {"fails"}

test_color_on_wash_primer_fails if grades(over("two-part wash primer", {})) == {"fails"}

test_every_color_and_clear_counts if {
	every kind in ["waterborne basecoat", "mid coat", "single-stage urethane", "single-stage enamel", "lacquer topcoat", "urethane clear", "one-part clear"] {
		grades(over("one-part acid primer", {"upper_kind": kind})) == {"fails"}
	}
}

test_a_card_that_names_it_lets_it_in if grades(over("one-part acid primer", {"card_says": "allows"})) == set()

test_a_list_without_it_does_not if grades(over("one-part acid primer", {"card_says": "unlisted"})) == {"fails"}

test_sanding_it_does_not_help if grades(over("one-part acid primer", {"abraded": true})) == {"fails"}

test_color_on_a_sealer_is_silent if grades(contact({"lower_kind": "urethane sealer", "lower_traits": {"class": "sealer"}})) == set()

test_it_offers_a_sealer_between if {
	some v in found(over("one-part acid primer", {}))
	v.mend == [{
		"edit": "insert", "where": "before", "step": 6,
		"set": {"do": "spray", "product_kind": ["urethane sealer", "urethane surfacer"], "on": ["dent"]},
	}]
}
