package guidecoat.adhesion["strong-solvent-on-enamel_test"]

import data.guidecoat.adhesion["strong-solvent-on-enamel"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "urethane surfacer", "lower_kind": "single-stage enamel",
		"upper_traits": {"class": "", "acid": false, "epoxy": false, "urethane": false, "two_part": false, "flexible": false, "waterborne": false},
		"lower_traits": {
			"class": "", "acid": false, "epoxy": false, "urethane": false, "reversible": false, "metal": false,
			"steel": false, "zinc": false, "plastic": false, "two_part": false, "flexible": false, "wet_on_wet": false,
		},
		"lower_step": 3, "lower_existing": false, "lower_substrate": false, "lower_pore": false,
		"card_says": "silent", "abraded": false, "wipes": [], "films": [], "substrate": "mild steel", "inspected": [],
		"gap_applies": true, "zone_facts": {"cut": false, "role": "", "olefin": false, "plastic": "unknown"},
		"place": {"line": 41},
	},
	more,
)

# Thirty days, in minutes.
limits := {"enamel_young": {"measure": {"text": "30 days", "lo": 43200, "hi": 43200, "shown": {"lo": 30, "hi": 30, "unit": "days"}}}}

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "limits": limits, "zones": []}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

days(lo, hi) := {"text": "SOME DAYS", "lo": lo * 1440, "hi": hi * 1440, "open": false, "shown": {"lo": lo, "hi": hi, "unit": "days"}}

enamel(gap, more) := contact(object.union({"gap": gap, "lower_kind": "single-stage enamel"}, more))

aged(more) := contact(object.union(
	{"lower_kind": "aged enamel", "lower_existing": true, "gap_applies": false, "gap": {"open": true, "lo": 0, "hi": null}, "lower_card": ""},
	more,
))

test_on_enamel_of_a_week_it_fails if {
	some v in found(enamel(days(7, 7), {}))
	[v.grade, v.certainty] == ["fails", "will"]
	v.measured == {"lo": 7, "hi": 7, "unit": "days"}
	v.limit == {"lo": 30, "hi": 30, "unit": "days"}
}

test_on_enamel_of_a_day_short_of_a_month_it_fails if grades(enamel(days(29, 29), {})) == {["fails", "will"]}

test_on_enamel_of_just_a_month_it_is_a_risk if grades(enamel(days(30, 30), {})) == {["risk", "will"]}

test_on_enamel_that_may_be_younger_it_may_fail if grades(enamel(days(20, 40), {})) == {["risk", "may"]}

test_on_enamel_of_unknown_age_it_may_fail if {
	grades(enamel({"open": true, "lo": 0, "hi": null, "text": ""}, {})) == {["risk", "may"]}
}

test_on_aged_enamel_it_is_a_risk if grades(aged({})) == {["risk", "will"]}

test_enamel_that_was_there_is_old if grades(aged({"lower_kind": "single-stage enamel"})) == {["risk", "will"]}

test_every_strong_film_counts if {
	every kind in {
		"solvent basecoat", "single-stage urethane", "urethane surfacer", "urethane sealer", "urethane clear",
		"one-part clear", "polyester surfacer", "lacquer primer", "lacquer topcoat", "single-stage enamel",
	} {
		grades(aged({"upper_kind": kind})) == {["risk", "will"]}
	}
}

test_a_barrier_film_is_silent if {
	every kind in ["epoxy primer", "epoxy surfacer", "epoxy sealer", "waterborne primer", "waterborne basecoat"] {
		grades(aged({"upper_kind": kind})) == set()
		grades(enamel(days(7, 7), {"upper_kind": kind})) == set()
	}
}

test_a_solvent_rub_proves_it if {
	grades(aged({"inspected": ["adhesion", "solvent rub"]})) == set()
	grades(enamel(days(7, 7), {"inspected": ["solvent rub"]})) == set()
}

test_another_test_does_not if grades(aged({"inspected": ["adhesion", "lead"]})) == {["risk", "will"]}

test_the_same_card_over_itself_is_silent if {
	grades(enamel(days(7, 7), {"upper_kind": "single-stage enamel", "upper_card": "black", "lower_card": "black"})) == set()
}

test_another_enamel_over_it_is_not if {
	grades(enamel(days(7, 7), {"upper_kind": "single-stage enamel", "upper_card": "black", "lower_card": "red"})) == {["fails", "will"]}
}

test_body_solder_that_has_no_card_is_no_own_coat if {
	grades(aged({"upper_card": "", "lower_card": ""})) == {["risk", "will"]}
}

test_a_card_that_names_it_lets_it_in if grades(aged({"card_says": "allows"})) == set()

test_on_another_finish_it_is_silent if {
	grades(aged({"lower_kind": "factory finish"})) == set()
	grades(aged({"lower_kind": "underbody coating"})) == set()
}

test_it_offers_the_rub_before_a_barrier if {
	some v in found(aged({}))
	v.mend == [
		{"edit": "insert", "where": "before", "step": 6, "set": {"do": "inspect", "measure": ["solvent rub"]}},
		{"edit": "insert", "where": "before", "step": 6, "set": {"do": "spray", "product_kind": ["epoxy primer", "waterborne primer"]}},
	]
}

test_what_was_there_is_old_whatever_its_hours_say if {
	grades(aged({"gap": days(7, 7)})) == {["risk", "will"]}
	grades(aged({"gap": days(40, 40)})) == {["risk", "will"]}
	some v in found(aged({"gap": days(40, 40)}))
	not contains(v.message, "DAYS")
}
