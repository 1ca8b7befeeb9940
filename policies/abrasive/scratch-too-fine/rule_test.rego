package guidecoat.abrasive["scratch-too-fine_test"]

import data.guidecoat.abrasive["scratch-too-fine"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "urethane surfacer", "lower_kind": "factory finish",
		"upper_traits": {"class": "", "acid": false, "epoxy": false, "urethane": false, "two_part": false, "flexible": false, "waterborne": false},
		"lower_traits": {
			"class": "", "acid": false, "epoxy": false, "urethane": false, "reversible": false, "metal": false,
			"steel": false, "zinc": false, "plastic": false, "two_part": false, "flexible": false, "wet_on_wet": false,
		},
		"lower_step": 3, "lower_existing": false, "lower_substrate": false, "lower_pore": false,
		"card_says": "silent", "abraded": false, "wipes": [], "films": [], "substrate": "mild steel", "inspected": [],
		"gap_applies": true, "zone_facts": {"cut": false, "role": "", "olefin": false, "plastic": "unknown"},
		"place": {"line": 41},
	},
	more,
)

# Median particles, µm: ISO 6344 as the trade's charts print it.
median := {
	"P36": 538, "P80": 201, "P120": 125, "P150": 100, "P180": 82, "P220": 68, "P240": 58.5, "P280": 52.2, "P320": 46.2,
	"P360": 40.5, "P400": 35, "P500": 30.2, "P600": 25.8, "P800": 21.8, "P1000": 18.3, "P1200": 15.3, "P1500": 12.6, "P2000": 10.3,
}

microns(name) := {"lo": median[name], "hi": median[name], "open": false, "text": name, "shown": {"lo": median[name], "hi": median[name], "unit": "µm"}}

grit(name) := {"step": 4, "do": "sand", "name": name, "pad": false, "known": true, "microns": microns(name)}

# A pad stands for a span of grades.
pad(name, coarse, fine) := {
	"step": 4, "do": "scuff", "name": name, "pad": true, "known": true,
	"microns": {"lo": median[fine], "hi": median[coarse], "open": false, "text": name, "shown": {"lo": median[fine], "hi": median[coarse], "unit": "µm"}},
}

# What a grade is against a limit: coarser is a larger number.
against(sense, measured, limit, source) := {
	"measured": measured, "limit": microns(limit), "sense": sense, "open": false, "source": source,
	"leaned": {"card": [], "typical": ["upper.grit_beneath"]}[source], "graced": false,
	"over": {"lo": measured.lo / median[limit], "hi": measured.hi / median[limit]},
}

limits := {
	"color_scratch_fails": {"measure": microns("P320")}, "color_scratch_solid": {"measure": microns("P400")},
	"color_scratch_metallic": {"measure": microns("P500")}, "single_stage_fails": {"measure": microns("P280")},
	"single_stage_scratch": {"measure": microns("P320")}, "scuff_left": {"measure": microns("P1500")},
	"zone_blend_fine": {"measure": microns("P2000")}, "dry_abrasive": {"measure": microns("P180")},
	"grade_unclear": {"measure": {"lo": 240, "hi": 240}}, "porous_dry_out": {"measure": {"text": "30 min"}},
	"water_flash": {"measure": {"text": "15 min"}}, "grace": {"low": 0.9, "high": 1.1},
}

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "limits": limits, "zones": [], "cards": cards}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

cards := {"upper": {"effect": ""}, "silver": {"effect": "metallic"}, "white": {"effect": "pearl"}, "red": {"effect": "candy"}, "black": {"effect": "solid"}}

# The upper film wants P500 or coarser.
held(grip, source) := against("least", grip.microns, "P500", source)

over(grip, source, more) := contact(object.union(
	{
		"grip": grip, "fine": held(grip, source), "lower_existing": true, "window_shut": false, "baked": false,
		"recoat_most": null, "window_given": "card",
	},
	more,
))

fresh(more) := over(grit("P800"), "card", object.union({"lower_existing": false}, more))

# Gap against the most of the window, in hours.
most(lo, hi, leaned) := {
	"recoat_most": {
		"measured": {"lo": lo, "hi": hi}, "limit": {"lo": 24, "hi": 24}, "sense": "most", "open": false, "source": "card",
		"leaned": leaned, "graced": true, "over": {"lo": lo / 24, "hi": hi / 24},
	},
}

test_on_an_old_finish_a_scratch_finer_than_the_card_wants_is_a_risk if {
	some v in found(over(grit("P600"), "card", {}))
	[v.grade, v.certainty, v.leaned] == ["risk", "will", []]
	v.measured.lo == 25.8
	v.limit.lo == 30.2
	v.mend == [{"edit": "insert", "where": "before", "step": 6, "set": {"do": "sand", "grit": "P500"}}]
}

test_just_the_cards_grade_is_right if grades(over(grit("P500"), "card", {})) == set()

test_a_kinds_limit_leaves_a_risk_that_may_be if {
	some v in found(over(grit("P600"), "typical", {}))
	[v.grade, v.certainty, v.leaned] == ["risk", "may", ["upper.grit_beneath"]]
	contains(v.message, "typical; copy the data sheet's")
}

test_a_pad_that_spans_the_limit_may_be_too_fine if {
	c := over(pad("ultra fine pad", "P320", "P1000"), "card", {})
	grades(c) == {["risk", "may"]}
}

test_a_pad_that_is_surely_finer_is_too_fine if {
	grades(over(pad("ultra fine pad", "P800", "P1000"), "card", {})) == {["risk", "will"]}
}

test_in_its_window_a_fine_scratch_is_no_matter if {
	grades(fresh(most(10, 10, []))) == set()
	grades(fresh(most(24, 24, []))) == set()
}

test_past_its_window_it_is if grades(fresh(most(30, 30, []))) == {["risk", "will"]}

test_perhaps_past_its_window_it_may_be if grades(fresh(most(20, 30, []))) == {["risk", "may"]}

test_past_a_typical_window_it_may_be if {
	some v in found(fresh(most(30, 30, ["lower.recoat"])))
	[v.certainty, v.leaned] == ["may", ["lower.recoat"]]
}

test_a_film_whose_window_never_shuts_is_silent if grades(fresh({})) == set()

test_a_wait_that_nobody_wrote_shuts_no_window if {
	c := fresh({"recoat_most": object.union(most(0, 0, []).recoat_most, {"open": true, "over": {"lo": 0, "hi": null}})})
	grades(c) == set()
}

test_a_film_that_takes_only_its_own_coats_is_always_past_it if grades(fresh({"window_shut": true})) == {["risk", "will"]}

test_a_film_that_usually_takes_only_its_own_coats_may_be_past_it if {
	some v in found(fresh({"window_shut": true, "window_given": "typical"}))
	[v.grade, v.certainty, v.leaned] == ["risk", "may", ["lower.recoat"]]
}

test_a_baked_film_is_past_it if grades(fresh(object.union(most(10, 10, []), {"baked": true}))) == {["risk", "will"]}

blend(grip) := over(grip, "card", {"zone_facts": {"role": "blend"}})

test_in_a_blend_zone_p2000_will_do if {
	grades(blend(grit("P800"))) == set()
	grades(blend(grit("P2000"))) == set()
}

test_in_a_blend_zone_finer_than_p2000_is_a_risk if {
	polish := {"step": 4, "do": "sand", "name": "P3000", "pad": false, "known": true, "microns": {"lo": 7, "hi": 7, "open": false, "text": "P3000", "shown": {"lo": 7, "hi": 7, "unit": "µm"}}}
	some v in found(blend(polish))
	[v.grade, v.certainty] == ["risk", "will"]
	v.limit.lo == 10.3
}

test_an_edge_is_no_blend if {
	grades(over(grit("P800"), "card", {"zone_facts": {"role": "edge"}})) == {["risk", "will"]}
}

test_what_nothing_abraded_is_not_this_rules_matter if {
	grades(contact({"grip": null, "fine": null, "lower_existing": true, "window_shut": false, "baked": false, "recoat_most": null})) == set()
}

test_an_upper_film_without_a_limit_is_silent if grades(over(grit("P2000"), "card", {"fine": null})) == set()

test_bare_metal_and_plastic_have_rules_of_their_own if {
	grades(over(grit("P600"), "card", {"lower_existing": false, "lower_substrate": true})) == set()
}

test_outside_a_blend_the_films_own_limit_alone_is_told if {
	polish := {"step": 4, "do": "sand", "name": "P3000", "pad": false, "known": true, "microns": {"lo": 7, "hi": 7, "open": false, "text": "P3000", "shown": {"lo": 7, "hi": 7, "unit": "µm"}}}
	some v in found(over(polish, "card", {}))
	[v.grade, v.certainty] == ["risk", "will"]
	v.limit.lo == 30.2
}

test_the_metal_of_the_panel_was_there_and_is_no_film if {
	grades(over(grit("P600"), "card", {"lower_substrate": true})) == set()
}

test_a_usual_window_that_does_not_shut_of_itself_is_held_to_its_hours if {
	some v in found(fresh(object.union(most(30, 30, []), {"window_given": "typical"})))
	[v.certainty, v.leaned] == ["will", []]
}
