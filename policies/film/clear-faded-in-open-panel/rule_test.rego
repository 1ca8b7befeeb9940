package guidecoat.film["clear-faded-in-open-panel_test"]

import data.guidecoat.film["clear-faded-in-open-panel"] as rule

contact(more) := object.union(
	{
		"id": "around/5:gloss", "zone": "around", "step": 5, "upper": "5:gloss", "lower": "4:blue", "place": {},
		"upper_name": "gloss (urethane clear)", "upper_kind": "urethane clear", "upper_traits": {"class": "clear"},
		"fades": true, "zone_facts": {"edge": "open"},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts_under_color": [c]}
}

test_clear_fading_in_an_open_panel_is_a_risk if {
	some v in found(contact({}))
	v.grade == "risk"
}

test_single_stage_counts if {
	count(found(contact({"upper_kind": "single-stage urethane", "upper_traits": {"class": "color"}}))) == 1
}

test_basecoat_may_fade if {
	count(found(contact({"upper_kind": "solvent basecoat", "upper_traits": {"class": "color"}}))) == 0
}

test_at_a_panel_break_is_silent if count(found(contact({"zone_facts": {"edge": "panel break"}}))) == 0

test_clear_that_does_not_fade_is_silent if count(found(contact({"fades": false}))) == 0
