package guidecoat.mix["batch-short_test"]

import data.guidecoat.mix["batch-short"] as rule

# A batch whose ratio to what the layer needs, 300-340 mL, runs from lo to hi.
batch(lo, hi) := {
	"sense": "least", "open": false, "source": "sheet", "graced": false, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "200 mL", "shown": {"lo": 200, "hi": 200, "unit": "mL"}},
	"limit": {"text": "300 - 340 mL", "shown": {"lo": 300, "hi": 340, "unit": "mL"}},
}

found(b, enough) := vs if {
	vs := rule.verdict with input as {
		"mixes": [{
			"id": "5", "step": 5, "name": "blue (solvent basecoat)",
			"batch": b, "batch_enough": enough, "place": {},
		}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_a_batch_under_what_the_layer_needs_is_a_risk if {
	some v in found(batch(0.59, 0.67), "340 mL")
	v.grade == "risk"
	v.certainty == "will"
	v.on == "5"
	v.message == "a batch of 200 mL is mixed of blue (solvent basecoat), and the layer needs 300 - 340 mL"
	v.mend == [{"edit": "set", "step": 5, "key": "batch", "value": "340 mL"}]
}

test_a_batch_that_may_be_short_may_be if {
	some v in found(batch(0.94, 1.07), "340 mL")
	v.certainty == "may"
}

test_typical_solids_are_said if {
	some v in found(object.union(batch(0.59, 0.67), {"leaned": ["blue.volume_solids"]}), "340 mL")
	v.certainty == "may"
	v.leaned == ["blue.volume_solids"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_it_offers_nothing_where_enough_is_not_known if {
	some v in found(batch(0.59, 0.67), "")
	v.mend == []
}

test_a_batch_of_just_what_is_needed_is_silent if count(found(batch(1, 1.13), "340 mL")) == 0

test_a_batch_nobody_wrote_is_silent if count(found(null, "340 mL")) == 0
