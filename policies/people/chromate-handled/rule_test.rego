package guidecoat.people["chromate-handled_test"]

import data.guidecoat.people["chromate-handled"] as rule

cup(more) := object.union(
	{
		"id": "3", "step": 3, "name": "green (epoxy primer)", "chromate": true, "sprayed": true, "wear": [], "place": {},
	},
	more,
)

step(more) := object.union(
	{
		"id": "4", "n": 4, "do": "sand", "tool": "", "wear": [], "place": {},
		"worked": [{"name": "green (epoxy primer)", "hazards": ["chromate"]}],
	},
	more,
)

sprayed(m) := gs if {
	vs := rule.verdict with input as {"mixes": [m], "steps": []}
	gs := {v.grade | some v in vs}
}

sanded(s) := gs if {
	vs := rule.verdict with input as {"mixes": [], "steps": [s]}
	gs := {v.grade | some v in vs}
}

test_sprayed_without_air_fails if {
	sprayed(cup({})) == {"fails"}
	sprayed(cup({"wear": ["cartridge respirator"]})) == {"fails"}
}

test_sprayed_in_supplied_air_is_silent if sprayed(cup({"wear": ["supplied-air respirator"]})) == set()

test_brushed_is_silent if sprayed(cup({"sprayed": false})) == set()

test_no_chromate_is_silent if sprayed(cup({"chromate": false})) == set()

test_sanded_without_respirator_fails if {
	sanded(step({})) == {"fails"}
	sanded(step({"wear": ["extraction"]})) == {"fails"}
}

test_sanded_with_a_respirator_is_silent if sanded(step({"wear": ["particulate respirator"]})) == set()

test_stripped_by_chemical_makes_no_dust if sanded(step({"do": "strip", "tool": "chemical stripper"})) == set()

test_sanding_another_film_is_silent if sanded(step({"worked": [{"name": "x", "hazards": []}]})) == set()

test_every_act_that_makes_dust_of_it_fails if {
	every do in ["sand", "block", "scuff", "strip"] {
		sanded(step({"do": do})) == {"fails"}
	}
}

test_acts_that_make_none_are_silent if {
	sanded(step({"do": "polish"})) == set()
	sanded(step({"do": "strip", "tool": "razor"})) == set()
}

test_every_respirator_counts if {
	every worn in ["particulate respirator", "cartridge respirator", "supplied-air respirator", "blast hood"] {
		sanded(step({"wear": [worn]})) == set()
	}
}
