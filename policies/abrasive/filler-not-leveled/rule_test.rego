package guidecoat.abrasive["filler-not-leveled_test"]

import data.guidecoat.abrasive["filler-not-leveled"] as rule

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

fillers := ["body filler", "fiber filler", "finishing putty", "one-part putty", "plastic repair filler"]

test_a_film_on_filler_as_it_lay_fails if {
	every lower in array.concat(fillers, ["polyester surfacer"]) {
		grades(contact({"lower_kind": lower})) == {"fails"}
	}
}

test_filler_on_filler_as_it_lay_is_a_risk if {
	every upper in fillers {
		grades(contact({"upper_kind": upper})) == {"risk"}
	}
}

test_polyester_surfacer_and_filler_are_not_filler_on_filler if {
	grades(contact({"upper_kind": "polyester surfacer"})) == {"fails"}
	grades(contact({"lower_kind": "polyester surfacer"})) == {"fails"}
}

test_filler_that_was_abraded_is_silent if {
	grades(contact({"abraded": true})) == set()
	grades(contact({"upper_kind": "finishing putty", "abraded": true})) == set()
}

test_a_card_that_names_filler_does_not_do_the_sanding if grades(contact({"card_says": "allows"})) == {"fails"}

test_filler_that_was_there_wants_sanding_too if grades(contact({"lower_existing": true, "lower_step": 0})) == {"fails"}

test_body_solder_and_other_films_are_not_this_rules_matter if {
	every lower in ["body solder", "seam sealer", "urethane surfacer", "lacquer primer", "epoxy primer", "mild steel"] {
		grades(contact({"lower_kind": lower})) == set()
	}
}

test_it_offers_a_block_that_suits_what_goes_over_it if {
	some v in found(contact({"upper_traits": {"class": "primer"}}))
	v.mend == [{"edit": "insert", "where": "before", "step": 6, "set": {"do": "block", "grit": "P180"}}]
	some w in found(contact({"upper_kind": "solvent basecoat", "upper_traits": {"class": "color"}}))
	w.mend[0].set.grit == "P500"
}

test_filler_on_polyester_surfacer_is_not_filler_on_filler if {
	grades(contact({"upper_kind": "body filler", "lower_kind": "polyester surfacer"})) == {"fails"}
}

test_clear_and_sealer_want_the_finer_block_too if {
	every class in ["color", "clear", "sealer"] {
		some v in found(contact({"upper_traits": {"class": class}}))
		v.mend[0].set.grit == "P500"
	}
}
