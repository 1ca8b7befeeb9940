package guidecoat.finish["epoxy-left-in-sun_test"]

import data.guidecoat.finish["epoxy-left-in-sun"] as rule

over(lo, hi) := {
	"sense": "most", "open": false, "leaned": [], "source": "limit", "graced": false,
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "10 days", "shown": {"lo": 10, "hi": 10, "unit": "days"}},
	"limit": {"text": "7 days", "shown": {"lo": 7, "hi": 7, "unit": "days"}},
}

exposure(more) := object.union(
	{
		"id": "panel/3-4", "zone": "panel", "from_step": 3, "layer": "3:grey", "name": "grey (epoxy primer)",
		"kind": "epoxy primer", "traits": {"epoxy": true}, "outdoors": true, "sun_epoxy": null, "sun_surfacer": null,
		"place": {},
	},
	more,
)

found(x) := vs if {
	vs := rule.verdict with input as {"exposures": [x]}
}

test_epoxy_out_for_ten_days_is_a_risk if {
	some v in found(exposure({"sun_epoxy": over(1.4, 1.4)}))
	v.grade == "risk"
	v.certainty == "will"
}

test_epoxy_out_perhaps_too_long_may_be if {
	some v in found(exposure({"sun_epoxy": over(0.5, 1.4)}))
	v.certainty == "may"
}

test_epoxy_out_for_seven_days_is_silent if count(found(exposure({"sun_epoxy": over(1, 1)}))) == 0

surfacer(more) := exposure(object.union({"kind": "urethane surfacer", "traits": {"epoxy": false}}, more))

test_urethane_surfacer_out_for_two_days_is_a_risk if {
	some v in found(surfacer({"sun_surfacer": over(2, 2)}))
	v.grade == "risk"
}

test_urethane_surfacer_out_for_half_a_day_is_silent if count(found(surfacer({"sun_surfacer": over(0.5, 0.5)}))) == 0

test_polyester_outdoors_at_all_is_a_risk if {
	some v in found(exposure({"kind": "polyester surfacer", "traits": {"epoxy": false}}))
	v.grade == "risk"
}

test_lacquer_primer_indoors_is_silent if {
	count(found(exposure({"kind": "lacquer primer", "traits": {"epoxy": false}, "outdoors": false}))) == 0
}

test_lacquer_primer_outdoors_is_a_risk_too if {
	every kind in ["polyester surfacer", "lacquer primer"] {
		count(found(exposure({"kind": kind, "traits": {"epoxy": false}}))) == 1
		count(found(exposure({"kind": kind, "traits": {"epoxy": false}, "outdoors": false}))) == 0
	}
}

test_the_days_of_one_kind_are_not_held_against_another if {
	count(found(surfacer({"sun_epoxy": over(1.4, 1.4)}))) == 0
	count(found(exposure({"sun_surfacer": over(2, 2)}))) == 0
}
