package guidecoat.paper["no-measuring-stop_test"]

import data.guidecoat.paper["no-measuring-stop"] as rule

found(ends_as, inspects) := vs if {
	vs := rule.verdict with input as {"sheet": {"ends_as": ends_as, "inspects": inspects, "place": {}}, "steps": [{}, {}]}
}

test_a_finished_sheet_without_a_gauge_is_advice if {
	some v in found("finished", ["dew point"])
	v.grade == "advice"
	v.mend[0].step == 2
}

test_a_finished_sheet_with_one_is_silent if count(found("finished", ["film"])) == 0

test_a_primed_sheet_is_silent if count(found("primed", [])) == 0
