package guidecoat.substrate["smooth-bare-metal_test"]

import data.guidecoat.substrate["smooth-bare-metal"] as rule

limits := {
	"metal_steel_fine": {"measure": {"text": "P180"}},
	"metal_steel_acid_fine": {"measure": {"text": "P320"}},
	"metal_filler_fine": {"measure": {"text": "P80"}},
	"metal_stainless_fine": {"measure": {"text": "P180"}},
	"metal_aluminum_fine": {"measure": {"text": "P320"}},
	"metal_galvanized_fine": {"measure": {"text": "P320"}},
}

contact(more) := object.union(
	{
		"id": "panel/4:grey", "zone": "panel", "step": 4, "upper": "4:grey", "lower": "0:mild-steel",
		"upper_name": "grey (epoxy primer)", "lower_name": "mild steel", "upper_kind": "epoxy primer",
		"lower_kind": "mild steel", "upper_traits": {"acid": false}, "lower_traits": {"steel": true, "zinc": false},
		"zone_facts": {"rust": "none"}, "wipes": [{"step": 3}], "place": {},
		"tooth": {"by": "none", "bared": "chemical stripper", "fine_card": null},
		"prep": {
			"conversion": false, "solvent": true, "thinner": false, "water_cleaner": false, "acid_after_solvent": false,
		},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts_on_metal": [c], "limits": limits}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

test_every_tool_that_leaves_no_tooth_fails if {
	every tool in ["chemical stripper", "wire wheel", "razor", "glass bead", "soda", "plastic"] {
		some v in found(contact({"tooth": {"by": "none", "bared": tool}}))
		v.grade == "fails"
		contains(v.message, tool)
	}
}

test_metal_that_came_bare_and_was_never_roughened_fails if {
	some v in found(contact({"tooth": {"bared": ""}}))
	v.grade == "fails"
	contains(v.message, "nothing roughened it")
}

test_abraded_metal_is_silent if found(contact({"tooth": {"by": "abrasion"}})) == set()

test_sander_grinder_and_grit_blast_leave_a_tooth if {
	every by in ["sander", "grinder", "grit blast"] {
		found(contact({"tooth": {"by": by}})) == set()
	}
}

test_strip_disc_alone_is_a_risk if grades(contact({"tooth": {"by": "strip disc", "bared": "strip disc"}})) == {["risk", "will"]}

test_wash_primer_on_clean_unabraded_metal_is_a_risk if {
	grades(contact({"upper_kind": "two-part wash primer", "upper_traits": {"acid": true}})) == {["risk", "will"]}
}

test_wash_primer_on_unclean_unabraded_metal_fails if {
	grades(contact({"upper_kind": "two-part wash primer", "prep": {"solvent": false}})) == {["fails", "will"]}
}

test_one_part_acid_primer_on_unabraded_metal_fails if {
	grades(contact({"upper_kind": "one-part acid primer", "upper_traits": {"acid": true}})) == {["fails", "will"]}
}

test_conversion_coating_on_clean_unabraded_metal_is_a_risk if grades(contact({"prep": {"conversion": true}})) == {["risk", "will"]}

test_conversion_coating_on_unclean_unabraded_metal_fails if {
	grades(contact({"prep": {"conversion": true, "solvent": false}})) == {["fails", "will"]}
}

test_waterborne_cleaner_makes_aluminum_clean_but_not_steel if {
	clean := {"upper_kind": "two-part wash primer", "prep": {"solvent": false, "water_cleaner": true}}
	grades(contact(clean)) == {["fails", "will"]}
	grades(contact(object.union(clean, {"lower_kind": "aluminum", "lower_traits": {"steel": false}}))) == {["risk", "will"]}
}

test_body_solder_needs_no_tooth if found(contact({"upper_kind": "body solder"})) == set()

test_cavity_wax_needs_no_tooth if found(contact({"upper_kind": "cavity wax"})) == set()

test_rust_converter_bites_into_rust_but_not_into_bright_steel if {
	found(contact({"upper_kind": "rust converter", "zone_facts": {"rust": "light"}})) == set()
	grades(contact({"upper_kind": "rust converter"})) == {["fails", "will"]}
}

test_it_is_mended_by_sanding_before_the_wipe_or_before_the_film if {
	some v in found(contact({}))
	v.mend == [
		{"edit": "insert", "where": "before", "step": 3, "set": {"do": "sand", "grit": "P180"}},
		{"edit": "insert", "where": "before", "step": 4, "set": {"do": "sand", "grit": "P180"}},
	]
}

test_the_grade_offered_suits_the_film_and_the_metal if {
	some v in found(contact({"upper_kind": "body filler", "wipes": []}))
	v.mend[0].set.grit == "P80"
	some w in found(contact({"lower_kind": "aluminum", "lower_traits": {"steel": false}}))
	w.mend[0].set.grit == "P320"
	some x in found(contact({"upper_kind": "one-part acid primer", "upper_traits": {"acid": true}}))
	x.mend[0].set.grit == "P320"
	some y in found(contact({"tooth": {"fine_card": {"limit": {"text": "P120"}}}}))
	y.mend[0].set.grit == "P120"
}

test_other_films_do_not_bite_into_rust if {
	grades(contact({"zone_facts": {"rust": "light"}})) == {["fails", "will"]}
}

test_wash_primer_on_abraded_metal_is_silent if {
	found(contact({"upper_kind": "two-part wash primer", "tooth": {"by": "abrasion", "bared": ""}})) == set()
}
