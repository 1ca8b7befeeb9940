package guidecoat.paper["data-sheet-stale_test"]

import data.guidecoat.paper["data-sheet-stale"] as rule

age(lo) := {
	"sense": "most", "open": false, "leaned": [], "source": "limit", "graced": false,
	"over": {"lo": lo, "hi": lo},
	"measured": {"text": "400 days", "shown": {"lo": 400, "hi": 400, "unit": "days"}},
	"limit": {"text": "365 days", "shown": {"lo": 365, "hi": 365, "unit": "days"}},
}

card(a, laid) := {"ref": "grey", "shown": "grey (epoxy primer)", "laid": laid, "data_sheet": {"age": a}, "place": {}}

found(c) := vs if {
	vs := rule.verdict with input as {"cards": {"grey": c}}
}

test_a_sheet_checked_long_ago_is_advice if {
	some v in found(card(age(1.1), true))
	v.grade == "advice"
}

test_a_sheet_checked_within_the_year_is_silent if count(found(card(age(1), true))) == 0

test_no_date_is_silent if count(found(card(null, true))) == 0

test_a_product_never_laid_is_silent if count(found(card(age(2), false))) == 0
