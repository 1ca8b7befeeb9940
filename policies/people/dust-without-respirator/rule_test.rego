package guidecoat.people["dust-without-respirator_test"]

import data.guidecoat.people["dust-without-respirator"] as rule

step(more) := object.union(
	{
		"id": "2", "n": 2, "do": "sand", "tool": "", "where": "booth", "dusty": true, "wear": [], "extraction": false,
		"worked": [{"kind": "body filler", "hazards": []}], "inspected": [], "place": {},
	},
	more,
)

grades(s) := gs if {
	vs := rule.verdict with input as {"steps": [s]}
	gs := {v.grade | some v in vs}
}

test_dry_sanding_with_nothing_is_a_risk if grades(step({})) == {"risk"}

test_blocking_and_stripping_count if {
	grades(step({"do": "block"})) == {"risk"}
	grades(step({"do": "strip", "tool": "grinder"})) == {"risk"}
}

test_scuffing_is_let_pass if grades(step({"do": "scuff"})) == set()

test_wet_sanding_is_silent if grades(step({"dusty": false})) == set()

test_a_dust_mask_is_enough if grades(step({"wear": ["particulate respirator"]})) == set()

test_extraction_is_enough_for_plain_dust if grades(step({"wear": ["extraction"], "extraction": true})) == set()

test_extraction_never_excuses_chromate if {
	grades(step({"extraction": true, "worked": [{"kind": "epoxy primer", "hazards": ["chromate"]}]})) == {"fails"}
}

test_extraction_never_excuses_lead if {
	grades(step({"extraction": true, "worked": [{"kind": "primer", "hazards": ["lead"]}]})) == {"fails"}
}

test_old_enamel_nobody_tested_counts_as_lead if {
	grades(step({"extraction": true, "worked": [{"kind": "aged enamel", "hazards": []}]})) == {"fails"}
}

test_old_enamel_that_was_tested_is_plain_dust if {
	grades(step({"worked": [{"kind": "aged enamel", "hazards": []}], "inspected": ["lead"]})) == {"risk"}
}

test_blasting_without_hood_fails if {
	grades(step({"do": "strip", "tool": "blast", "wear": ["particulate respirator"], "extraction": true})) == {"fails"}
}

test_blasting_with_a_hood_is_silent if grades(step({"do": "strip", "tool": "blast", "wear": ["blast hood"]})) == set()

test_blasting_in_a_cabinet_is_silent if grades(step({"do": "strip", "tool": "blast", "where": "cabinet"})) == set()

test_every_respirator_counts if {
	every worn in ["particulate respirator", "cartridge respirator", "supplied-air respirator", "blast hood"] {
		grades(step({"wear": [worn]})) == set()
		grades(step({"wear": [worn], "worked": [{"kind": "aged enamel", "hazards": []}]})) == set()
	}
}

test_gloves_are_no_respirator if grades(step({"wear": ["gloves"]})) == {"risk"}

test_every_finish_that_may_hold_lead_counts_until_it_is_tested if {
	every kind in ["aged enamel", "aged lacquer", "unknown finish", "body solder"] {
		grades(step({"worked": [{"kind": kind, "hazards": []}]})) == {"fails"}
	}
}

lead := {"worked": [{"kind": "epoxy primer", "hazards": ["lead"]}]}

test_lead_fails_however_it_is_ground_and_is_told_once if {
	every do in ["strip", "sand", "block"] {
		vs := rule.verdict with input as {"steps": [step(object.union(lead, {"do": do}))]}
		{[v.grade, contains(v.message, "lead")] | some v in vs} == {["fails", true]}
	}
	grades(step(object.union(lead, {"do": "scuff"}))) == set()
	grades(step(object.union(lead, {"dusty": false}))) == set()
}

test_blasting_fails_whatever_the_step_calls_it if {
	every do in ["strip", "sand", "block"] {
		grades(step({"do": do, "tool": "blast"})) == {"fails"}
	}
	grades(step({"do": "scuff", "tool": "blast"})) == set()
	grades(step({"do": "strip", "tool": "blast", "dusty": false})) == set()
}

test_a_cabinet_keeps_lead_in_too if {
	grades(step(object.union(lead, {"do": "strip", "tool": "blast", "where": "cabinet"}))) == set()
}
