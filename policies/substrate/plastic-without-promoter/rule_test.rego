package guidecoat.substrate["plastic-without-promoter_test"]

import data.guidecoat.substrate["plastic-without-promoter"] as rule

facts(plastic, olefin) := {"zone_facts": {"plastic": plastic, "olefin": olefin}}

contact(more) := object.union(
	{
		"id": "panel/4:x", "zone": "panel", "step": 4, "upper": "4:x", "lower": "0:bare-plastic", "upper_name": "x",
		"lower_name": "bare plastic", "upper_kind": "epoxy primer", "lower_kind": "bare plastic", "substrate": "bare plastic",
		"upper_traits": {"class": "primer"}, "lower_traits": {"class": "substrate", "plastic": true},
		"lower_substrate": true, "card_says": "silent", "abraded": true, "recoat_most": null, "wipes": [], "place": {}, "tooth": {"by": "none"},
		"zone_facts": {"plastic": "TPO", "olefin": true},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c]}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

test_primer_straight_on_an_olefin_fails if {
	every plastic in ["TPO", "PP", "PE", "EPDM"] {
		grades(contact(facts(plastic, true))) == {["fails", "will"]}
	}
}

test_primer_on_a_plastic_nobody_named_is_a_risk if grades(contact(facts("unknown", false))) == {["risk", "will"]}

test_abraded_engineering_plastic_is_silent if {
	every plastic in ["ABS", "PC", "PUR", "nylon", "SMC"] {
		found(contact(facts(plastic, false))) == set()
	}
}

test_unabraded_engineering_plastic_is_a_risk if {
	some v in found(contact(object.union(facts("ABS", false), {"abraded": false})))
	v.grade == "risk"
	v.mend == [{"edit": "insert", "where": "before", "step": 4, "set": {"do": "scuff", "pad": "very fine pad"}}]
}

test_engineering_plastic_stripped_with_a_sander_has_its_scratch if {
	found(contact(object.union(facts("ABS", false), {"abraded": false, "tooth": {"by": "sander"}}))) == set()
}

test_molding_compound_counts_as_engineering_plastic if {
	smc := {"lower_kind": "sheet molding compound", "lower_name": "sheet molding compound", "lower_traits": {"plastic": false}, "zone_facts": {"plastic": "unknown", "olefin": false}}
	found(contact(smc)) == set()
	grades(contact(object.union(smc, {"abraded": false}))) == {["risk", "will"]}
}

test_promoter_first_is_silent if found(contact({"upper_traits": {"class": "promoter"}})) == set()

test_primer_whose_card_allows_it_is_silent if found(contact({"card_says": "allows"})) == set()

test_primer_whose_card_does_not_list_it_fails if grades(contact({"card_says": "unlisted"})) == {["fails", "will"]}

test_film_on_a_film_is_silent if {
	found(contact({"lower_substrate": false, "lower_traits": {"class": "primer", "plastic": false}})) == set()
}

test_fiberglass_is_silent if {
	found(contact({"lower_kind": "fiberglass", "lower_traits": {"plastic": false}, "abraded": false})) == set()
}

test_promoter_is_offered_before_the_film if {
	some v in found(contact({}))
	v.mend[0].set.product_kind == "adhesion promoter"
}

past(lo, hi, leaned) := {
	"sense": "most", "open": false, "leaned": leaned, "source": "card", "graced": true, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "3 h", "shown": {"lo": 3, "hi": 3, "unit": "h"}},
	"limit": {"text": "1 h", "shown": {"lo": 1, "hi": 1, "unit": "h"}},
}

limits := {"grace": {"low": 0.9, "high": 1.1}}

on_promoter(window, more) := contact(object.union(
	{
		"lower": "3:grip", "lower_name": "grip", "lower_kind": "adhesion promoter", "lower_substrate": false,
		"lower_traits": {"class": "promoter", "plastic": false}, "recoat_most": window,
	},
	more,
))

judged(c) := {[v.grade, v.certainty] |
	some v in rule.verdict with input as {"contacts": [c], "limits": limits}
}

test_promoter_scuffed_past_its_window_fails_on_an_olefin if judged(on_promoter(past(3, 3, []), {})) == {["fails", "will"]}

test_promoter_scuffed_past_a_typical_window_may_be if judged(on_promoter(past(3, 3, ["grip.recoat"]), {})) == {["risk", "may"]}

test_promoter_scuffed_past_its_window_on_a_plastic_nobody_named_is_a_risk if {
	judged(on_promoter(past(3, 3, []), facts("unknown", false))) == {["risk", "will"]}
}

test_promoter_scuffed_past_its_window_on_abs_is_silent if judged(on_promoter(past(3, 3, []), facts("ABS", false))) == set()

test_promoter_scuffed_inside_its_window_is_not_this_rules_matter if judged(on_promoter(past(0.5, 0.5, []), {})) == set()

test_promoter_past_its_window_and_not_scuffed_is_the_window_rules_matter if {
	judged(on_promoter(past(3, 3, []), {"abraded": false})) == set()
}

test_promoter_laid_again_is_silent if judged(on_promoter(past(3, 3, []), {"upper_traits": {"class": "promoter"}})) == set()

test_a_film_is_no_plastic_whatever_it_is_made_of if found(contact({"lower_substrate": false})) == set()

test_only_promoter_on_plastic_is_laid_again if {
	judged(on_promoter(past(3, 3, []), {"lower_traits": {"class": "primer"}})) == set()
	judged(on_promoter(past(3, 3, []), {"substrate": "mild steel"})) == set()
}

test_a_plastic_left_blank_is_one_nobody_named if {
	some v in found(contact(facts("", false)))
	v.grade == "risk"
	contains(v.message, "does not say which plastic")
}

test_molding_compound_of_no_written_plastic_goes_by_its_name if {
	some v in found(contact(object.union(facts("", false), {
		"lower_kind": "sheet molding compound", "lower_name": "molded hood", "abraded": false,
	})))
	contains(v.message, "goes on molded hood that nothing abraded")
}

test_every_tool_that_leaves_a_scratch_counts if {
	every tool in ["sander", "grinder", "grit blast"] {
		found(contact(object.union(facts("ABS", false), {"abraded": false, "tooth": {"by": tool}}))) == set()
	}
}
