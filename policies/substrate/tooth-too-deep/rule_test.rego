package guidecoat.substrate["tooth-too-deep_test"]

import data.guidecoat.substrate["tooth-too-deep"] as rule

# Medians in µm, ISO 6344 as 4-reference gives them.
micron := {"P16": 1324, "P24": 764, "P30": 642, "P36": 538, "P40": 425, "P60": 269, "P80": 201, "P120": 125, "P180": 82}

measure(grade) := {
	"lo": micron[grade], "hi": micron[grade], "open": false, "text": grade,
	"shown": {"lo": micron[grade], "hi": micron[grade], "unit": "µm"},
}

limits := {
	"metal_steel_coarse": {"measure": measure("P36")},
	"metal_filler_coarse": {"measure": measure("P24")},
	"metal_aluminum_coarse": {"measure": measure("P80")},
	"metal_galvanized_coarse": {"measure": measure("P180")},
	"metal_steel_fine": {"measure": {"text": "P180"}},
	"metal_filler_fine": {"measure": {"text": "P80"}},
	"metal_aluminum_fine": {"measure": {"text": "P320"}},
	"metal_stainless_fine": {"measure": {"text": "P180"}},
	"metal_galvanized_fine": {"measure": {"text": "P320"}},
}

grit(grade) := {"name": grade, "pad": false, "microns": measure(grade)}

contact(g, more) := object.union(
	{
		"id": "panel/4:grey", "zone": "panel", "step": 4, "upper": "4:grey", "lower": "0:metal",
		"upper_name": "grey", "lower_name": "the metal", "upper_kind": "epoxy primer", "lower_kind": "mild steel",
		"upper_traits": {"acid": false}, "lower_traits": {"steel": true, "zinc": false},
		"stripped": false, "wipes": [], "place": {},
		"tooth": {
			"by": "abrasion", "blast": false, "grit": g, "finest": g,
			"fine_card": null, "coarse_card": null, "depth": null,
		},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts_on_metal": [c], "limits": limits}
}

breaks(c) if {
	some v in found(c)
	v.grade == "risk"
	v.certainty == "will"
}

filler := {"upper_kind": "fiber filler"}

test_steel_coarser_than_P36_is_a_risk if {
	breaks(contact(grit("P30"), {}))
	found(contact(grit("P36"), {})) == set()
}

test_steel_under_filler_may_be_as_coarse_as_P24 if {
	found(contact(grit("P24"), filler)) == set()
	breaks(contact(grit("P16"), filler))
}

test_aluminum_and_stainless_coarser_than_P80_are_a_risk if {
	every metal in ["aluminum", "stainless steel"] {
		breaks(contact(grit("P60"), {"lower_kind": metal, "lower_traits": {"steel": false}}))
		found(contact(grit("P80"), {"lower_kind": metal, "lower_traits": {"steel": false}})) == set()
	}
}

test_galvanized_coarser_than_P180_is_a_risk if {
	zinc := {"lower_kind": "galvanized steel", "lower_traits": {"steel": false, "zinc": true}}
	breaks(contact(grit("P120"), zinc))
	found(contact(grit("P180"), zinc)) == set()
}

comparison(sense, lo, hi, leaned) := {
	"sense": sense, "open": false, "leaned": leaned, "source": "card", "graced": false, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "1 mil", "shown": {"lo": 1, "hi": 1, "unit": "mil"}},
	"limit": {"text": "1.3 mil", "shown": {"lo": 1.3, "hi": 1.3, "unit": "mil"}},
}

depth(lo, hi) := {"tooth": {"depth": comparison("least", lo, hi, [])}}

# P80 by hand: 201 µm / 6 = 33.5 µm = 1.32 mil of furrow, 1 mil of film over it: 0.76.
test_film_less_than_the_scratch_is_deep_is_a_risk if {
	breaks(contact(grit("P80"), depth(0.76, 0.76)))
	found(contact(grit("P80"), depth(1, 1))) == set()
}

test_film_perhaps_less_than_the_scratch_is_deep_may_be if {
	some v in found(contact(grit("P80"), depth(0.76, 1.5)))
	v.certainty == "may"
}

test_film_known_only_from_its_kind_may_be if {
	some v in found(contact(grit("P80"), {"tooth": {"depth": comparison("least", 0.7, 0.8, ["grey.film"])}}))
	v.certainty == "may"
	v.leaned == ["grey.film"]
	contains(v.message, "typical")
}

test_film_less_than_the_blast_profile_and_a_mil_is_a_risk if {
	some v in found(contact(null, {"tooth": {"by": "grit blast", "blast": true, "depth": comparison("least", 0.5, 0.5, [])}}))
	contains(v.message, "blast profile")
	v.mend == []
}

test_blast_has_no_grade_to_be_too_coarse if found(contact(grit("P16"), {"tooth": {"by": "grit blast", "blast": true}})) == set()

test_films_that_are_stripped_off_again_are_not_judged if {
	found(contact(grit("P24"), {"stripped": true})) == set()
	found(contact(grit("P80"), object.union(depth(0.5, 0.5), {"stripped": true}))) == set()
}

test_too_coarse_and_too_thin_is_one_finding if {
	vs := found(contact(grit("P24"), depth(0.3, 0.3)))
	count(vs) == 1
	some v in vs
	contains(v.message, "coarsest")
}

test_the_cards_coarse_end_replaces_the_table if {
	some v in found(contact(grit("P40"), {"tooth": {"coarse_card": comparison("most", 2.1, 2.1, [])}}))
	contains(v.message, "as its card says")
	found(contact(grit("P24"), {"tooth": {"coarse_card": comparison("most", 0.9, 0.9, [])}})) == set()
}

test_unknown_grade_is_silent if found(contact(null, {})) == set()

test_body_solder_is_exempt if found(contact(grit("P16"), {"upper_kind": "body solder"})) == set()

test_depth_of_a_scratch_of_no_known_grade_is_told_as_a_scratch if {
	some v in found(contact(null, depth(0.5, 0.5)))
	contains(v.message, "the scratch wants")
}

worn(names) := [grit(name) | some name in names]

test_the_first_grade_let_in_is_offered_as_paper_and_as_a_sanding_more if {
	g := object.union(grit("P24"), {"step": 2, "do": "sand"})
	c := contact(g, {"refine": worn(["P30", "P36", "P40"]), "tooth": {"grit": g}})
	some v in found(c)
	v.mend == [
		{"edit": "set", "step": 2, "key": "grit", "value": "P36"},
		{"edit": "insert", "where": "before", "step": 4, "set": {"do": "sand", "grit": "P36"}},
	]
}

test_under_a_thin_film_the_finest_that_grips_is_offered if {
	g := object.union(grit("P80"), {"step": 2, "do": "strip"})
	steel := object.union(limits, {"metal_steel_fine": {"measure": measure("P120")}})
	c := contact(g, {"refine": worn(["P120", "P180"]), "tooth": {"grit": g, "by": "sander", "depth": comparison("least", 0.7, 0.7, [])}})
	vs := rule.verdict with input as {"contacts_on_metal": [c], "limits": steel}
	some v in vs
	v.mend == [{"edit": "insert", "where": "before", "step": 4, "set": {"do": "sand", "grit": "P120"}}]
}

test_where_no_grade_takes_it_far_enough_the_finest_there_is_is_offered_for_a_start if {
	g := object.union(grit("P16"), {"step": 2, "do": "strip"})
	some v in found(contact(g, {"refine": worn(["P24", "P30"]), "tooth": {"grit": g, "by": "sander"}}))
	v.mend == [{"edit": "insert", "where": "before", "step": 4, "set": {"do": "sand", "grit": "P30"}}]
}

test_the_cards_finest_holds_where_it_has_one if {
	g := object.union(grit("P80"), {"step": 2, "do": "strip"})
	card := {"limit": measure("P120")}
	tooth := {"grit": g, "by": "sander", "fine_card": card, "depth": comparison("least", 0.7, 0.7, [])}
	some v in found(contact(g, {"refine": worn(["P120", "P180"]), "tooth": tooth}))
	v.mend == [{"edit": "insert", "where": "before", "step": 4, "set": {"do": "sand", "grit": "P120"}}]
}

test_filler_on_aluminum_is_held_to_aluminums_grade if {
	some v in found(contact(grit("P36"), object.union(filler, {"lower_kind": "aluminum", "lower_traits": {"steel": false, "zinc": false}})))
	v.grade == "risk"
	contains(v.message, "P80 is the coarsest")
}

coarse_card(lo) := {"coarse_card": {
	"measured": measure("P80"), "limit": measure("P120"), "sense": "most", "open": false, "leaned": [], "source": "card",
	"graced": false, "over": {"lo": lo, "hi": lo},
}}

test_coarser_than_the_card_or_the_table_is_a_risk_and_no_more if {
	{v.grade | some v in found(contact(grit("P80"), {"tooth": coarse_card(1.6)}))} == {"risk"}
	{v.grade | some v in found(contact(grit("P24"), {"refine": []}))} == {"risk"}
}

test_a_blast_is_held_to_no_grade_of_the_card if {
	found(contact(grit("P80"), {"tooth": object.union(coarse_card(1.6), {"blast": true, "by": "grit blast"})})) == set()
}

test_a_blast_too_deep_is_named_by_its_profile_and_wants_more_film if {
	some v in found(contact(grit("P80"), {"refine": [grit("P120")], "tooth": object.union(depth(0.5, 0.5).tooth, {"blast": true, "by": "grit blast"})}))
	contains(v.message, "the blast profile wants")
	v.mend == []
}

# The keys that are offered to be set, by what made the scratch.
papers(by, do) := [e.value |
	some v in found(contact(object.union(grit("P24"), {"step": 2, "do": do}), {"refine": [grit("P36")], "tooth": {"by": by}}))
	some e in v.mend
	e.edit == "set"
]

test_finer_paper_is_offered_where_the_scratch_was_sanded if {
	papers("abrasion", "sand") == ["P36"]
	papers("abrasion", "block") == ["P36"]
	papers("abrasion", "scuff") == []
	papers("sander", "sand") == []
}
