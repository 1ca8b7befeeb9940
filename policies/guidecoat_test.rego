package guidecoat_test

import data.guidecoat

finding(rule, on, grade) := {"rule": rule, "on": on, "grade": grade}

pairs := {"near": ["far", "other"], "far": ["last"]}

left(raised) := {f.rule | some f in found} if {
	found := guidecoat.findings with guidecoat.raised as raised with data.covers as pairs
}

test_the_nearest_cause_speaks_alone if {
	left({finding("near", "panel/3:grey", "fails"), finding("far", "panel/3:grey", "risk")}) == {"near"}
}

test_a_finding_at_the_same_grade_is_covered if {
	left({finding("near", "panel/3:grey", "risk"), finding("far", "panel/3:grey", "risk")}) == {"near"}
}

test_a_graver_finding_is_not_covered if {
	left({finding("near", "panel/3:grey", "risk"), finding("far", "panel/3:grey", "fails")}) == {"near", "far"}
}

test_a_finding_elsewhere_is_not_covered if {
	left({finding("near", "panel/3:grey", "fails"), finding("far", "dent/3:grey", "risk")}) == {"near", "far"}
}

test_a_rule_that_is_not_named_is_not_covered if {
	left({finding("near", "panel/3:grey", "fails"), finding("apart", "panel/3:grey", "advice")}) == {"near", "apart"}
}

test_a_covered_finding_still_covers if {
	left({
		finding("near", "panel/3:grey", "fails"),
		finding("far", "panel/3:grey", "risk"),
		finding("last", "panel/3:grey", "risk"),
	}) == {"near"}
}

families := {
	"substrate": {"a": {"verdict": {{"on": "1"}}}},
	"adhesion": {"b": {"verdict": {{"on": "2"}}}},
	"porosity": {"c": {"verdict": {{"on": "3"}}}},
	"clock": {"d": {"verdict": {{"on": "4"}}}},
	"abrasive": {"e": {"verdict": {{"on": "5"}}}},
	"film": {"f": {"verdict": {{"on": "6"}}}},
	"weather": {"g": {"verdict": {{"on": "7"}}}},
	"mix": {"h": {"verdict": {{"on": "8"}}}},
	"finish": {"i": {"verdict": {{"on": "9"}}}},
	"people": {"j": {"verdict": {{"on": "10"}}}},
	"paper": {"k": {"verdict": {{"on": "11"}}}, "l": {"verdict": set()}},
}

# data.guidecoat holds packages and cannot be replaced as a whole: each family is.
test_every_family_is_gathered_under_its_own_name if {
	found := guidecoat.raised with data.guidecoat.substrate as families.substrate
		with data.guidecoat.adhesion as families.adhesion
		with data.guidecoat.porosity as families.porosity
		with data.guidecoat.clock as families.clock
		with data.guidecoat.abrasive as families.abrasive
		with data.guidecoat.film as families.film
		with data.guidecoat.weather as families.weather
		with data.guidecoat.mix as families.mix
		with data.guidecoat.finish as families.finish
		with data.guidecoat.people as families.people
		with data.guidecoat.paper as families.paper
	found == {object.union(v, {"rule": rule, "family": family}) |
		some family, rules in families
		some rule, body in rules
		some v in body.verdict
	}
	count(found) == 11
}

test_advice_covers_advice if {
	left({finding("near", "panel/3:grey", "advice"), finding("far", "panel/3:grey", "advice")}) == {"near"}
}
