package guidecoat.porosity["filler-near-grease_test"]

import data.guidecoat.porosity["filler-near-grease"] as rule

during(do, more) := object.union({"step": 5, "do": do, "same_place": true, "reaches": false, "product_kind": ""}, more)

exposure(acts, more) := object.union(
	{"id": "dent/4-7", "zone": "dent", "from_step": 4, "layer": "4:x", "name": "x", "pore": true, "place": {"line": 4}, "during": acts},
	more,
)

found(x) := vs if {
	vs := rule.verdict with input as {"exposures": [x], "steps": [{"n": 5, "place": {"line": 50}}]}
}

wax := {"product_kind": "cavity wax"}

test_metalwork_and_polish_near_an_open_pore_are_a_risk if {
	every act in ["metalwork", "polish"] {
		some v in found(exposure([during(act, {})], {}))
		v.grade == "risk"
		v.on == "dent/4-7"
		v.step == 5
		v.place == {"line": 50}
	}
}

test_cavity_wax_sprayed_near_an_open_pore_is_a_risk if {
	some v in found(exposure([during("spray", wax)], {}))
	contains(v.message, "cavity wax")
}

test_cavity_wax_brushed_is_silent if found(exposure([during("brush", wax)], {})) == set()

test_other_spraying_is_silent if found(exposure([during("spray", {"product_kind": "epoxy primer"})], {})) == set()

test_grease_in_another_place_is_silent if {
	every act in ["metalwork", "polish"] {
		found(exposure([during(act, {"same_place": false})], {})) == set()
	}
	found(exposure([during("spray", object.union(wax, {"same_place": false}))], {})) == set()
}

test_grease_near_a_closed_film_is_silent if found(exposure([during("polish", {})], {"pore": false})) == set()

test_sanding_and_waiting_are_silent if found(exposure([during("sand", {}), during("wait", {})], {})) == set()

test_two_acts_are_one_finding if {
	vs := found(exposure([during("metalwork", {}), during("polish", {"step": 6})], {}))
	count(vs) == 1
	some v in vs
	contains(v.message, "step 5")
	contains(v.message, "step 6")
}
