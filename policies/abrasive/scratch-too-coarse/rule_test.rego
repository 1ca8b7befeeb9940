package guidecoat.abrasive["scratch-too-coarse_test"]

import data.guidecoat.abrasive["scratch-too-coarse"] as rule

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
	vs := rule.verdict with input as {"contacts": [c], "limits": limits, "zones": [], "cards": cards}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

cards := {"upper": {"effect": ""}, "silver": {"effect": "metallic"}, "white": {"effect": "pearl"}, "red": {"effect": "candy"}, "black": {"effect": "solid"}}

over(kind, class, scratch, more) := contact(object.union(
	{
		"upper_kind": kind, "upper_traits": {"class": class}, "scratch": grit(scratch), "refine": [],
		"coarse": against("most", microns(scratch), "P400", "typical"),
	},
	more,
))

base(scratch, card) := over("solvent basecoat", "color", scratch, {"upper_card": card})

test_under_solid_color_a_scratch_coarser_than_p320_fails if {
	some v in found(base("P280", "black"))
	[v.grade, v.certainty, v.leaned] == ["fails", "will", []]
	v.measured.lo == 52.2
	v.limit.lo == 46.2
}

test_under_solid_color_p320_and_p360_are_a_risk if {
	grades(base("P320", "black")) == {["risk", "will"]}
	grades(base("P360", "black")) == {["risk", "will"]}
}

test_under_solid_color_p400_is_right if grades(base("P400", "black")) == set()

test_under_metallic_pearl_or_candy_p400_is_a_risk if {
	every card in ["silver", "white", "red"] {
		grades(base("P400", card)) == {["risk", "will"]}
		grades(base("P320", card)) == {["risk", "will"]}
		grades(base("P280", card)) == {["fails", "will"]}
		grades(base("P500", card)) == set()
	}
}

test_an_effect_that_nobody_wrote_is_solid if grades(base("P400", "upper")) == set()

test_waterborne_base_mid_coat_clear_and_lacquer_are_held_to_the_same if {
	every kind in ["waterborne basecoat", "mid coat", "lacquer topcoat"] {
		grades(over(kind, "color", "P280", {})) == {["fails", "will"]}
		grades(over(kind, "color", "P360", {})) == {["risk", "will"]}
		grades(over(kind, "color", "P400", {})) == set()
	}
	grades(over("urethane clear", "clear", "P280", {})) == {["fails", "will"]}
	grades(over("urethane clear", "clear", "P320", {})) == {["risk", "will"]}
	grades(over("urethane clear", "clear", "P400", {})) == set()
}

test_under_single_stage_a_scratch_coarser_than_p280_fails if {
	every kind in ["single-stage urethane", "single-stage enamel"] {
		grades(over(kind, "color", "P240", {})) == {["fails", "will"]}
		grades(over(kind, "color", "P280", {})) == {["risk", "will"]}
		grades(over(kind, "color", "P320", {})) == set()
	}
}

test_single_stage_metallic_is_single_stage_still if {
	grades(over("single-stage urethane", "color", "P320", {"upper_card": "silver"})) == set()
}

card_says(scratch, limit) := {"coarse": against("most", microns(scratch), limit, "card")}

test_a_card_that_takes_coarser_lets_it_in if grades(object.union(base("P280", "black"), card_says("P280", "P240"))) == set()

test_a_cards_limit_missed_by_little_is_a_risk if {
	some v in found(object.union(base("P400", "black"), card_says("P400", "P500")))
	[v.grade, v.certainty] == ["risk", "will"]
	v.limit.lo == 30.2
}

test_a_cards_limit_missed_by_a_scratch_that_would_fail_anyhow_fails if {
	grades(object.union(base("P180", "black"), card_says("P180", "P240"))) == {["fails", "will"]}
	grades(object.union(base("P180", "black"), card_says("P180", "P400"))) == {["fails", "will"]}
}

test_a_single_stage_card_is_held_to_its_own_number if {
	grades(over("single-stage urethane", "color", "P280", card_says("P280", "P240"))) == set()
	grades(over("single-stage urethane", "color", "P220", card_says("P220", "P240"))) == {["fails", "will"]}
}

primer(scratch, limit, source) := over("urethane surfacer", "surfacer", scratch, {
	"coarse": against("most", microns(scratch), limit, source), "lower_kind": "body filler",
})

test_under_a_primer_the_kinds_limit_is_a_risk_that_may_be if {
	some v in found(primer("P80", "P120", "typical"))
	[v.grade, v.certainty] == ["risk", "may"]
	v.leaned == ["upper.grit_beneath"]
	contains(v.message, "typical; copy the data sheet's")
}

test_under_a_primer_the_cards_limit_is_a_risk if grades(primer("P80", "P120", "card")) == {["risk", "will"]}

test_under_a_primer_its_own_limit_is_right if {
	grades(primer("P120", "P120", "typical")) == set()
	grades(primer("P120", "P120", "card")) == set()
}

test_a_primer_without_a_limit_is_silent if {
	grades(over("one-part acid primer", "primer", "P36", {"coarse": null, "lower_kind": "body solder"})) == set()
}

test_a_surface_without_a_scratch_is_silent if grades(object.union(base("P280", "black"), {"scratch": null, "coarse": null})) == set()

test_on_bare_metal_the_metals_rules_speak if {
	grades(object.union(base("P80", "black"), {"lower_kind": "mild steel", "lower_traits": {"metal": true}})) == set()
}

test_a_scratch_of_no_written_grade_is_silent if {
	c := object.union(base("P280", "black"), {"scratch": {"name": "", "known": false, "microns": {"lo": 0, "hi": null, "open": true, "text": "", "shown": {}}}})
	grades(c) == set()
}

test_a_scuff_that_spans_the_limit_may_show if {
	wide := {"lo": 40, "hi": 60, "open": false, "text": "worn disc", "shown": {"lo": 40, "hi": 60, "unit": "µm"}}
	c := object.union(base("P400", "black"), {"scratch": object.union(grit("P400"), {"microns": wide})})
	grades(c) == {["risk", "will"]}
	grades(object.union(c, {"scratch": {"microns": {"lo": 30}}})) == {["risk", "may"]}
}

test_it_offers_the_first_grade_that_is_fine_enough if {
	c := object.union(base("P180", "silver"), {"refine": [grit("P220"), grit("P320"), grit("P400"), grit("P500"), grit("P600")]})
	some v in found(c)
	v.mend == [{"edit": "insert", "where": "before", "step": 6, "set": {"do": "sand", "grit": "P500"}}]
}

test_where_one_grade_does_not_do_it_it_offers_the_finest_that_takes_the_scratch_away if {
	c := object.union(base("P80", "silver"), {"refine": [grit("P120"), grit("P150"), grit("P180")]})
	some v in found(c)
	v.mend[0].set == {"do": "sand", "grit": "P180"}
}

test_where_no_grade_is_known_it_offers_none if {
	some v in found(base("P280", "black"))
	v.mend == []
}

test_under_a_primer_the_limits_of_color_do_not_hold if grades(primer("P360", "P320", "typical")) == set()
