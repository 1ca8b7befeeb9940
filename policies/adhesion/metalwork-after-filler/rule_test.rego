package guidecoat.adhesion["metalwork-after-filler_test"]

import data.guidecoat.adhesion["metalwork-after-filler"] as rule

layers := {
	"0.1:factory primer": {"traits": {"class": "finish"}}, "2:epoxy": {"traits": {"class": "primer"}},
	"3:mud": {"traits": {"class": "filler"}}, "3:solder": {"traits": {"class": "filler"}}, "4:2k": {"traits": {"class": "surfacer"}},
	"4:seal": {"traits": {"class": "sealer"}}, "2:weld": {"traits": {"class": "primer"}}, "5:base": {"traits": {"class": "color"}},
	"2:seam": {"traits": {"class": "seam"}},
}

film(id, kind) := {"zone": "dent", "layer": id, "kind": kind, "name": kind}

metalwork(carrying, more) := object.union(
	{"id": "dent/7", "step": 7, "zone": "dent", "welding": false, "carrying": carrying, "cut_to_metal_after": false, "perhaps_cut_after": false, "place": {}},
	more,
)

found(m) := vs if {
	vs := rule.verdict with input as {"metalworks": [m], "layers_by_id": layers}
}

grades(m) := {v.grade | some v in found(m)}

filled := [film("2:epoxy", "epoxy primer"), film("3:mud", "body filler")]

test_hammering_under_filler_is_a_risk if {
	some v in found(metalwork(filled, {}))
	[v.grade, v.on, v.zone, v.step] == ["risk", "dent/7", "dent", 7]
	v.rests == {"lower": "3:mud"}
	v.message == "the metal is worked under epoxy primer and body filler, and the place is not cut back to metal afterwards"
}

test_welding_under_filler_fails if grades(metalwork(filled, {"welding": true})) == {"fails"}

test_primer_surfacer_and_sealer_alone_count if {
	grades(metalwork([film("2:epoxy", "epoxy primer")], {})) == {"risk"}
	grades(metalwork([film("4:2k", "urethane surfacer")], {"welding": true})) == {"fails"}
	grades(metalwork([film("4:seal", "urethane sealer")], {})) == {"risk"}
}

test_a_place_cut_to_metal_afterwards_is_silent if {
	grades(metalwork(filled, {"cut_to_metal_after": true})) == set()
	grades(metalwork(filled, {"cut_to_metal_after": true, "welding": true})) == set()
}

test_a_cut_that_may_be_all_of_the_place_may_be_too_little if {
	every welding in [true, false] {
		some v in found(metalwork(filled, {"perhaps_cut_after": true, "welding": welding}))
		[v.grade, v.certainty] == ["risk", "may"]
		endswith(v.message, "body filler, and nothing says that the cut afterwards takes all of the place to metal")
	}
}

test_bare_metal_is_silent if grades(metalwork([], {"welding": true})) == set()

test_body_solder_may_be_worked if grades(metalwork([film("3:solder", "body solder")], {})) == set()

test_weld_through_primer_may_be_welded if grades(metalwork([film("2:weld", "weld-through primer")], {"welding": true})) == set()

test_color_and_seam_sealer_alone_are_not_this_rules_matter if {
	grades(metalwork([film("5:base", "solvent basecoat"), film("2:seam", "seam sealer")], {})) == set()
}
