package guidecoat.substrate["stripper-left-behind_test"]

import data.guidecoat.substrate["stripper-left-behind"] as rule

contact(stripper) := {
	"id": "panel/5:x", "zone": "panel", "step": 5, "upper": "5:x", "lower": "0:mild-steel", "upper_name": "x",
	"lower_name": "mild steel", "wipes": [], "stripper": stripper, "place": {},
}

met(more) := contact(object.union({"step": 1, "rinsed": false, "wiped": false, "abraded": false}, more))

found(c) := vs if {
	vs := rule.verdict with input as {
		"contacts": [c],
		"limits": {"rinse_dry": {"measure": {"text": "10 min"}}, "metal_steel_fine": {"measure": {"text": "P180"}}},
	}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

test_stripper_with_nothing_after_it_fails if {
	some v in found(met({}))
	v.grade == "fails"
	v.mend[0] == {"edit": "insert", "where": "after", "step": 1, "set": {"do": "rinse", "dried_within": "10 min"}}
	v.mend[1] == {"edit": "insert", "where": "before", "step": 5, "set": {"do": "sand", "grit": "P180"}}
}

test_stripper_rinsed_or_wiped_but_not_abraded_is_a_risk if {
	grades(met({"rinsed": true})) == {["risk", "will"]}
	grades(met({"wiped": true})) == {["risk", "will"]}
}

test_stripper_abraded_but_neither_rinsed_nor_wiped_is_a_risk if {
	some v in found(met({"abraded": true}))
	v.grade == "risk"
	count(v.mend) == 1
	v.mend[0].set.do == "rinse"
}

test_stripper_rinsed_and_abraded_is_silent if found(met({"rinsed": true, "abraded": true})) == set()

test_stripper_wiped_and_abraded_is_silent if found(met({"wiped": true, "abraded": true})) == set()

test_surface_that_met_no_stripper_is_silent if found(contact(null)) == set()

test_metal_is_sanded_and_a_film_may_be_scuffed_instead if {
	some metal in found(object.union(met({"rinsed": true}), {"lower_traits": {"metal": true}}))
	[e.set.do | some e in metal.mend] == ["sand"]
	some film in found(object.union(met({"rinsed": true}), {"lower_traits": {"metal": false}}))
	[e.set.do | some e in film.mend] == ["sand", "scuff"]
}
