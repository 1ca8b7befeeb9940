package guidecoat.film["clear-faded-in-open-panel_test"]

import data.guidecoat.film["clear-faded-in-open-panel"] as rule

contact(kind, class, more) := object.union(
	{
		"id": "quarter/8:gloss", "zone": "quarter", "step": 8, "upper": "8:gloss", "lower": "7:blue",
		"upper_name": concat("", ["gloss (", kind, ")"]), "upper_kind": kind, "upper_traits": {"class": class},
		"fades": true, "zone_facts": {"edge": "open"}, "place": {},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts_under_color": [c]}
}

test_clear_fading_in_an_open_panel_is_a_risk if {
	some v in found(contact("urethane clear", "clear", {}))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "quarter/8:gloss"
	v.message == "gloss (urethane clear) fades out in quarter, where no edge or gap of the panel ends it"
}

test_single_stage_fading_in_an_open_panel_is_a_risk if {
	every kind in ["single-stage urethane", "single-stage enamel"] {
		some v in found(contact(kind, "color", {}))
		v.grade == "risk"
	}
}

test_basecoat_may_fade_out if count(found(contact("solvent basecoat", "color", {}))) == 0

test_clear_that_does_not_fade_is_silent if {
	count(found(contact("urethane clear", "clear", {"fades": false}))) == 0
}

test_clear_fading_at_a_panel_break_is_silent if {
	count(found(contact("urethane clear", "clear", {"zone_facts": {"edge": "panel break"}}))) == 0
}
