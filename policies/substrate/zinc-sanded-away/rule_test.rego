package guidecoat.substrate["zinc-sanded-away_test"]

import data.guidecoat.substrate["zinc-sanded-away"] as rule

# Medians in µm, ISO 6344 as 4-reference gives them: P120 125, P180 82.
measure(um, name) := {"lo": um, "hi": um, "open": false, "text": name, "shown": {"lo": um, "hi": um, "unit": "µm"}}

p120 := {"name": "P120", "microns": measure(125, "P120")}

p180 := {"name": "P180", "microns": measure(82, "P180")}

contact(more) := object.union(
	{
		"id": "panel/4:x", "zone": "panel", "step": 4, "upper": "4:x", "lower": "0:galvanized-steel", "upper_name": "x",
		"lower_name": "galvanized steel", "upper_card": "x", "upper_kind": "waterborne primer",
		"upper_traits": {"epoxy": false, "acid": false}, "lower_traits": {"zinc": true}, "above": [], "stripped": false,
		"zinc_abraded": p120, "zinc_cut": false, "place": {},
	},
	more,
)

found(c, direct) := vs if {
	vs := rule.verdict with input as {
		"contacts_on_metal": [c],
		"cards": {"x": {"direct_to_metal": direct}},
		"limits": {"zinc_coarse": {"measure": measure(82, "P180")}},
		"layers_by_id": {
			"5:surfacer": {"traits": {"class": "surfacer", "epoxy": false}},
			"5:epoxy": {"traits": {"class": "primer", "epoxy": true}},
			"5:color": {"traits": {"class": "color", "epoxy": false}},
		},
	}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c, [])}

test_zinc_abraded_coarser_than_P180_is_a_risk if grades(contact({})) == {["risk", "will"]}

test_zinc_abraded_with_P180_is_silent if found(contact({"zinc_abraded": p180}), []) == set()

test_zinc_never_abraded_is_silent if found(contact({"zinc_abraded": null}), []) == set()

test_zinc_ground_or_blasted_is_a_risk if grades(contact({"zinc_abraded": null, "zinc_cut": true})) == {["risk", "will"]}

test_grade_that_is_perhaps_too_coarse_may_be if {
	pad := {"name": "some pad", "microns": object.union(measure(125, "some pad"), {"lo": 60})}
	grades(contact({"zinc_abraded": pad})) == {["risk", "may"]}
}

test_epoxy_over_it_is_silent if found(contact({"upper_traits": {"epoxy": true}}), []) == set()

test_acid_primer_and_surfacer_over_it_are_silent if {
	found(contact({"upper_traits": {"acid": true}, "above": ["5:surfacer"]}), []) == set()
	found(contact({"upper_traits": {"acid": true}, "above": ["5:epoxy"]}), []) == set()
}

test_acid_primer_without_surfacer_is_a_risk if {
	grades(contact({"upper_traits": {"acid": true}})) == {["risk", "will"]}
	grades(contact({"upper_traits": {"acid": true}, "above": ["5:color"]})) == {["risk", "will"]}
}

test_acid_primer_that_its_card_lets_on_steel_wants_a_surfacer_all_the_same if {
	etch := contact({"upper_traits": {"acid": true}})
	every metals in [["*"], ["mild steel"]] {
		some v in found(etch, metals)
		v.grade == "risk"
		found(object.union(etch, {"above": ["5:surfacer"]}), metals) == set()
	}
}

test_surfacer_alone_is_a_risk if grades(contact({"above": ["5:surfacer"]})) == {["risk", "will"]}

test_card_direct_to_mild_steel_is_silent if {
	found(contact({}), ["*"]) == set()
	found(contact({}), ["mild steel"]) == set()
}

test_card_direct_to_galvanized_alone_is_a_risk if {
	some v in found(contact({}), ["galvanized steel"])
	v.grade == "risk"
}

test_film_that_is_stripped_off_again_is_silent if found(contact({"stripped": true}), []) == set()

test_mild_steel_is_silent if found(contact({"lower_traits": {"zinc": false}}), []) == set()

test_zinc_ground_and_then_sanded_is_told_once_as_ground if {
	vs := found(contact({"zinc_cut": true}), [])
	count(vs) == 1
	some v in vs
	contains(v.message, "ground or blasted")
}
