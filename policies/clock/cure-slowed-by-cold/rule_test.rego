package guidecoat.clock["cure-slowed-by-cold_test"]

import data.guidecoat.clock["cure-slowed-by-cold"] as rule

# A wait whose ratio to a least runs from lo to hi.
against(text, limit, lo, hi) := {
	"sense": "least", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": text, "shown": {"lo": 1, "hi": 1, "unit": "h"}},
	"limit": {"text": limit, "shown": {"lo": 1, "hi": 1, "unit": "h"}},
}

enough := against("90 min", "1 h", 1.5, 1.5)

# 90 min that the cold makes 45.
cold := against("45 min", "1 h", 0.75, 0.75)

times(lo, hi) := {"lo": lo, "hi": hi, "open": false}

twice := times(2, 2)

slowed(compared, factor) := {"compared": compared, "factor": factor, "enough": {"text": "2 h"}}

nothing := {"contacts": [], "abrasions": [], "polishes": [], "masks": [], "lays": []}

found(lists) := vs if {
	vs := rule.verdict with input as object.union(object.union(nothing, lists), {"limits": {
		"grace": {"low": 0.9, "high": 1.1},
		"cold_factor": {"measure": {"lo": 1.25, "hi": 1.25, "open": false}},
	}})
}

contact(more) := {"contacts": [object.union(
	{
		"id": "panel/4:blue", "zone": "panel", "step": 4, "upper": "4:blue", "lower": "3:grey",
		"upper_name": "blue (solvent basecoat)", "lower_name": "grey (epoxy primer)",
		"lower_traits": {"waterborne": false}, "gap_applies": true, "baked_full": false, "gap": {"text": "90 min"},
		"recoat_least": enough, "recoat_least_warm": cold, "factor": twice, "recoat_enough": {"text": "2 h"},
		"fill_after": null, "fill_slowed": null, "place": {},
	},
	more,
)]}

test_a_wait_that_the_cold_halves_is_a_risk if {
	some v in found(contact({}))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/4:blue"
	v.message == "blue (solvent basecoat) goes on grey (epoxy primer) after 90 min; on a panel this cold that counts as 45 min, and it wants 1 h"
}

test_a_wait_that_the_cold_may_make_too_short_may_be if {
	some v in found(contact({"recoat_least_warm": against("45-75 min", "1 h", 0.75, 1.25)}))
	v.certainty == "may"
}

test_a_cold_that_may_be_mild_may_be if {
	some v in found(contact({"factor": times(1.1, 2)}))
	v.certainty == "may"
}

test_a_typical_least_is_said if {
	some v in found(contact({"recoat_least_warm": object.union(cold, {"leaned": ["grey.recoat"]})}))
	v.certainty == "may"
	v.leaned == ["grey.recoat"]
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_a_factor_of_exactly_the_limit_is_silent if count(found(contact({"factor": times(1.25, 1.25)}))) == 0

test_a_factor_just_over_the_limit_is_a_risk if count(found(contact({"factor": times(1.26, 1.26)}))) == 1

test_a_wait_long_enough_in_the_cold_too_is_silent if {
	count(found(contact({"recoat_least_warm": against("60 min", "1 h", 1, 1)}))) == 0
}

test_a_wait_too_short_by_the_clock_is_another_rules_matter if {
	count(found(contact({"recoat_least": against("30 min", "1 h", 0.5, 0.5)}))) == 0
}

test_a_baked_film_is_silent if count(found(contact({"baked_full": true}))) == 0

test_a_waterborne_film_is_silent if count(found(contact({"lower_traits": {"waterborne": true}}))) == 0

test_what_was_there_is_silent if count(found(contact({"gap_applies": false}))) == 0

test_a_film_without_a_least_is_silent if {
	count(found(contact({"recoat_least": null, "recoat_least_warm": null}))) == 0
}

test_filler_on_a_film_the_cold_keeps_green_is_a_risk if {
	some v in found(contact({
		"recoat_least_warm": enough, "fill_after": against("14 h", "12 h", 1.17, 1.17),
		"fill_slowed": slowed(against("7 h", "12 h", 0.58, 0.58), twice),
	}))
	contains(v.message, "counts as 7 h, and it wants 12 h")
}

test_filler_on_a_film_too_young_by_the_clock_is_another_rules_matter if {
	count(found(contact({
		"recoat_least_warm": enough, "fill_after": against("7 h", "12 h", 0.58, 0.58),
		"fill_slowed": slowed(against("3.5 h", "12 h", 0.29, 0.29), twice),
	}))) == 0
}

abrasion(more) := {"abrasions": [object.union(
	{
		"id": "panel/5", "zone": "panel", "step": 5, "do": "block", "layer": "4:build", "last": true,
		"surface_name": "build (urethane surfacer)", "surface_traits": {"sandable": true}, "age": {"text": "4 h"},
		"sand_after": against("4 h", "3 h", 1.33, 1.33), "sand_after_baked": false,
		"sand_slowed": slowed(against("2 h", "3 h", 0.67, 0.67), twice), "settling": null, "place": {},
	},
	more,
)]}

test_sanding_a_film_the_cold_keeps_green_is_a_risk if {
	some v in found(abrasion({}))
	v.grade == "risk"
	v.certainty == "will"
	v.on == "panel/5"
	v.message == "build (urethane surfacer) is blocked 4 h after it was laid; on a panel this cold that counts as 2 h, and it wants 3 h"
}

test_sanding_a_film_too_young_by_the_clock_is_another_rules_matter if {
	count(found(abrasion({"sand_after": against("2 h", "3 h", 0.67, 0.67)}))) == 0
}

test_sanding_a_baked_film_is_silent if count(found(abrasion({"sand_after_baked": true}))) == 0

test_sanding_a_film_that_is_never_sanded_is_another_rules_matter if {
	count(found(abrasion({"surface_traits": {"sandable": false}}))) == 0
}

settling(more) := {"sand_slowed": null, "settling": object.union(
	{
		"age": against("20 h", "16 h", 1.25, 1.25), "baked": false,
		"slowed": slowed(against("10 h", "16 h", 0.63, 0.63), twice),
	},
	more,
)}

test_blocking_a_film_the_cold_keeps_from_settling_is_a_risk if {
	some v in found(abrasion(settling({})))
	contains(v.message, "counts as 10 h, and it wants 16 h")
}

test_blocking_a_baked_film_is_silent if count(found(abrasion(settling({"baked": true})))) == 0

test_an_earlier_blocking_is_silent if {
	count(found(abrasion(object.union(settling({}), {"last": false})))) == 0
}

test_blocking_a_film_unsettled_by_the_clock_is_another_rules_matter if {
	count(found(abrasion(settling({"age": against("10 h", "16 h", 0.63, 0.63)})))) == 0
}

polish(written) := {"polishes": [{
	"id": "panel/9", "zone": "panel", "step": 9, "layer": "5:gloss", "name": "gloss (urethane clear)",
	"polish_after": written, "polish_slowed": slowed(against("12 h", "20 h", 0.6, 0.6), twice), "place": {},
}]}

test_polishing_a_film_the_cold_keeps_green_is_a_risk if {
	some v in found(polish(against("24 h", "20 h", 1.2, 1.2)))
	v.on == "panel/9"
	v.message == "gloss (urethane clear) is polished 24 h after it was laid; on a panel this cold that counts as 12 h, and it wants 20 h"
}

test_polishing_too_soon_by_the_clock_is_another_rules_matter if {
	count(found(polish(against("12 h", "20 h", 0.6, 0.6)))) == 0
}

mask(written) := {"masks": [{
	"id": "panel/6", "zone": "panel", "step": 6, "layer": "5:blue", "name": "blue (solvent basecoat)",
	"tape_after": written, "tape_slowed": slowed(against("30 min", "45 min", 0.67, 0.67), twice), "place": {},
}]}

test_tape_on_a_film_the_cold_keeps_green_is_a_risk if {
	some v in found(mask(against("60 min", "45 min", 1.33, 1.33)))
	v.on == "panel/6"
	v.message == "tape goes on blue (solvent basecoat) 60 min after it was laid; on a panel this cold that counts as 30 min, and it wants 45 min"
}

test_tape_too_soon_by_the_clock_is_another_rules_matter if {
	count(found(mask(against("30 min", "45 min", 0.67, 0.67)))) == 0
}

lay(more) := {
	"lays": [object.union(
		{
			"id": "5", "step": 5, "layer": "5:gloss", "name": "gloss (urethane clear)", "contacts": ["panel/5:gloss"],
			"between_written": true, "between": null, "between_slowed": null, "joins": null, "joins_slowed": null, "place": {},
		},
		more,
	)],
	"contacts_by_upper": {"5:gloss": [{"id": "panel/5:gloss", "zone": "panel", "upper": "5:gloss", "lower": "4:blue"}]},
}

flash := against("12 min", "10 min", 1.2, 1.2)

flash_in_the_cold := slowed(against("6 min", "10 min", 0.6, 0.6), twice)

test_a_flash_the_cold_makes_too_short_is_a_risk if {
	some v in found(lay({"between": flash, "between_slowed": flash_in_the_cold}))
	v.on == "panel/5:gloss"
	v.message == "coats of gloss (urethane clear) follow each other after 12 min; on a panel this cold that counts as 6 min, and they want 10 min to flash"
}

test_a_flash_to_the_next_step_of_the_layer_counts_too if {
	some v in found(lay({"joins": flash, "joins_slowed": flash_in_the_cold}))
	contains(v.message, "counts as 6 min")
}

test_a_flash_too_short_by_the_clock_is_another_rules_matter if {
	count(found(lay({"between": against("6 min", "10 min", 0.6, 0.6), "between_slowed": flash_in_the_cold}))) == 0
}

test_a_flash_nobody_wrote_is_another_rules_matter if {
	count(found(lay({"between_written": false, "between": flash, "between_slowed": flash_in_the_cold}))) == 0
}

laid := {"layers_by_id": {"3:grey": {"steps": [2, 3]}, "8:gloss": {"steps": [8]}}}

test_the_wait_that_would_do_is_offered_after_the_last_coat if {
	some v in found(object.union(contact({}), laid))
	v.mend == [{"edit": "set", "step": 3, "key": "then_wait", "value": "2 h"}]
}

filled := {
	"recoat_least_warm": null, "fill_after": enough,
	"fill_slowed": slowed(cold, twice),
}

test_filler_on_what_was_there_or_was_baked_is_silent if {
	count(found(contact(filled))) == 1
	count(found(contact(object.union(filled, {"gap_applies": false})))) == 0
	count(found(contact(object.union(filled, {"baked_full": true})))) == 0
}

test_the_longer_flash_is_offered_where_it_is_written if {
	some v in found(lay({"between": flash, "between_slowed": flash_in_the_cold}))
	v.mend == [{"edit": "set", "step": 5, "key": "between", "value": "2 h"}]
	some w in found(lay({
		"between_written": false, "between": flash, "between_slowed": flash_in_the_cold,
		"joins": flash, "joins_slowed": flash_in_the_cold, "joins_step": 4,
	}))
	w.mend == [{"edit": "set", "step": 4, "key": "then_wait", "value": "2 h"}]
	some x in found(lay({
		"between": flash, "between_slowed": slowed(flash, twice),
		"joins": flash, "joins_slowed": flash_in_the_cold, "joins_step": 4,
	}))
	x.mend == [{"edit": "set", "step": 4, "key": "then_wait", "value": "2 h"}]
}

test_a_flash_to_the_next_step_in_a_mild_cold_is_silent if {
	mild := slowed(against("6 min", "10 min", 0.6, 0.6), times(1.2, 1.2))
	count(found(lay({"joins": flash, "joins_slowed": mild, "joins_step": 4}))) == 0
}
