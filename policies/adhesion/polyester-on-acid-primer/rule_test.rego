package guidecoat.adhesion["polyester-on-acid-primer_test"]

import data.guidecoat.adhesion["polyester-on-acid-primer"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "polyester surfacer", "lower_kind": "one-part acid primer",
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

acid := {"lower_traits": {"class": "primer", "acid": true}}

over(kind, more) := contact(object.union(object.union({"lower_kind": kind}, acid), more))

test_on_one_part_acid_primer_it_fails if {
	some v in found(over("one-part acid primer", {}))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "dent/6:upper"
	v.step == 6
	v.zone == "dent"
	v.rests == {"upper": "6:upper", "lower": "3:lower"}
	v.leaned == []
}

test_on_two_part_wash_primer_it_fails if grades(over("two-part wash primer", {"lower_traits": {"two_part": true}})) == {"fails"}

test_acid_primer_that_was_there_before_the_sheet_is_no_better if {
	c := over("one-part acid primer", {"lower": "0.1:one-part acid primer", "lower_step": 0, "lower_existing": true, "gap_applies": false})
	grades(c) == {"fails"}
	some v in found(c)
	count([e | some e in v.mend; e.edit == "set"]) == 0
}

test_scuffing_the_acid_primer_does_not_help if grades(over("one-part acid primer", {"abraded": true})) == {"fails"}

test_a_card_that_lists_other_films_does_not_help if grades(over("one-part acid primer", {"card_says": "unlisted"})) == {"fails"}

test_a_card_that_forbids_it_is_no_excuse if grades(over("one-part acid primer", {"card_says": "forbids"})) == {"fails"}

test_a_card_that_names_the_acid_primer_lets_it_in if {
	grades(over("one-part acid primer", {"card_says": "allows"})) == set()
	grades(over("two-part wash primer", {"card_says": "allows"})) == set()
}

test_acid_primer_deeper_down_is_no_matter if {
	c := contact({"lower_kind": "epoxy primer", "lower_traits": {"class": "primer", "epoxy": true}, "films": ["0:mild steel", "2:etch", "3:lower"]})
	grades(c) == set()
}

test_a_place_cut_to_the_acid_primer_counts if {
	c := over("one-part acid primer", {"zone": "rub-through", "id": "rub-through/6:upper", "abraded": true, "zone_facts": {"cut": true}})
	grades(c) == {"fails"}
}

test_a_place_where_the_film_is_stripped_again_counts if grades(over("one-part acid primer", {"stripped": true})) == {"fails"}

test_every_zone_is_judged_by_what_lies_there if {
	vs := rule.verdict with input as {"contacts": [
		over("one-part acid primer", {"id": "a/6:upper", "zone": "a"}),
		over("two-part wash primer", {"id": "b/6:upper", "zone": "b"}),
		contact({"id": "c/6:upper", "zone": "c", "lower_kind": "epoxy primer"}),
		contact({"id": "d/6:upper", "zone": "d", "lower_kind": "mild steel", "lower_traits": {"metal": true, "steel": true}, "lower_substrate": true}),
	]}
	{v.on | some v in vs} == {"a/6:upper", "b/6:upper"}
}

test_metal_treated_with_acid_is_no_acid_primer if {
	c := contact({"lower_kind": "mild steel", "lower_substrate": true, "lower_traits": {"class": "substrate", "metal": true, "steel": true}})
	grades(c) == set()
}

test_other_primers_beneath_are_silent if {
	some kind in ["epoxy primer", "waterborne primer", "rust converter", "weld-through primer", "urethane surfacer", "e-coat"]
	grades(contact({"lower_kind": kind})) == set()
}

test_it_offers_epoxy_in_its_place_or_bare_metal if {
	some v in found(over("one-part acid primer", {"wipes": [{"step": 5}]}))
	v.mend == [
		{"edit": "set", "step": 3, "key": "product_kind", "value": ["epoxy primer"]},
		{"edit": "insert", "where": "before", "step": 5, "set": {"do": "strip", "tool": "sander", "grit": "P80", "on": ["dent"]}},
		{"edit": "insert", "where": "before", "step": 6, "set": {"do": "strip", "tool": "sander", "grit": "P80", "on": ["dent"]}},
	]
}

test_the_message_names_both if {
	some v in found(over("one-part acid primer", {"upper_name": "easy-sand (polyester surfacer)", "lower_name": "etch (one-part acid primer)"}))
	v.message == "easy-sand (polyester surfacer) lies on etch (one-part acid primer)"
}

test_what_is_no_polyester_surfacer_is_not_this_rules_matter if {
	every kind in ["body filler", "finishing putty", "urethane surfacer", "epoxy surfacer", "lacquer primer", "epoxy primer"] {
		grades(over("one-part acid primer", {"upper_kind": kind})) == set()
	}
}
