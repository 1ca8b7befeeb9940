package guidecoat.clock["window-missed_test"]

import data.guidecoat.clock["window-missed"] as rule

# A gap whose ratio to the most recoat of the film beneath, 72 h, runs from lo to hi.
waited(lo, hi) := {
	"sense": "most", "open": false, "source": "card", "graced": true, "leaned": [],
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "96 h", "shown": {"lo": 96, "hi": 96, "unit": "h"}},
	"limit": {"text": "72 h", "shown": {"lo": 72, "hi": 72, "unit": "h"}},
}

typical(lo, hi) := object.union(waited(lo, hi), {"source": "typical", "leaned": ["grey.recoat"]})

contact(gap, more) := object.union(
	{
		"id": "panel/4:blue", "zone": "panel", "step": 4, "upper": "4:blue", "lower": "3:grey",
		"upper_name": "blue (solvent basecoat)", "lower_name": "grey (epoxy primer)",
		"upper_kind": "solvent basecoat", "lower_kind": "epoxy primer", "recoat_least": {"limit": {"text": "30 min"}}, "upper_traits": {"class": "color"}, "lower_card": "grey",
		"lower_traits": {"class": "primer", "acid": false, "wet_sandable": true}, "lower_pore": false,
		"gap_applies": true, "gap": {"open": false, "text": "96 h", "shown": {"lo": 96, "hi": 96, "unit": "h"}},
		"recoat_most": gap, "window_shut": false, "abraded": false, "wipes": [], "place": {},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {
		"contacts": [c],
		"cards": {"grey": {"name": "grey", "use": "", "card": {}}, "grey as etch": {"name": "grey", "use": "etch", "card": {}}},
		"zones": [{"name": "panel", "parent": ""}],
		"limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

test_a_third_past_the_window_fails if {
	some v in found(contact(waited(1.33, 1.33), {}))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "panel/4:blue"
	v.message == "blue (solvent basecoat) goes on grey (epoxy primer) after 96 h; unsanded its window is 72 h"
}

test_a_gap_that_may_be_past_it_is_a_risk if {
	some v in found(contact(waited(0.5, 1.33), {}))
	v.grade == "risk"
	v.certainty == "may"
}

test_at_least_longer_than_the_window_may_be_past_it if {
	some v in found(contact(waited(1.33, null), {}))
	v.grade == "risk"
	v.certainty == "may"
}

test_a_typical_window_makes_it_a_risk_and_says_so if {
	some v in found(contact(typical(1.33, 1.33), {}))
	v.grade == "risk"
	v.certainty == "may"
	endswith(v.message, "(typical; copy the data sheet's)")
}

test_a_tenth_past_it_is_graced if {
	some v in found(contact(waited(1.1, 1.1), {}))
	v.grade == "risk"
	v.certainty == "will"
}

test_more_than_a_tenth_past_it_fails if {
	some v in found(contact(waited(1.11, 1.11), {}))
	v.grade == "fails"
}

test_exactly_the_window_is_silent if count(found(contact(waited(1, 1), {}))) == 0

test_a_gap_nobody_wrote_is_silent if {
	count(found(contact(object.union(waited(0, null), {"open": true}), {}))) == 0
}

test_an_abrasion_opens_it_again if count(found(contact(waited(1.33, 1.33), {"abraded": true}))) == 0

test_a_wipe_does_not_open_it_again if {
	count(found(contact(waited(1.33, 1.33), {"wipes": [{"step": 3}]}))) == 1
}

test_acid_primer_is_laid_again_and_not_scuffed if {
	acid := {"abraded": true, "lower_traits": {"class": "primer", "acid": true, "wet_sandable": false}}
	some v in found(contact(waited(1.33, 1.33), acid))
	v.grade == "fails"
	contains(v.message, "laid again")
	v.mend == [{"edit": "insert", "where": "before", "step": 4, "set": {"do": "spray", "product": "grey", "then_wait": "30 min"}}]
}

test_another_use_of_a_can_is_laid_again_as_that_use if {
	acid := {"lower_traits": {"class": "primer", "acid": true, "wet_sandable": false}, "lower_card": "grey as etch"}
	some v in found(contact(waited(1.33, 1.33), acid))
	[e.set.as | some e in v.mend] == ["etch"]
}

test_laying_acid_primer_again_opens_its_window if {
	acid := {"lower_traits": {"class": "primer", "acid": true}, "lower_kind": "one-part acid primer", "upper_kind": "one-part acid primer"}
	count(found(contact(waited(1.33, 1.33), acid))) == 0
}

test_laying_any_other_film_again_does_not if {
	same := {"lower_kind": "solvent basecoat"}
	count(found(contact(waited(1.33, 1.33), same))) == 1
}

test_promoter_is_laid_again_and_not_scuffed if {
	promoter := {"abraded": true, "lower_traits": {"class": "promoter", "acid": false, "wet_sandable": false}}
	count(found(contact(waited(1.33, 1.33), promoter))) == 1
}

test_a_film_whose_window_never_shuts_is_silent if count(found(contact(null, {}))) == 0

test_what_was_there_has_no_gap if count(found(contact(waited(1.33, 1.33), {"gap_applies": false}))) == 0

test_wax_need_not_bond if count(found(contact(waited(1.33, 1.33), {"upper_kind": "cavity wax"}))) == 0

test_it_offers_a_scuff_before_the_last_wipe_and_before_the_film if {
	some v in found(contact(waited(1.33, 1.33), {"wipes": [{"step": 3}]}))
	pad := {"do": "scuff", "pad": "very fine pad"}
	wet := {"do": "scuff", "pad": "very fine pad", "wet": true}
	v.mend == [
		{"edit": "insert", "where": "before", "step": 3, "set": wet},
		{"edit": "insert", "where": "before", "step": 4, "set": wet},
		{"edit": "insert", "where": "before", "step": 3, "set": pad},
		{"edit": "insert", "where": "before", "step": 4, "set": pad},
	]
}

test_a_film_that_must_stay_dry_is_offered_a_dry_scuff_alone if {
	dry := {"lower_traits": {"class": "color", "acid": false, "wet_sandable": false}, "upper_traits": {"class": "primer"}, "upper_kind": "epoxy primer"}
	some v in found(contact(waited(1.33, 1.33), dry))
	v.mend == [{"edit": "insert", "where": "before", "step": 4, "set": {"do": "scuff", "pad": "fine pad"}}]
}

test_filler_is_offered_a_coarser_scratch if {
	filler := {"lower_traits": {"class": "primer", "acid": false, "wet_sandable": false}, "upper_traits": {"class": "filler"}, "upper_kind": "body filler"}
	some v in found(contact(waited(1.33, 1.33), filler))
	v.mend == [{"edit": "insert", "where": "before", "step": 4, "set": {"do": "scuff", "grit": "P180", "takes_off": "0.3 mil"}}]
}

# A clear that takes its own coats alone.
shut(more) := object.union(contact(null, {"window_shut": true}), more)

test_a_clear_that_takes_its_own_coats_alone_is_at_risk_unsanded if {
	some v in found(shut({}))
	v.grade == "risk"
	v.certainty == "may"
	v.leaned == ["grey.recoat"]
	v.measured == {"lo": 96, "hi": 96, "unit": "h"}
}

test_it_fails_where_the_card_itself_says_never if {
	some v in rule.verdict with input as {
		"contacts": [shut({})],
		"cards": {"grey": {"card": {"recoat": "12 h - never"}}},
		"zones": [{"name": "panel", "parent": ""}],
	}
	v.grade == "fails"
	v.certainty == "will"
	v.leaned == []
}

test_a_clear_scuffed_first_is_silent if count(found(shut({"abraded": true}))) == 0

test_a_shut_window_with_a_gap_nobody_wrote_is_silent if {
	count(found(shut({"gap": {"open": true, "text": "not written", "shown": {"lo": 0, "hi": null, "unit": "h"}}}))) == 0
}

test_unleveled_polyester_is_another_rules_matter if count(found(shut({"lower_pore": true}))) == 0

test_wax_on_a_shut_clear_is_silent if count(found(shut({"upper_kind": "cavity wax"}))) == 0

test_a_shut_film_that_was_there_has_no_gap if count(found(shut({"gap_applies": false}))) == 0
