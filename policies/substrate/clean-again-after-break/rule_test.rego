package guidecoat.substrate["clean-again-after-break_test"]

import data.guidecoat.substrate["clean-again-after-break"] as rule

hours(h) := {"lo": h * 60, "hi": h * 60, "open": false, "text": sprintf("%d h", [h]), "shown": {"lo": h, "hi": h, "unit": "h"}}

limits := {
	"wipe_before_color": {"measure": hours(2)},
	"wipe_good_for": {"measure": hours(8)},
	"water_flash": {"measure": {"text": "15 min"}},
	"porous_dry_out": {"measure": {"text": "30 min"}},
}

contact(kind_of, age, more) := object.union(
	{
		"id": "dent/6:x", "zone": "dent", "step": 6, "upper": "6:x", "lower": "3:y", "upper_name": "x", "lower_name": "y",
		"upper_traits": {"class": kind_of}, "lower_pore": false, "place": {},
		"last_wipe": {"step": 4, "age": age}, "wipe_broken": null,
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {
		"contacts": [c], "limits": limits,
		"zones": [{"name": "dent", "parent": ""}, {"name": "panel", "parent": ""}],
	}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

test_wipe_three_hours_before_color_or_clear_is_a_risk if {
	every kind_of in ["color", "clear"] {
		grades(contact(kind_of, hours(3), {})) == {["risk", "will"]}
	}
}

test_wipe_two_hours_before_color_is_silent if found(contact("color", hours(2), {})) == set()

test_wipe_eight_hours_before_primer_is_silent if found(contact("primer", hours(8), {})) == set()

test_wipe_nine_hours_before_primer_is_a_risk if {
	some v in found(contact("primer", hours(9), {}))
	v.grade == "risk"
	v.measured.lo == 9
	v.limit.lo == 8
}

test_wipe_perhaps_too_old_may_be if grades(contact("color", object.union(hours(1), {"hi": 300}), {})) == {["risk", "may"]}

test_wipe_whose_age_nobody_wrote_is_silent if {
	found(contact("color", object.union(hours(0), {"open": true, "hi": null}), {})) == set()
}

test_surface_never_wiped_is_silent if found(contact("color", hours(0), {"last_wipe": null})) == set()

test_wipe_before_masking_metalwork_or_storing_is_a_risk if {
	every act in ["mask", "metalwork", "store"] {
		some v in found(contact("color", hours(1), {"wipe_broken": {"step": 5, "do": act}}))
		v.grade == "risk"
		contains(v.message, act)
	}
}

test_masking_after_a_wipe_that_was_sanded_over_is_not_this_rules_matter if {
	found(contact("color", hours(1), {"last_wipe": null, "wipe_broken": {"step": 5, "do": "mask"}})) == set()
}

test_old_and_spoiled_is_one_finding if {
	count(found(contact("color", hours(30), {"wipe_broken": {"step": 5, "do": "store"}}))) == 1
}

test_it_is_mended_by_a_wipe_of_that_zone_before_the_film if {
	some v in found(contact("color", hours(3), {}))
	v.mend == [{
		"edit": "insert", "where": "before", "step": 6,
		"set": {"do": "clean", "with_kind": "wax and grease remover", "then_wait": "15 min", "on": ["dent"]},
	}]
}
