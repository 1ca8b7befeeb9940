package guidecoat.substrate["solder-flux-left_test"]

import data.guidecoat.substrate["solder-flux-left"] as rule

contact(solder) := {
	"id": "seam/6:x", "zone": "seam", "step": 6, "upper": "6:x", "lower": "2:body-solder", "upper_name": "x",
	"lower_name": "body solder", "solder": solder, "place": {},
}

found(c) := vs if {
	vs := rule.verdict with input as {
		"contacts": [c],
		"limits": {"rinse_dry": {"measure": {"text": "10 min"}}, "water_flash": {"measure": {"text": "15 min"}}},
	}
}

done(n, r, c) := contact({"neutralized": n, "rinsed": r, "cleaned": c})

risk(c) if {
	some v in found(c)
	v.grade == "risk"
}

test_film_on_solder_with_nothing_done_is_a_risk if {
	some v in found(done(false, false, false))
	v.grade == "risk"
	[e.set.do | some e in v.mend] == ["neutralize", "rinse", "clean"]
}

test_each_of_the_three_is_needed if {
	risk(done(false, true, true))
	risk(done(true, false, true))
	risk(done(true, true, false))
}

test_all_three_done_is_silent if found(done(true, true, true)) == set()

test_film_on_anything_else_is_silent if found(contact(null)) == set()
