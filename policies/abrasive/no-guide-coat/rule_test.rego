package guidecoat.abrasive["no-guide-coat_test"]

import data.guidecoat.abrasive["no-guide-coat"] as rule

abrasion(more) := object.union(
	{
		"id": "dent/4", "step": 4, "do": "block", "zone": "dent", "layer": "3:2k", "surface_name": "2K (urethane surfacer)",
		"surface_traits": {"class": "surfacer"}, "grit": {"name": "P320"}, "guide_coat": false, "cut": false, "place": {},
	},
	more,
)

found(a) := vs if {
	vs := rule.verdict with input as {"abrasions": [a]}
}

grades(a) := {v.grade | some v in found(a)}

test_blocking_a_surfacer_without_guide_coat_is_advice if {
	some v in found(abrasion({}))
	[v.grade, v.on] == ["advice", "dent/4"]
	v.message == "2K (urethane surfacer) is blocked with P320 and no guide coat"
	v.mend == [{"edit": "set", "step": 4, "key": "guide_coat", "value": true}]
}

test_with_guide_coat_it_is_silent if grades(abrasion({"guide_coat": true})) == set()

test_sanding_and_scuffing_are_no_blocking if {
	grades(abrasion({"do": "sand"})) == set()
	grades(abrasion({"do": "scuff"})) == set()
}

test_filler_and_clear_are_no_surfacer if {
	every class in ["filler", "clear", "primer", "sealer", "substrate"] {
		grades(abrasion({"surface_traits": {"class": class}})) == set()
	}
}

test_a_place_cut_by_that_same_block_is_not_told_twice if grades(abrasion({"cut": true})) == set()
