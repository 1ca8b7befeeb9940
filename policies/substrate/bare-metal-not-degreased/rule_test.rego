package guidecoat.substrate["bare-metal-not-degreased_test"]

import data.guidecoat.substrate["bare-metal-not-degreased"] as rule

contact(more) := object.union(
	{
		"id": "panel/4:grey", "zone": "panel", "step": 4, "upper": "4:grey", "lower": "0:mild-steel",
		"upper_name": "grey", "lower_name": "mild steel", "upper_kind": "epoxy primer",
		"lower_kind": "mild steel", "lower_traits": {"steel": true}, "lower_pore": false, "wipes": [], "place": {},
		"prep": {
			"solvent": false, "thinner": false, "water_cleaner": false, "acid_after_solvent": false,
			"before_abrasion": false, "blasted": false, "blown_off": false, "blast_age": null, "last_abraded_step": 2,
		},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {
		"contacts_on_metal": [c],
		"steps": [{"n": 1, "do": "clean"}, {"n": 2, "do": "sand"}, {"n": 3, "do": "metalwork"}, {"n": 4, "do": "spray"}],
		"limits": {
			"porous_dry_out": {"measure": {"text": "30 min"}},
			"water_flash": {"measure": {"text": "15 min"}},
		},
	}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

test_metal_that_nothing_degreased_fails if grades(contact({})) == {["fails", "will"]}

test_solvent_cleaner_since_the_last_abrasion_is_silent if found(contact({"prep": {"solvent": true}})) == set()

test_lacquer_thinner_alone_is_for_advice if grades(contact({"prep": {"thinner": true}})) == {["advice", "will"]}

test_lacquer_thinner_beside_cleaner_is_silent if found(contact({"prep": {"thinner": true, "solvent": true}})) == set()

test_waterborne_cleaner_counts_on_metals_that_do_not_rust if {
	every metal in ["aluminum", "galvanized steel", "stainless steel"] {
		found(contact({"lower_kind": metal, "lower_traits": {"steel": false}, "prep": {"water_cleaner": true}})) == set()
	}
}

test_waterborne_cleaner_does_not_count_on_steel if grades(contact({"prep": {"water_cleaner": true}})) == {["fails", "will"]}

test_acid_wash_after_a_solvent_clean_counts if found(contact({"prep": {"acid_after_solvent": true}})) == set()

test_what_was_wiped_without_counting_is_named if {
	some v in found(contact({"wipes": [{"agent": "alcohol wipe", "step": 3}]}))
	contains(v.message, "alcohol wipe does not count")
}

test_cleaner_that_only_came_too_early_is_not_said_not_to_count if {
	hammered := {"last_abraded_step": 3}
	some early in found(contact({"prep": hammered, "wipes": [{"agent": "degreaser", "step": 2}, {"agent": "soap", "step": 3}]}))
	not contains(early.message, "count")
	some late in found(contact({"prep": hammered, "wipes": [{"agent": "degreaser", "step": 2}, {"agent": "soap", "step": 4}]}))
	contains(late.message, "handled (soap does not count)")
}

age(lo, hi) := {
	"sense": "most", "open": false, "leaned": [], "source": "limit", "graced": false, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "30 min", "shown": {"lo": 30, "hi": 30, "unit": "min"}},
	"limit": {"text": "1 h", "shown": {"lo": 1, "hi": 1, "unit": "h"}},
}

blast(lo, hi) := {"prep": {"blasted": true, "blown_off": true, "blast_age": age(lo, hi)}}

test_blasted_and_blown_off_within_the_hour_is_a_risk if grades(contact(blast(0.5, 0.5))) == {["risk", "will"]}

test_blasted_and_blown_off_exactly_an_hour_before_is_a_risk if grades(contact(blast(1, 1))) == {["risk", "will"]}

test_blasted_and_blown_off_over_an_hour_before_fails if grades(contact(blast(1.5, 1.5))) == {["fails", "will"]}

test_blasted_and_blown_off_perhaps_over_an_hour_before_may_be if grades(contact(blast(0.5, 1.5))) == {["risk", "may"]}

test_blasted_and_not_blown_off_fails if {
	grades(contact(object.union(blast(0.5, 0.5), {"prep": {"blown_off": false}}))) == {["fails", "will"]}
}

test_blasted_then_hammered_fails if {
	grades(contact(object.union(blast(0.5, 0.5), {"prep": {"last_abraded_step": 3}}))) == {["fails", "will"]}
}

test_blast_with_no_time_written_is_a_risk if {
	open := {"open": true, "over": {"lo": 0, "hi": null}}
	grades(contact({"prep": {"blasted": true, "blown_off": true, "blast_age": object.union(age(0, 0), open)}})) == {["risk", "will"]}
}

filler := {"upper_kind": "body filler", "prep": {"before_abrasion": true}}

test_filler_on_metal_degreased_before_grinding_is_a_risk if grades(contact(filler)) == {["risk", "will"]}

test_filler_on_metal_hammered_after_grinding_fails if {
	grades(contact(object.union(filler, {"prep": {"last_abraded_step": 3}}))) == {["fails", "will"]}
}

test_filler_on_metal_never_degreased_fails if grades(contact({"upper_kind": "body filler"})) == {["fails", "will"]}

test_primer_on_metal_degreased_before_grinding_fails if grades(contact({"prep": {"before_abrasion": true}})) == {["fails", "will"]}

test_body_solder_is_exempt if found(contact({"upper_kind": "body solder"})) == set()

test_it_is_mended_by_a_wipe_before_the_film if {
	some v in found(contact({}))
	v.mend == [{
		"edit": "insert", "where": "before", "step": 4,
		"set": {"do": "clean", "with_kind": "wax and grease remover", "then_wait": "15 min"},
	}]
}

test_body_solder_is_exempt_from_advice_too if {
	found(contact({"upper_kind": "body solder", "prep": {"thinner": true}})) == set()
}

test_blown_off_but_never_blasted_fails if {
	grades(contact({"prep": {"blown_off": true, "blast_age": age(0.5, 0.5)}})) == {["fails", "will"]}
}

test_blasted_long_ago_and_not_blown_off_is_told_once if {
	grades(contact({"prep": {"blasted": true, "blown_off": false, "blast_age": age(1.5, 1.5)}})) == {["fails", "will"]}
}

test_filler_on_metal_degreased_before_the_blast_is_told_by_that if {
	every hours in [0.5, 1.5] {
		some v in found(contact({
			"upper_kind": "body filler",
			"prep": {"before_abrasion": true, "blasted": true, "blown_off": true, "blast_age": age(hours, hours)},
		}))
		[v.grade, v.certainty] == ["risk", "will"]
		contains(v.message, "before it was ground")
	}
}
