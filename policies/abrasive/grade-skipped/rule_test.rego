package guidecoat.abrasive["grade-skipped_test"]

import data.guidecoat.abrasive["grade-skipped"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "solvent basecoat", "lower_kind": "urethane surfacer",
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

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

# The fall from one grade to the next against 2.7.
fall(from_step, from, to_step, to, between) := {
	"from_step": from_step, "to_step": to_step, "from": from, "to": to, "between": between,
	"fall": {
		"measured": {"text": "RATIO", "shown": {"lo": ratio, "hi": ratio, "unit": ""}},
		"limit": {"text": "2.7", "shown": {"lo": 2.7, "hi": 2.7, "unit": ""}}, "sense": "most", "open": false,
		"source": "limit", "leaned": [], "graced": false, "over": {"lo": ratio / 2.7, "hi": ratio / 2.7},
	},
} if {
	ratio := median[from] / median[to]
}

at(step, name) := object.union(grit(name), {"step": step})

over(sequence, abrasions, scratch, more) := contact(object.union(
	{"sequence": sequence, "abrasions": abrasions, "scratch": scratch},
	more,
))

# Working: P36 538 to P80 201 is 2.68; P120 125 to P320 46.2 is 2.71.
test_p36_to_p80_is_right if {
	grades(over([fall(3, "P36", 4, "P80", "")], [at(3, "P36"), at(4, "P80")], at(4, "P80"), {})) == set()
}

p120_to_p320 := over([fall(3, "P120", 4, "P320", "P180")], [at(3, "P120"), at(4, "P320")], at(3, "P120"), {})

test_p120_to_p320_is_a_skip if {
	some v in found(p120_to_p320)
	[v.grade, v.certainty, v.on] == ["risk", "will", "dent/6:upper"]
	v.message == "upper goes over lower sanded with P120 and then P320: that is RATIO times finer, and 2.7 is the most"
	v.mend == [{"edit": "insert", "where": "before", "step": 4, "set": {"do": "sand", "grit": "P180"}}]
}

test_the_first_of_two_skips_speaks if {
	c := over(
		[fall(3, "P80", 4, "P320", "P150"), fall(4, "P320", 5, "P1000", "P600")],
		[at(3, "P80"), at(4, "P320"), at(5, "P1000")], at(3, "P80"), {},
	)
	count(found(c)) == 1
	some v in found(c)
	contains(v.message, "P80 and then P320")
}

test_every_step_small_is_right if {
	c := over(
		[fall(3, "P80", 4, "P150", ""), fall(4, "P150", 5, "P320", "")],
		[at(3, "P80"), at(4, "P150"), at(5, "P320")], at(5, "P320"), {},
	)
	grades(c) == set()
}

test_a_skip_put_right_by_going_back_is_silent if {
	c := over(
		[fall(3, "P80", 4, "P320", "P150"), fall(5, "P150", 6, "P320", "")],
		[at(3, "P80"), at(4, "P320"), at(5, "P150"), at(6, "P320")], at(6, "P320"), {},
	)
	grades(c) == set()
}

test_going_on_finer_does_not_put_it_right if {
	c := over(
		[fall(3, "P80", 4, "P320", "P150"), fall(4, "P320", 5, "P500", "")],
		[at(3, "P80"), at(4, "P320"), at(5, "P500")], at(3, "P80"), {},
	)
	grades(c) == {["risk", "will"]}
}

test_going_back_too_little_does_not_put_it_right if {
	c := over(
		[fall(3, "P80", 4, "P320", "P150"), fall(5, "P240", 6, "P320", "")],
		[at(3, "P80"), at(4, "P320"), at(5, "P240"), at(6, "P320")], at(3, "P80"), {},
	)
	grades(c) == {["risk", "will"]}
}

test_a_film_exposed_again_keeps_what_was_skipped if {
	c := over([fall(3, "P80", 4, "P320", "P150")], [at(8, "P320")], at(8, "P320"), {})
	grades(c) == {["risk", "will"]}
}

test_one_abrasion_is_no_sequence if grades(over([], [at(3, "P80")], at(3, "P80"), {})) == set()

test_bare_metal_is_no_film if grades(object.union(p120_to_p320, {"lower_substrate": true})) == set()

test_where_no_grade_lies_between_it_offers_none if {
	some v in found(over([fall(3, "P80", 4, "P320", "")], [], at(3, "P80"), {}))
	v.mend == []
}

# P120 and then P320, with what else was done to the film; the coarsest scratch left is of another step.
skipped(before, after) := over(
	[fall(3, "P120", 4, "P320", "P180")],
	array.concat(array.concat(before, [at(3, "P120"), at(4, "P320")]), after), at(9, "P600"), {},
)

test_coarser_paper_before_the_skip_is_no_going_back if grades(skipped([at(2, "P80")], [])) == {["risk", "will"]}

test_coarser_paper_after_the_skip_is if {
	grades(skipped([], [at(5, "P180")])) == set()
	grades(skipped([], [object.union(at(5, "P180"), {"do": "block"})])) == set()
}

test_a_scuff_after_the_skip_is_no_going_back if {
	grades(skipped([], [object.union(at(5, "P180"), {"do": "scuff"})])) == {["risk", "will"]}
}

test_what_only_may_be_coarser_is_no_going_back if {
	grades(skipped([], [object.union(pad("fine pad", "P240", "P400"), {"step": 5, "do": "sand"})])) == {["risk", "will"]}
}
