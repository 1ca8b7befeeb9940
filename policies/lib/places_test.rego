package guidecoat.lib_places_test

import data.guidecoat.lib

zones := [
	{"name": "panel", "parent": ""},
	{"name": "dent (left)", "parent": ""},
	{"name": "rub", "parent": "panel"},
	{"name": "edge (panel)", "parent": "panel"},
	{"name": "panel cut to e-coat", "parent": "panel"},
	{"name": "panel cut to e-coat cut to substrate", "parent": "panel cut to e-coat"},
]

limits := {"porous_dry_out": {"measure": {"text": "30 min"}}, "water_flash": {"measure": {"text": "15 min"}}}

at(z) := s if {
	s := lib.steps_at(z, {"do": "tack"}) with input as {"zones": zones}
}

around(z) := s if {
	s := lib.steps_around(z, {"do": "tack"}) with input as {"zones": zones}
}

test_a_written_zone_is_named if at("dent (left)") == [{"do": "tack", "on": ["dent (left)"]}]

test_a_cut_with_a_call_is_named if at("rub") == [{"do": "tack", "on": ["rub"]}]

test_a_call_cut_in_several_zones_is_named_by_the_call if at("edge (panel)") == [{"do": "tack", "on": ["edge"]}]

test_a_cut_without_a_name_cannot_be_reached_alone if at("panel cut to e-coat") == []

test_a_cut_without_a_name_is_reached_through_its_zone if around("panel cut to e-coat") == [{"do": "tack", "on": ["panel"]}]

test_a_cut_in_a_cut_is_reached_through_the_first_zone if {
	around("panel cut to e-coat cut to substrate") == [{"do": "tack", "on": ["panel"]}]
}

test_a_panel_of_one_zone_needs_no_word if {
	s := lib.steps_at("panel", {"do": "tack"}) with input as {"zones": [{"name": "panel", "parent": ""}]}
	s == [{"do": "tack"}]
}

wiped(c) := m if {
	m := lib.wiped_before(c, "wax and grease remover") with input as {"zones": zones, "limits": limits}
}

test_a_wipe_near_pores_dries_longer if {
	wiped({"step": 4, "zone": "rub", "lower_pore": false})[0].set.then_wait == "30 min"
	wiped({"step": 4, "zone": "panel", "lower_pore": true})[0].set.then_wait == "30 min"
	wiped({"step": 4, "zone": "panel", "lower_pore": false})[0].set.then_wait == "15 min"
}

grit(lower, zinc, upper) := g if {
	c := {
		"lower_kind": lower, "upper_kind": upper, "upper_traits": {"acid": false},
		"lower_traits": {"steel": lower == "mild steel", "zinc": zinc}, "tooth": {"fine_card": null},
	}
	g := lib.metal_grit(c) with input as {"limits": {
		"metal_steel_fine": {"measure": {"text": "A"}},
		"metal_filler_fine": {"measure": {"text": "B"}},
		"metal_stainless_fine": {"measure": {"text": "C"}},
		"metal_aluminum_fine": {"measure": {"text": "D"}},
		"metal_galvanized_fine": {"measure": {"text": "E"}},
	}}
}

test_every_metal_has_its_own_grade if {
	grit("mild steel", false, "epoxy primer") == "A"
	grit("mild steel", false, "body filler") == "B"
	grit("stainless steel", false, "body filler") == "C"
	grit("aluminum", false, "epoxy primer") == "D"
	grit("galvanized steel", true, "epoxy primer") == "E"
}

acid_on(lower) := g if {
	c := {
		"lower_kind": lower, "upper_kind": "one-part acid primer", "upper_traits": {"acid": true},
		"lower_traits": {"steel": lower == "mild steel", "zinc": false}, "tooth": {"fine_card": null},
	}
	g := lib.metal_grit(c) with input as {"limits": {
		"metal_steel_acid_fine": {"measure": {"text": "F"}},
		"metal_stainless_fine": {"measure": {"text": "C"}},
		"metal_aluminum_fine": {"measure": {"text": "D"}},
	}}
}

test_acid_primer_takes_a_finer_scratch_on_steel_alone if {
	acid_on("mild steel") == "F"
	acid_on("stainless steel") == "C"
	acid_on("aluminum") == "D"
}

test_stainless_has_its_grade_under_a_primer_too if grit("stainless steel", false, "epoxy primer") == "C"
