package guidecoat.clock["recoated-too-soon_test"]

import data.guidecoat.clock["recoated-too-soon"] as rule

# A gap whose ratio to the least recoat of the film beneath, 1 h, runs from lo to hi.
waited(lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "30 min", "shown": {"lo": 0.5, "hi": 0.5, "unit": "h"}},
	"limit": {"text": "1 h", "shown": {"lo": 1, "hi": 1, "unit": "h"}},
}

typical(lo, hi) := object.union(waited(lo, hi), {"source": "typical", "leaned": ["grey.recoat"]})

contact(gap) := {
	"id": "panel/4:blue", "zone": "panel", "step": 4, "upper": "4:blue", "lower": "3:grey",
	"upper_name": "blue (solvent basecoat)", "lower_name": "grey (epoxy primer)",
	"gap_applies": true, "gap": {"text": "30 min"}, "baked_full": false, "recoat_least": gap, "place": {},
}

found(c) := vs if {
	vs := rule.verdict with input as {
		"contacts": [c],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
		"layers_by_id": {"3:grey": {"steps": [3]}},
	}
}

test_half_the_least_wait_fails if {
	some v in found(contact(waited(0.5, 0.5)))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "panel/4:blue"
	v.message == "blue (solvent basecoat) goes on grey (epoxy primer) after 30 min; it wants at least 1 h first"
	v.measured == {"lo": 0.5, "hi": 0.5, "unit": "h"}
	v.limit == {"lo": 1, "hi": 1, "unit": "h"}
}

test_it_offers_to_write_the_least_wait_after_the_film_beneath if {
	some v in found(contact(waited(0.5, 0.5)))
	v.mend == [{"edit": "set", "step": 3, "key": "then_wait", "value": "1 h"}]
}

test_a_wait_that_may_be_too_short_is_a_risk if {
	some v in found(contact(waited(0.5, 2)))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_typical_least_makes_it_a_risk_and_says_so if {
	some v in found(contact(typical(0.5, 0.5)))
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["grey.recoat"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_a_tenth_short_is_graced if {
	some v in found(contact(waited(0.9, 0.9)))
	v.grade == "risk"
	v.certainty == "will"
}

test_more_than_a_tenth_short_fails if {
	some v in found(contact(waited(0.89, 0.89)))
	v.grade == "fails"
}

test_exactly_the_least_wait_is_silent if count(found(contact(waited(1, 1)))) == 0

test_at_least_the_least_wait_is_silent if count(found(contact(waited(1, null)))) == 0

test_a_gap_nobody_wrote_is_silent if {
	count(found(contact(object.union(waited(0, null), {"open": true})))) == 0
}

test_a_bake_to_the_schedule_does_instead_of_the_wait if {
	count(found(object.union(contact(waited(0.5, 0.5)), {"baked_full": true}))) == 0
}

test_what_was_there_has_no_gap if {
	count(found(object.union(contact(waited(0.5, 0.5)), {"gap_applies": false}))) == 0
}

test_a_film_without_a_least_wait_is_silent if count(found(contact(null))) == 0
