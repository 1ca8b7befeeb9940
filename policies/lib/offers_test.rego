package guidecoat.lib_offers_test

import data.guidecoat.lib

one_zone := [{"name": "panel", "parent": ""}]

limits := {
	"rinse_dry": {"measure": {"text": "10 min"}},
	"porous_dry_out": {"measure": {"text": "30 min"}},
	"water_flash": {"measure": {"text": "15 min"}},
	"metal_steel_acid_fine": {"measure": {"text": "P320"}},
}

contact(more) := object.union(
	{
		"zone": "panel", "step": 5, "lower_step": 3, "wipes": [], "lower_pore": false,
		"upper_kind": "epoxy primer", "lower_kind": "epoxy primer",
		"upper_traits": {"acid": false, "class": "primer"},
		"lower_traits": {"acid": false, "class": "primer", "wet_sandable": true, "steel": false},
		"prep": {"solvent": false, "thinner": false, "water_cleaner": false, "acid_after_solvent": false},
	},
	more,
)

# The steps that edits insert, with where they go.
steps(edits) := [object.union(e.set, {"at": e.step}) | some e in edits]

# cards

test_a_card_lets_in_or_not if {
	lib.let_in({"card_says": "allows"})
	every says in ["silent", "unlisted", "forbids"] { not lib.let_in({"card_says": says}) }
}

test_a_card_that_neither_lets_in_nor_forbids_has_not_said if {
	every says in ["silent", "unlisted"] { lib.unsaid({"card_says": says}) }
	every says in ["allows", "forbids"] { not lib.unsaid({"card_says": says}) }
}

# products and waits

test_another_product_is_offered_where_this_sheet_lays_it if {
	lib.replaced_below(contact({}), ["epoxy primer"]) == [lib.set_key(3, "product_kind", ["epoxy primer"])]
}

test_no_other_product_is_offered_for_what_was_there if {
	lib.replaced_below(contact({"lower_step": 0}), ["epoxy primer"]) == []
	lib.replaced(0, ["epoxy primer"]) == []
	lib.longer_wait(0, "1 h") == []
}

test_a_longer_wait_is_written_after_the_film if lib.longer_wait(3, "1 h") == [lib.set_key(3, "then_wait", "1 h")]

test_a_film_between_two_goes_in_before_the_upper if {
	edits := lib.sprayed_between(contact({}), ["urethane sealer"]) with input as {"zones": one_zone}
	edits == [lib.insert_before(5, {"do": "spray", "product_kind": ["urethane sealer"]})]
}

test_epoxy_between_waits_overnight if {
	edits := lib.waited_between(contact({})) with input as {"zones": one_zone}
	edits == [lib.insert_before(5, {"do": "spray", "product_kind": ["epoxy primer"], "then_wait": "overnight"})]
}

# abrasion

test_stripping_goes_in_before_the_last_wipe_or_before_the_film if {
	edits := lib.stripped_before(contact({"wipes": [{"step": 2}, {"step": 4}]})) with input as {"zones": one_zone}
	[e.step | some e in edits] == [4, 5]
	every e in edits { e.set.tool == "sander" }
}

test_a_film_that_may_be_wetted_is_offered_a_wet_scuff_first if {
	edits := lib.scuffed(contact({})) with input as {"zones": one_zone}
	steps(edits) == [
		{"at": 5, "do": "scuff", "pad": "fine pad", "wet": true},
		{"at": 5, "do": "scuff", "pad": "fine pad"},
	]
}

test_a_pore_is_scuffed_dry if {
	edits := lib.scuffed(contact({"lower_pore": true})) with input as {"zones": one_zone}
	steps(edits) == [{"at": 5, "do": "scuff", "pad": "fine pad"}]
}

test_color_lies_on_a_finer_pad if {
	edits := lib.scuffed(contact({"lower_pore": true, "upper_traits": {"class": "color"}})) with input as {"zones": one_zone}
	steps(edits) == [{"at": 5, "do": "scuff", "pad": "very fine pad"}]
}

test_filler_lies_on_a_deeper_scratch if {
	edits := lib.scuffed(contact({"lower_pore": true, "upper_kind": "body filler"})) with input as {"zones": one_zone}
	steps(edits)[0].grit == "P180"
}

test_what_is_laid_again_is_never_scuffed if {
	lib.scuffed(contact({"lower_traits": {"acid": true, "class": "primer"}})) == [] with input as {"zones": one_zone}
	lib.scuffed(contact({"lower_traits": {"acid": false, "class": "promoter"}})) == [] with input as {"zones": one_zone}
}

# wipes

test_a_rinse_is_dried_in_time if lib.rinse == {"do": "rinse", "dried_within": "10 min"} with input.limits as limits

test_a_wipe_is_left_to_dry if {
	w := lib.wipe("neutralizer") with input.limits as limits
	w == {"do": "clean", "with_kind": "neutralizer", "then_wait": "15 min"}
}

prep(more) := contact({"prep": more})

test_metal_is_degreased_by_what_takes_oil_off if {
	lib.degreased(prep({"solvent": true}))
	lib.degreased(prep({"thinner": true}))
	lib.degreased(prep({"acid_after_solvent": true}))
	not lib.degreased(contact({}))
}

test_a_waterborne_cleaner_degreases_only_what_does_not_rust if {
	lib.degreased(prep({"water_cleaner": true}))
	not lib.degreased(contact({"prep": {"water_cleaner": true}, "lower_traits": {"steel": true}}))
}

# grades

test_acid_primer_grips_a_finer_scratch_on_steel if {
	c := contact({"lower_traits": {"steel": true}, "upper_traits": {"acid": true}})
	m := lib.metal_fine(c) with input.limits as limits
	m.text == "P320"
}

test_a_card_that_writes_its_grade_is_believed if {
	lib.metal_grit({"tooth": {"fine_card": {"limit": {"text": "P150"}}}}) == "P150"
}

# words and orders that rules look up

test_grades_are_ordered_from_advice_to_fails if {
	lib.order.advice < lib.order.risk
	lib.order.risk < lib.order.fails
}

test_every_abrading_step_has_a_word if object.keys(lib.done) == {"sand", "block", "scuff"}

test_basecoat_has_strong_solvent_and_epoxy_has_not if {
	"solvent basecoat" in lib.strong_solvent
	not "epoxy primer" in lib.strong_solvent
}

test_the_first_step_can_be_changed_like_any_other if {
	lib.longer_wait(1, "1 h") == [lib.set_key(1, "then_wait", "1 h")]
	lib.replaced(1, ["epoxy primer"]) == [lib.set_key(1, "product_kind", ["epoxy primer"])]
}
