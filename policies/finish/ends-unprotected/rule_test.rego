package guidecoat.finish["ends-unprotected_test"]

import data.guidecoat.finish["ends-unprotected"] as rule

ending(more) := object.union(
	{
		"id": "panel/5-0", "zone": "panel", "step": 5, "layer": "5:base", "name": "base (solvent basecoat)",
		"kind": "solvent basecoat", "existing": false, "substrate": false, "faces": "weather", "pore": false, "place": {},
		"traits": {"class": "color", "metal": false, "weatherproof": false, "epoxy": false},
	},
	more,
)

grades(ends_as, e) := gs if {
	vs := rule.verdict with input as {"sheet": {"ends_as": ends_as}, "endings": [e]}
	gs := {v.grade | some v in vs}
}

steel := {
	"substrate": true, "name": "mild steel", "kind": "mild steel",
	"traits": {"class": "substrate", "metal": true, "weatherproof": false, "epoxy": false},
}

test_basecoat_without_clear_fails if grades("finished", ending({})) == {"fails"}

test_clear_is_an_end if grades("finished", ending({"traits": {"class": "clear", "weatherproof": true}})) == set()

test_bare_steel_fails_however_the_sheet_ends if {
	grades("finished", ending(steel)) == {"fails"}
	grades("primed", ending(steel)) == {"fails"}
	grades("sealed", ending(steel)) == {"fails"}
}

test_stainless_and_plastic_are_ends if {
	grades("finished", ending(object.union(steel, {"kind": "stainless steel"}))) == set()
	grades("finished", ending(object.union(steel, {
		"kind": "bare plastic",
		"traits": {"class": "substrate", "metal": false, "weatherproof": true, "epoxy": false},
	}))) == set()
}

epoxy := {"kind": "epoxy primer", "traits": {"class": "primer", "metal": false, "weatherproof": false, "epoxy": true}}

test_epoxy_outside_fails_and_in_a_cavity_is_an_end if {
	grades("finished", ending(epoxy)) == {"fails"}
	grades("finished", ending(object.union(epoxy, {"faces": "cavity"}))) == set()
	grades("finished", ending(object.union(epoxy, {"faces": "underside"}))) == set()
	grades("finished", ending(object.union(epoxy, {"faces": "inside"}))) == set()
}

test_a_coating_inside_is_an_end if {
	grades("finished", ending({
		"kind": "chip guard", "faces": "inside",
		"traits": {"class": "coating", "metal": false, "weatherproof": false, "epoxy": false},
	})) == set()
}

test_urethane_surfacer_inside_is_no_end if {
	grades("finished", ending({
		"kind": "urethane surfacer", "faces": "inside",
		"traits": {"class": "surfacer", "metal": false, "weatherproof": false, "epoxy": false},
	})) == {"fails"}
}

test_factory_finish_is_an_end_and_e_coat_is_not if {
	finish := {"class": "finish", "metal": false, "weatherproof": true, "epoxy": false}
	grades("finished", ending({"kind": "factory finish", "existing": true, "traits": finish})) == set()
	grades("finished", ending({"kind": "e-coat", "existing": true, "traits": finish})) == {"fails"}
}

test_a_primed_sheet_may_end_in_primer_but_not_in_filler if {
	grades("primed", ending(epoxy)) == set()
	grades("sealed", ending(epoxy)) == set()
	grades("primed", ending({"kind": "body filler", "pore": true})) == {"fails"}
	grades("finished", ending({
		"kind": "fiberglass", "pore": true, "substrate": true,
		"traits": {"class": "substrate", "metal": false, "weatherproof": false, "epoxy": false},
	})) == {"fails"}
}

test_what_was_only_primed_at_the_factory_or_is_unknown_is_no_end if {
	every kind in ["e-coat", "factory primer", "unknown finish"] {
		grades("finished", ending({
			"kind": kind, "existing": true,
			"traits": {"class": "finish", "metal": false, "weatherproof": true, "epoxy": false},
		})) == {"fails"}
	}
}

test_a_finished_sheet_that_ends_bare_is_told_once if {
	vs := rule.verdict with input as {"sheet": {"ends_as": "finished"}, "endings": [ending(steel)]}
	count(vs) == 1
}

wax := {"kind": "cavity wax", "traits": {"class": "coating", "metal": false, "weatherproof": false, "epoxy": false}}

test_a_coating_that_is_not_for_the_weather_is_no_end_outside if {
	grades("finished", ending(wax)) == {"fails"}
	grades("finished", ending(object.union(wax, {"faces": "cavity"}))) == set()
}

test_body_solder_is_not_the_bare_panel if {
	grades("primed", ending({
		"kind": "body solder",
		"traits": {"class": "filler", "metal": true, "weatherproof": false, "epoxy": false},
	})) == set()
}

test_a_porous_film_that_its_card_calls_weatherproof_is_an_end if {
	grades("primed", ending({
		"pore": true,
		"traits": {"class": "surfacer", "metal": false, "weatherproof": true, "epoxy": false},
	})) == set()
}
