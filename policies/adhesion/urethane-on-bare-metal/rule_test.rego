package guidecoat.adhesion["urethane-on-bare-metal_test"]

import data.guidecoat.adhesion["urethane-on-bare-metal"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "urethane surfacer", "lower_kind": "mild steel",
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

found(c) := vs if {
	vs := rule.verdict with input as {"contacts_on_metal": [c], "limits": {"spot_metal_typical": {"measure": {"text": "4 in2"}}}, "zones": [{"name": "panel", "parent": ""}, {"name": "dent", "parent": ""}]}
}

grades(c) := {v.grade | some v in found(c)}

# Against 4 in2, the usual largest spot.
size(lo, hi, open, limit, source) := {
	"measured": {"text": "SIZE", "lo": lo, "hi": hi, "open": open, "shown": {"lo": lo, "hi": hi, "unit": "in2"}},
	"limit": {"text": "LIMIT", "lo": limit, "hi": limit, "open": false, "shown": {"lo": limit, "hi": limit, "unit": "in2"}},
	"sense": "most", "open": open, "source": source, "leaned": [], "graced": false,
	"over": {"lo": lo / limit, "hi": hi / limit},
}

on_steel(more) := contact(object.union(
	{
		"lower": "0:mild steel", "lower_step": 0, "lower_substrate": true,
		"lower_traits": {"class": "substrate", "metal": true, "steel": true},
		"spot_metal": null, "spot_typical": size(2000, 2000, false, 4, "limit"),
	},
	more,
))

cut(more) := on_steel(object.union({"zone_facts": {"cut": true}}, more))

test_surfacer_on_bare_steel_fails if grades(on_steel({})) == {"fails"}

test_sealer_on_bare_steel_fails if grades(on_steel({"upper_kind": "urethane sealer"})) == {"fails"}

test_every_metal_counts if {
	every kind in ["aluminum", "galvanized steel", "stainless steel", "cast iron"] {
		grades(on_steel({"lower_kind": kind})) == {"fails"}
	}
}

test_a_card_that_is_direct_to_metal_lets_it_in if grades(on_steel({"card_says": "allows"})) == set()

test_a_card_with_another_metal_on_its_list_does_not if grades(on_steel({"card_says": "unlisted"})) == {"fails"}

test_other_kinds_are_not_this_rules_matter if {
	every kind in ["epoxy primer", "polyester surfacer", "single-stage urethane", "urethane clear", "bed liner"] {
		grades(on_steel({"upper_kind": kind})) == set()
	}
}

test_a_small_bare_place_that_is_no_cut_fails if {
	grades(on_steel({"spot_metal": size(3, 3, false, 4, "card"), "spot_typical": size(3, 3, false, 4, "limit")})) == {"fails"}
}

test_a_cut_within_the_cards_spot_is_advice if {
	some v in found(cut({"spot_metal": size(3, 3, false, 4, "card")}))
	v.grade == "advice"
	v.certainty == "will"
	v.limit == {"lo": 4, "hi": 4, "unit": "in2"}
}

test_a_cut_exactly_as_large_as_the_cards_spot_is_advice if grades(cut({"spot_metal": size(4, 4, false, 4, "card")})) == {"advice"}

test_a_cut_over_the_cards_spot_fails if {
	some v in found(cut({"spot_metal": size(5, 5, false, 4, "card")}))
	v.grade == "fails"
	v.certainty == "will"
	v.measured == {"lo": 5, "hi": 5, "unit": "in2"}
}

test_a_cut_that_may_be_over_the_cards_spot_is_a_risk if {
	some v in found(cut({"spot_metal": size(0, 10, false, 4, "card")}))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_cut_over_the_cards_small_spot_fails_though_the_usual_one_is_larger if {
	c := cut({"spot_metal": size(3, 3, false, 1, "card"), "spot_typical": size(3, 3, false, 4, "limit")})
	grades(c) == {"fails"}
}

test_a_small_cut_with_a_silent_card_is_a_risk if {
	some v in found(cut({"spot_typical": size(3, 3, false, 4, "limit")}))
	v.grade == "risk"
	v.certainty == "will"
}

test_a_cut_of_just_the_usual_size_is_a_risk if grades(cut({"spot_typical": size(4, 4, false, 4, "limit")})) == {"risk"}

test_a_large_cut_with_a_silent_card_fails if {
	grades(cut({"spot_typical": size(4.1, 4.1, false, 4, "limit")})) == {"fails"}
}

test_a_cut_of_anything_up_to_the_zone_is_a_risk_that_may_be if {
	some v in found(cut({"spot_typical": size(0, 2000, false, 4, "limit")}))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_cut_of_unknown_size_is_a_risk_that_may_be if {
	some v in found(cut({"spot_typical": object.union(size(0, 0, true, 4, "limit"), {"over": {"lo": 0, "hi": null}})}))
	v.grade == "risk"
	v.certainty == "may"
	contains(v.message, "nobody says how large the bare spot is, and the usual limit is 4 in2")
}

test_a_small_cut_with_a_list_that_leaves_steel_out_is_a_risk if {
	grades(cut({"card_says": "unlisted", "spot_typical": size(3, 3, false, 4, "limit")})) == {"risk"}
}

test_a_small_cut_that_the_card_forbids_fails if {
	grades(cut({"card_says": "forbids", "spot_typical": size(3, 3, false, 4, "limit")})) == {"fails"}
}

test_it_offers_a_primer_between if {
	some v in found(on_steel({}))
	v.mend[0].set == {"do": "spray", "product_kind": ["epoxy primer", "one-part acid primer", "two-part wash primer"], "on": ["dent"]}
}

test_in_a_cut_without_a_name_it_offers_nothing if {
	vs := rule.verdict with input as {
		"limits": {"spot_metal_typical": {"measure": {"text": "4 in2"}}},
		"contacts_on_metal": [cut({"zone": "dent cut to mild steel", "id": "x"})],
		"zones": [{"name": "dent", "parent": ""}, {"name": "dent cut to mild steel", "parent": "dent"}],
	}
	{v.mend | some v in vs} == {[]}
}

stripped(more) := on_steel(object.union({"tooth": {"bared": "sander"}}, more))

test_a_small_spot_that_was_stripped_is_as_one_cut_through if {
	grades(stripped({"spot_typical": size(3, 3, false, 4, "limit")})) == {"risk"}
	some v in found(stripped({"spot_metal": size(3, 3, false, 4, "card")}))
	v.grade == "advice"
	contains(v.message, "the bare spot is SIZE")
}

test_a_stripped_spot_that_may_be_too_large_may_fail if {
	some v in found(stripped({"spot_metal": size(3, 5, false, 4, "card")}))
	[v.grade, v.certainty] == ["risk", "may"]
}

test_more_than_a_spot_stripped_fails_as_a_panel_does if {
	some v in found(stripped({"spot_metal": size(5, 5, false, 4, "card")}))
	v.grade == "fails"
	endswith(v.message, "does not say that it may")
}

test_a_stripped_place_that_nobody_measured_fails if {
	grades(stripped({"spot_metal": size(0, 0, true, 4, "card")})) == {"fails"}
}

test_small_steel_that_came_bare_fails if {
	grades(on_steel({"tooth": {"bared": ""}, "spot_typical": size(3, 3, false, 4, "limit")})) == {"fails"}
}
