package guidecoat.abrasive["scuffed-not-covered_test"]

import data.guidecoat.abrasive["scuffed-not-covered"] as rule

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

ending(more) := object.union(
	{
		"id": "roof/9-0", "zone": "roof", "layer": "0.1:factory finish", "kind": "factory finish", "name": "factory finish",
		"traits": {"class": "finish"}, "step": 0, "scratch": grit("P800"), "scratch_step": 3, "polished": false, "place": {"line": 10},
	},
	more,
)

finished(e) := ending_as("finished", e)

ending_as(end, e) := vs if {
	vs := rule.verdict with input as {
		"sheet": {"ends_as": end}, "endings": [e], "limits": limits, "zones": [], "steps": [{"n": 3, "place": {"line": 33}}],
	}
}

grades(e) := {[v.grade, v.certainty] | some v in finished(e)}

clear := {"kind": "urethane clear", "traits": {"class": "clear"}}

test_a_scratch_coarser_than_p1500_left_on_clear_fails if {
	some v in finished(ending(object.union(clear, {"scratch": grit("P1200")})))
	[v.grade, v.certainty, v.step, v.on, v.zone] == ["fails", "will", 3, "roof/9-0", "roof"]
	v.place == {"line": 33}
	v.limit.lo == 12.6
}

test_p1500_and_finer_may_be_left if {
	grades(ending(object.union(clear, {"scratch": grit("P1500")}))) == set()
	grades(ending(object.union(clear, {"scratch": grit("P2000")}))) == set()
}

test_a_pad_left_on_clear_fails_however_fine if {
	some v in finished(ending(object.union(clear, {"scratch": pad("ultra fine pad", "P800", "P1000")})))
	[v.grade, v.certainty] == ["fails", "will"]
	count(v.mend) == 1
}

test_a_scratch_that_may_be_coarser_is_a_risk if {
	wide := object.union(grit("P1500"), {"microns": {"lo": 10, "hi": 15, "open": false, "shown": {"lo": 10, "hi": 15, "unit": "µm"}}})
	grades(ending(object.union(clear, {"scratch": wide}))) == {["risk", "may"]}
}

test_color_and_finishes_that_were_there_count if {
	grades(ending({"kind": "single-stage urethane", "traits": {"class": "color"}})) == {["fails", "will"]}
	every kind in ["factory finish", "two-part refinish", "aged enamel", "aged lacquer", "powder coat", "gelcoat", "unknown finish"] {
		grades(ending({"kind": kind})) == {["fails", "will"]}
	}
}

test_primer_and_metal_are_not_this_rules_matter if {
	grades(ending({"kind": "epoxy primer", "traits": {"class": "primer"}})) == set()
	grades(ending({"kind": "e-coat"})) == set()
	grades(ending({"kind": "factory primer"})) == set()
	grades(ending({"kind": "stainless steel", "traits": {"class": "substrate"}})) == set()
}

test_what_film_or_polish_followed_is_silent if grades(ending({"scratch": null, "scratch_step": 0})) == set()

test_a_sheet_that_does_not_end_finished_is_silent if {
	count(ending_as("primed", ending({}))) == 0
	count(ending_as("sealed", ending({}))) == 0
}

test_it_offers_polish_for_a_scratch_and_clear_for_anything if {
	some v in finished(ending({}))
	[e.set | some e in v.mend] == [{"do": "polish"}, {"do": "spray", "product_kind": ["urethane clear", "one-part clear"]}]
}
