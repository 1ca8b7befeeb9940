package guidecoat.substrate["tooth-too-fine_test"]

import data.guidecoat.substrate["tooth-too-fine"] as rule

# Medians in µm as read in 4-reference of ISO 6344: P80 201, P180 82, P320 46.2; P120 125, P240 58.5 and
# P400 35 beside them (trade chart, decimals from memory).
micron := {"P60": 269, "P80": 201, "P120": 125, "P180": 82, "P220": 68, "P240": 58.5, "P320": 46.2, "P400": 35}

measure(grade) := {
	"lo": micron[grade], "hi": micron[grade], "open": false, "text": grade,
	"shown": {"lo": micron[grade], "hi": micron[grade], "unit": "µm"},
}

limits := {
	"metal_steel_fine": {"measure": measure("P180")},
	"metal_steel_acid_fine": {"measure": measure("P320")},
	"metal_filler_fine": {"measure": measure("P80")},
	"metal_stainless_fine": {"measure": measure("P180")},
	"metal_aluminum_fine": {"measure": measure("P320")},
	"metal_galvanized_fine": {"measure": measure("P320")},
}

grit(grade) := {"name": grade, "pad": false, "microns": measure(grade)}

# A pad is an interval of grades.
pad(name, fine, coarse) := {"name": name, "pad": true, "microns": object.union(measure(coarse), {"lo": micron[fine]})}

contact(g, more) := object.union(
	{
		"id": "panel/4:grey", "zone": "panel", "step": 4, "upper": "4:grey", "lower": "0:metal",
		"upper_name": "grey", "lower_name": "the metal", "upper_kind": "epoxy primer", "lower_kind": "mild steel",
		"upper_traits": {"acid": false}, "lower_traits": {"steel": true, "zinc": false},
		"wipes": [], "place": {},
		"tooth": {"by": "abrasion", "blast": false, "grit": g, "finest": g, "fine_card": null},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts_on_metal": [c], "limits": limits}
}

breaks(c) if {
	some v in found(c)
	v.grade == "risk"
}

acid := {"upper_kind": "one-part acid primer", "upper_traits": {"acid": true}}

filler := {"upper_kind": "body filler"}

stainless := {"lower_kind": "stainless steel", "lower_traits": {"steel": false}}

aluminum := {"lower_kind": "aluminum", "lower_traits": {"steel": false}}

zinc := {"lower_kind": "galvanized steel", "lower_traits": {"steel": false, "zinc": true}}

test_steel_finer_than_P180_is_a_risk if {
	some v in found(contact(grit("P220"), {}))
	v.grade == "risk"
	v.certainty == "will"
	v.measured.lo == 68
	v.limit.lo == 82
	contains(v.message, "P220")
	contains(v.message, "P180")
}

test_steel_at_P180_is_silent if found(contact(grit("P180"), {})) == set()

test_steel_under_acid_primer_may_be_as_fine_as_P320 if {
	found(contact(grit("P320"), acid)) == set()
	breaks(contact(grit("P400"), acid))
}

test_steel_under_filler_wants_P80 if {
	found(contact(grit("P80"), filler)) == set()
	breaks(contact(grit("P120"), filler))
}

test_stainless_wants_P180 if {
	found(contact(grit("P180"), stainless)) == set()
	breaks(contact(grit("P220"), stainless))
}

test_stainless_under_filler_is_not_held_to_the_grade_for_steel if found(contact(grit("P180"), object.union(stainless, filler))) == set()

test_aluminum_wants_P320 if {
	found(contact(grit("P320"), aluminum)) == set()
	breaks(contact(grit("P400"), aluminum))
}

test_galvanized_wants_P320_or_a_very_fine_pad if {
	found(contact(grit("P320"), zinc)) == set()
	found(contact(pad("very fine pad", "P400", "P320"), zinc)) == set()
	breaks(contact(grit("P400"), zinc))
}

test_pad_on_aluminum_that_is_perhaps_too_fine_may_be if {
	some v in found(contact(pad("very fine pad", "P400", "P320"), aluminum))
	v.certainty == "may"
}

test_blast_is_exempt if found(contact(grit("P400"), {"tooth": {"by": "grit blast", "blast": true}})) == set()

test_unknown_grade_is_silent if found(contact(null, {})) == set()

test_pad_alone_on_steel_counts_as_its_grade if {
	c := contact(null, {})
	breaks(object.union(c, {"tooth": {"finest": pad("very fine pad", "P400", "P320")}}))
}

test_body_solder_is_exempt if found(contact(grit("P400"), {"upper_kind": "body solder"})) == set()

card(over, text) := {"tooth": {"fine_card": {
	"sense": "least", "open": false, "leaned": [], "source": "card", "graced": false, "over": {"lo": over, "hi": over},
	"measured": {"shown": {"lo": 1, "hi": 1, "unit": "µm"}},
	"limit": {"text": text, "shown": {"lo": 2, "hi": 2, "unit": "µm"}},
}}}

test_the_cards_grade_replaces_the_table_when_finer if found(contact(grit("P320"), card(1.3, "P400"))) == set()

test_the_cards_grade_replaces_the_table_when_coarser if {
	some v in found(contact(grit("P180"), card(0.65, "P120")))
	contains(v.message, "P120")
	contains(v.message, "as its card says")
}

test_solder_and_blast_are_exempt_from_the_card_too if {
	breaks(contact(grit("P120"), card(0.5, "P60")))
	found(contact(grit("P120"), object.union(card(0.5, "P60"), {"upper_kind": "body solder"}))) == set()
	found(contact(grit("P120"), {"tooth": object.union(card(0.5, "P60").tooth, {"blast": true})})) == set()
}

test_finer_than_the_card_wants_is_a_risk_and_no_more if {
	{v.grade | some v in found(contact(grit("P120"), card(0.5, "P60")))} == {"risk"}
}

test_the_coarsest_scratch_left_counts_and_not_the_finest if {
	found(contact(grit("P180"), {"tooth": {"finest": grit("P400")}})) == set()
}

test_on_zinc_only_a_pad_that_may_do_is_let_pass if {
	found(contact(pad("very fine pad", "P400", "P320"), zinc)) == set()
	breaks(contact(pad("finer pad", "P400", "P400"), zinc))
	breaks(contact(object.union(pad("paper of two grades", "P400", "P320"), {"pad": false}), zinc))
}
