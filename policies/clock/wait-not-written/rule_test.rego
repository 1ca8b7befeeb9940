package guidecoat.clock["wait-not-written_test"]

import data.guidecoat.clock["wait-not-written"] as rule

wait(condition) := {
	"id": "panel/4:blue", "zone": "panel", "step": 4, "upper": "4:blue", "lower": "3:grey",
	"upper_name": "blue (solvent basecoat)", "lower_name": "grey (epoxy primer)",
	"condition": condition, "place": {"line": 30},
}

sheet(waits, least) := {
	"waits": waits,
	"contacts": [{"id": "panel/4:blue", "recoat_least": least}],
	"layers_by_id": {"3:grey": {"steps": [3]}},
}

test_a_gap_that_no_step_says_is_advice if {
	vs := rule.verdict with input as sheet([wait("")], {"limit": {"text": "1 h"}})
	some v in vs
	v.grade == "advice"
	v.certainty == "will"
	v.on == "panel/4:blue"
	v.place.line == 30
	v.message == "no step says how long to wait between grey (epoxy primer) and blue (solvent basecoat)"
}

test_a_condition_is_told if {
	vs := rule.verdict with input as sheet([wait("until matte")], null)
	some v in vs
	endswith(v.message, ": 'until matte' leaves the clock open")
}

test_it_offers_the_least_wait if {
	vs := rule.verdict with input as sheet([wait("")], {"limit": {"text": "1 h"}})
	some v in vs
	v.mend == [{"edit": "set", "step": 3, "key": "then_wait", "value": "1 h"}]
}

test_it_offers_nothing_where_no_least_is_known if {
	vs := rule.verdict with input as sheet([wait("")], null)
	some v in vs
	v.mend == []
}

test_a_sheet_that_says_every_wait_is_silent if {
	vs := rule.verdict with input as sheet([], {"limit": {"text": "1 h"}})
	count(vs) == 0
}
