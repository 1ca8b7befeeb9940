package guidecoat.substrate["hole-bridged-with-filler_test"]

import data.guidecoat.substrate["hole-bridged-with-filler"] as rule

layers := {
	"0:mild-steel": {"kind": "mild steel", "existing": false},
	"2:grey": {"kind": "epoxy primer", "existing": false},
	"3:filler": {"kind": "body filler", "existing": false},
	"0.1:body-filler": {"kind": "body filler", "existing": true},
}

contact(more) := object.union(
	{
		"id": "panel/4:filler", "zone": "panel", "step": 4, "upper": "4:filler", "lower": "0:mild-steel",
		"upper_name": "filler", "upper_kind": "body filler", "zone_facts": {"rust": "holes"}, "metalwork_before": false,
		"films": ["0:mild-steel"], "tooth": {"step": 2}, "place": {},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "layers_by_id": layers}
}

fails(c) if {
	some v in found(c)
	v.grade == "fails"
}

test_every_filler_and_putty_over_holes_fails if {
	every kind in ["body filler", "fiber filler", "finishing putty", "one-part putty", "plastic repair filler"] {
		fails(contact({"upper_kind": kind}))
	}
}

test_filler_on_primer_over_holes_fails if {
	fails(contact({"lower": "2:grey", "films": ["0:mild-steel", "2:grey"], "tooth": null}))
}

test_metalwork_before_it_is_silent if found(contact({"metalwork_before": true})) == set()

test_pitted_steel_is_silent if found(contact({"zone_facts": {"rust": "pitted"}})) == set()

test_primer_solder_and_surfacer_over_holes_are_silent if {
	every kind in ["epoxy primer", "body solder", "polyester surfacer", "seam sealer"] {
		found(contact({"upper_kind": kind})) == set()
	}
}

test_a_second_filler_is_no_second_finding if {
	found(contact({"lower": "3:filler", "films": ["0:mild-steel", "3:filler"]})) == set()
}

test_new_filler_over_the_old_filler_of_the_panel_fails if {
	fails(contact({"lower": "0.1:body-filler", "films": ["0:mild-steel", "0.1:body-filler"]}))
}

test_metalwork_is_offered_before_the_metal_is_abraded if {
	some v in found(contact({}))
	v.mend == [{"edit": "insert", "where": "before", "step": 2, "set": {"do": "metalwork", "for": "2 h", "welding": true}}]
}

test_where_the_metal_was_never_abraded_it_is_closed_before_the_filler if {
	every tooth in [null, {"step": 0}] {
		some v in found(contact({"tooth": tooth}))
		[e.step | some e in v.mend] == [4]
	}
	some v in found(contact({"tooth": {"step": 1}}))
	[e.step | some e in v.mend] == [1]
}
