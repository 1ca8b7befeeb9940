package guidecoat.abrasive["dust-left-under-film_test"]

import data.guidecoat.abrasive["dust-left-under-film"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "epoxy primer", "lower_kind": "body filler",
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
	vs := rule.verdict with input as {"contacts": [c], "limits": limits, "zones": []}
}

grades(c) := {v.grade | some v in found(c)}

dust(more) := {"dust": object.union({"abraded": true, "step": 4, "cleaned": false, "tacked": false, "blown_off": false, "rinsed": false}, more)}

primer(more) := contact(object.union({"upper_traits": {"class": "primer"}, "lower_pore": true}, dust(more)))

color(more) := contact(object.union({"upper_traits": {"class": "color"}, "lower_kind": "urethane surfacer"}, dust(more)))

test_dust_left_under_any_film_is_a_risk if {
	some v in found(primer({}))
	[v.grade, v.certainty] == ["risk", "will"]
	v.message == "upper goes over lower abraded at step 4, with no clean, tack or blow-off since"
	v.mend == [{"edit": "insert", "where": "before", "step": 6, "set": {"do": "blow_off"}}]
	grades(color({})) == {"risk"}
}

test_a_clean_a_tack_or_a_blow_off_is_enough_under_primer if {
	grades(primer({"cleaned": true})) == set()
	grades(primer({"tacked": true})) == set()
	grades(primer({"blown_off": true})) == set()
}

test_a_rinse_is_none_of_them if grades(primer({"rinsed": true})) == {"risk"}

test_before_color_only_a_clean_is_advice if {
	some v in found(color({"cleaned": true}))
	v.grade == "advice"
	contains(v.message, "cleaned since but not tacked")
	v.mend == [{"edit": "insert", "where": "before", "step": 6, "set": {"do": "tack"}}]
}

test_before_color_only_a_tack_is_advice if {
	some v in found(color({"tacked": true}))
	v.grade == "advice"
	contains(v.message, "tacked since but not cleaned")
	v.mend == [{
		"edit": "insert", "where": "before", "step": 6,
		"set": {"do": "clean", "with_kind": "wax and grease remover", "then_wait": "15 min"},
	}]
}

test_before_color_only_a_blow_off_is_advice if {
	grades(color({"blown_off": true})) == {"advice"}
	grades(color({"blown_off": true, "cleaned": true})) == {"advice"}
}

test_before_color_clean_and_tack_are_right if grades(color({"cleaned": true, "tacked": true})) == set()

test_before_clear_one_of_them_is_enough if {
	grades(object.union(color({"cleaned": true}), {"upper_traits": {"class": "clear"}})) == set()
}

test_before_color_on_an_exposed_pore_the_wipe_gets_its_time if {
	some v in found(object.union(color({"blown_off": true}), {"lower_pore": true}))
	v.mend[0].set.then_wait == "30 min"
}

test_a_film_that_nothing_abraded_has_no_dust if {
	grades(contact(object.union({"upper_traits": {"class": "color"}}, dust({"abraded": false, "step": 0})))) == set()
}

test_on_bare_metal_the_metals_rule_speaks if {
	grades(object.union(primer({}), {"lower_traits": {"metal": true}})) == set()
}

test_on_bare_plastic_it_is_told_here if {
	grades(object.union(primer({}), {"lower_traits": {"plastic": true}, "lower_substrate": true})) == {"risk"}
}

test_a_wiped_pore_before_color_lacks_the_tack_alone if {
	some v in found(object.union(color({"cleaned": true}), {"lower_pore": true}))
	v.grade == "advice"
	v.mend == [{"edit": "insert", "where": "before", "step": 6, "set": {"do": "tack"}}]
}
