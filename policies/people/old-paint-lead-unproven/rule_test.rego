package guidecoat.people["old-paint-lead-unproven_test"]

import data.guidecoat.people["old-paint-lead-unproven"] as rule

limits := {"lead_year": {"measure": {"lo": 1990}}}

step(more) := object.union(
	{
		"id": "1", "n": 1, "do": "sand", "dusty": true, "inspected": [],
		"worked": [{"kind": "aged enamel"}], "place": {},
	},
	more,
)

grades(year, s) := gs if {
	vs := rule.verdict with input as {"limits": limits, "panel": {"year": year}, "steps": [s]}
	gs := {v.grade | some v in vs}
}

test_sanding_untested_old_enamel_fails if {
	grades(1961, step({})) == {"fails"}
	grades(null, step({})) == {"fails"}
}

test_a_car_of_the_limit_year_fails if grades(1990, step({})) == {"fails"}

test_a_later_car_is_advice if grades(1991, step({})) == {"advice"}

test_a_test_for_lead_before_it_is_silent if grades(1961, step({"inspected": ["film", "lead"]})) == set()

test_chemical_stripping_counts if grades(1961, step({"do": "strip", "dusty": false})) == {"fails"}

test_wet_sanding_is_silent if grades(1961, step({"dusty": false})) == set()

test_scuffing_counts if grades(1961, step({"do": "scuff"})) == {"fails"}

test_factory_finish_is_silent if grades(1961, step({"worked": [{"kind": "factory finish"}]})) == set()

test_every_finish_that_may_hold_lead_counts if {
	every kind in ["aged enamel", "aged lacquer", "unknown finish", "body solder"] {
		grades(1961, step({"worked": [{"kind": kind}]})) == {"fails"}
	}
}

test_every_dry_abrasion_counts_and_polishing_is_none if {
	every do in ["sand", "block", "scuff"] {
		grades(1961, step({"do": do})) == {"fails"}
	}
	grades(1961, step({"do": "polish"})) == set()
}
