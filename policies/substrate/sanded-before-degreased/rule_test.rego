package guidecoat.substrate["sanded-before-degreased_test"]

import data.guidecoat.substrate["sanded-before-degreased"] as rule

limits := {"water_flash": {"measure": {"text": "15 min"}}}

abrasion(more) := object.union(
	{
		"id": "panel/2", "zone": "panel", "step": 2, "layer": "0.1:e-coat", "surface_name": "e-coat",
		"soiled_by": "carried", "soiled_step": 0, "cleaned_before": false, "place": {},
	},
	more,
)

strip(more) := object.union(
	{
		"id": "panel/2", "zone": "panel", "step": 2, "tool": "sander",
		"soiled_by": "carried", "soiled_step": 0, "cleaned_before": false, "place": {},
	},
	more,
)

sanded(a) := vs if {
	vs := rule.verdict with input as {"abrasions": [a], "strips": [], "limits": limits}
}

stripped(s) := vs if {
	vs := rule.verdict with input as {"abrasions": [], "strips": [s], "limits": limits}
}

test_first_sanding_of_a_carried_finish_without_a_clean_is_a_risk if {
	some v in sanded(abrasion({}))
	v.grade == "risk"
	v.on == "panel/2"
	v.mend[0].set.with_kind == "wax and grease remover"
}

test_sanding_after_storing_without_a_clean_is_a_risk if {
	some v in sanded(abrasion({"soiled_by": "store", "soiled_step": 1}))
	contains(v.message, "step 1 (store)")
}

test_sanding_after_metalwork_without_a_clean_is_a_risk if {
	some v in sanded(abrasion({"soiled_by": "metalwork", "soiled_step": 1}))
	v.grade == "risk"
}

test_sanding_after_a_clean_is_silent if sanded(abrasion({"cleaned_before": true})) == set()

test_a_second_sanding_is_silent if sanded(abrasion({"soiled_by": ""})) == set()

test_sander_and_blast_strip_of_a_dirty_finish_are_a_risk if {
	every tool in ["sander", "blast"] {
		some v in stripped(strip({"tool": tool}))
		v.grade == "risk"
	}
}

test_razor_stripper_disc_wheel_and_grinder_are_silent if {
	every tool in ["razor", "chemical stripper", "strip disc", "wire wheel", "grinder"] {
		stripped(strip({"tool": tool})) == set()
	}
}

test_sander_strip_after_a_clean_is_silent if stripped(strip({"cleaned_before": true})) == set()
