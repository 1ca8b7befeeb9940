package guidecoat.abrasive["grade-system-unclear_test"]

import data.guidecoat.abrasive["grade-system-unclear"] as rule

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

step(more) := object.union({"id": "4", "n": 4, "do": "sand", "bare_grade": true, "grade_number": 400, "place": {}}, more)

found(s) := vs if {
	vs := rule.verdict with input as {"steps": [s], "limits": limits}
}

grades(s) := {v.grade | some v in found(s)}

test_a_bare_400_is_advice if {
	some v in found(step({}))
	[v.grade, v.on, v.step] == ["advice", "4", 4]
	v.mend == [{"edit": "set", "step": 4, "key": "grit", "value": "P400"}]
}

test_a_bare_240_is_the_first if {
	grades(step({"grade_number": 240})) == {"advice"}
	grades(step({"grade_number": 220})) == set()
	grades(step({"grade_number": 80})) == set()
}

test_a_grade_that_says_its_system_is_silent if grades(step({"bare_grade": false})) == set()

test_a_step_without_a_grade_is_silent if grades(step({"bare_grade": false, "grade_number": 0})) == set()
