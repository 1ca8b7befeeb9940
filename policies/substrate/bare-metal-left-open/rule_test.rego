package guidecoat.substrate["bare-metal-left-open_test"]

import data.guidecoat.substrate["bare-metal-left-open"] as rule

limits := {
	"metal_steel_fine": {"measure": {"text": "P180"}},
	"metal_aluminum_fine": {"measure": {"text": "P320"}},
	"metal_stainless_fine": {"measure": {"text": "P180"}},
	"metal_galvanized_fine": {"measure": {"text": "P320"}},
}

# hours over a limit of as many.
against(lo, hi, limit) := {
	"sense": "most", "open": false, "leaned": [], "source": "limit", "graced": false,
	"over": {"lo": lo / limit, "hi": hi / limit},
	"measured": {"text": "some hours", "shown": {"lo": lo, "hi": hi, "unit": "h"}},
	"limit": {"text": sprintf("%d h", [limit]), "shown": {"lo": limit, "hi": limit, "unit": "h"}},
}

contact(more) := object.union(
	{
		"id": "panel/4:grey", "zone": "panel", "step": 4, "upper": "4:grey", "lower": "0:metal",
		"upper_name": "grey", "lower_name": "the metal", "upper_kind": "epoxy primer", "lower_kind": "mild steel",
		"upper_traits": {"acid": false}, "lower_traits": {"steel": true, "zinc": false},
		"open_steel": null, "open_day": null, "open_outdoors": false,
		"tooth": {"fine_card": null}, "wipes": [{"step": 3}], "place": {},
	},
	more,
)

steel(lo, hi) := contact({"open_steel": against(lo, hi, 8), "open_day": against(lo, hi, 24)})

found(c) := vs if {
	vs := rule.verdict with input as {"contacts_on_metal": [c], "limits": limits}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

test_steel_open_eight_hours_is_silent if found(steel(8, 8)) == set()

test_steel_open_over_eight_hours_is_a_risk if grades(steel(9, 9)) == {["risk", "will"]}

test_steel_open_perhaps_over_eight_hours_may_be if grades(steel(2, 12)) == {["risk", "may"]}

test_steel_open_for_a_day_is_still_a_risk if grades(steel(24, 24)) == {["risk", "will"]}

test_steel_open_over_a_day_fails if {
	some v in found(steel(25, 25))
	v.grade == "fails"
	v.certainty == "will"
	v.limit.hi == 24
}

test_steel_open_perhaps_over_a_day_is_a_risk if grades(steel(12, 30)) == {["risk", "will"]}

test_a_day_counts_for_steel_alone if {
	aluminum := {"lower_kind": "aluminum", "lower_traits": {"steel": false}, "open_steel": against(30, 30, 8), "open_day": against(30, 30, 24)}
	grades(contact(aluminum)) == {["risk", "will"]}
}

test_blasted_steel_is_held_to_its_own_hours if {
	grades(contact({"open_steel": against(5, 5, 4), "open_day": against(5, 5, 24)})) == {["risk", "will"]}
	found(contact({"open_steel": against(4, 4, 4), "open_day": against(4, 4, 24)})) == set()
}

test_converted_steel_within_a_day_is_silent if {
	found(contact({"open_steel": against(20, 20, 24), "open_day": against(20, 20, 24)})) == set()
}

test_metal_whose_time_nobody_wrote_is_silent if {
	open := {"open": true, "over": {"lo": 0, "hi": null}}
	found(contact({"open_steel": object.union(against(0, 0, 8), open), "open_day": object.union(against(0, 0, 24), open)})) == set()
}

test_any_bare_metal_outdoors_is_a_risk if {
	grades(contact({"open_outdoors": true})) == {["risk", "will"]}
	grades(contact({"open_outdoors": true, "lower_kind": "galvanized steel", "lower_traits": {"steel": false, "zinc": true}})) == {["risk", "will"]}
}

test_too_long_and_outdoors_is_one_finding if {
	count(found(contact({"open_outdoors": true, "open_steel": against(9, 9, 8), "open_day": against(9, 9, 24)}))) == 1
}

test_stainless_is_exempt if {
	out := {"lower_kind": "stainless steel", "lower_traits": {"steel": false}, "open_outdoors": true, "open_steel": against(90, 90, 8)}
	found(contact(out)) == set()
}

test_it_is_mended_by_abrading_again_before_the_wipe if {
	some v in found(steel(9, 9))
	v.mend[0] == {"edit": "insert", "where": "before", "step": 3, "set": {"do": "sand", "grit": "P180"}}
}

test_stainless_takes_any_time if {
	open := {"open_steel": against(30, 30, 8), "open_day": against(30, 30, 24)}
	found(contact(object.union(open, {"lower_kind": "stainless steel", "lower_traits": {"steel": false}}))) == set()
}
