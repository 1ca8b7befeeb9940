package guidecoat.adhesion["filler-on-green-primer_test"]

import data.guidecoat.adhesion["filler-on-green-primer"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "body filler", "lower_kind": "epoxy primer",
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

limits := {"grace": {"low": 0.9, "high": 1.1}, "dry_abrasive": {"measure": {"text": "P180"}}}

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "limits": limits, "zones": []}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

# Hours against twelve, in minutes.
after(lo, hi, source) := {
	"measured": {"text": "AFTER", "lo": lo * 60, "hi": hi * 60, "open": false, "shown": {"lo": lo, "hi": hi, "unit": "h"}},
	"limit": {"text": "12 h", "lo": 720, "hi": 720, "open": false, "shown": {"lo": 12, "hi": 12, "unit": "h"}},
	"sense": "least", "open": false, "source": source, "leaned": {"card": [], "typical": ["lower.fill_after"]}[source],
	"graced": true, "over": {"lo": lo / 12, "hi": hi / 12},
}

open_wait := object.union(after(0, 0, "card"), {"open": true, "over": {"lo": 0, "hi": null}})

on_epoxy(fill_after, more) := contact(object.union(
	{
		"lower_traits": {"class": "primer", "epoxy": true}, "fill_after": fill_after, "fill_sanded": false,
		"baked_full": false,
	},
	more,
))

# Working: 6 h of 12 h is half, well past the grace of a tenth.
test_filler_at_half_the_cards_time_fails if {
	some v in found(on_epoxy(after(6, 6, "card"), {}))
	[v.grade, v.certainty] == ["fails", "will"]
	v.measured == {"lo": 6, "hi": 6, "unit": "h"}
	v.limit == {"lo": 12, "hi": 12, "unit": "h"}
	v.mend == [{"edit": "set", "step": 3, "key": "then_wait", "value": "12 h"}]
}

# Working: 11 h of 12 h is 0.917, a miss of less than a tenth.
test_filler_an_hour_short_of_the_cards_time_is_a_risk if grades(on_epoxy(after(11, 11, "card"), {})) == {["risk", "will"]}

test_filler_at_just_the_cards_time_is_silent if grades(on_epoxy(after(12, 12, "card"), {})) == set()

test_a_wait_that_straddles_the_cards_time_may_be_short if grades(on_epoxy(after(8, 16, "card"), {})) == {["risk", "may"]}

test_a_typical_time_leaves_a_risk_that_may_be if {
	some v in found(on_epoxy(after(6, 6, "typical"), {}))
	[v.grade, v.certainty] == ["risk", "may"]
	v.leaned == ["lower.fill_after"]
	contains(v.message, "typical; copy the data sheet's")
}

test_a_wait_that_nobody_wrote_breaks_nothing if grades(on_epoxy(open_wait, {})) == set()

test_a_bake_to_the_card_is_as_good_as_the_wait if grades(on_epoxy(after(2, 2, "card"), {"baked_full": true})) == set()

test_putty_and_polyester_surfacer_count if {
	every kind in ["finishing putty", "one-part putty", "fiber filler", "polyester surfacer"] {
		grades(on_epoxy(after(6, 6, "card"), {"upper_kind": kind})) == {["fails", "will"]}
	}
}

test_other_films_are_not_this_rules_matter if {
	grades(on_epoxy(after(6, 6, "card"), {"upper_kind": "urethane surfacer"})) == set()
	grades(on_epoxy(after(6, 6, "card"), {"upper_kind": "seam sealer"})) == set()
}

test_urethane_counts_as_epoxy_does if {
	c := on_epoxy(after(1, 1, "card"), {"lower_kind": "urethane surfacer", "lower_traits": {"epoxy": false, "urethane": true}, "abraded": true})
	grades(c) == {["fails", "will"]}
}

test_what_is_neither_epoxy_nor_urethane_is_silent if {
	c := on_epoxy(after(1, 1, "card"), {"lower_kind": "waterborne primer", "lower_traits": {"epoxy": false}})
	grades(c) == set()
}

test_a_primer_that_says_nothing_about_filler_is_silent if grades(on_epoxy(null, {})) == set()

surfacer(more) := on_epoxy(after(20, 20, "typical"), object.union(
	{"lower_kind": "urethane surfacer", "lower_traits": {"epoxy": false, "urethane": true}, "fill_sanded": true},
	more,
))

test_a_urethane_surfacer_left_unsanded_is_a_risk_however_old if {
	some v in found(surfacer({}))
	[v.grade, v.certainty] == ["risk", "may"]
	v.leaned == ["lower.fill_after"]
	v.mend == [{"edit": "insert", "where": "before", "step": 6, "set": {"do": "sand", "grit": "P180"}}]
}

test_a_urethane_surfacer_that_was_sanded_is_silent if grades(surfacer({"abraded": true})) == set()

test_a_bake_does_not_do_the_sanding if grades(surfacer({"baked_full": true})) == {["risk", "may"]}

test_too_young_and_unsanded_is_one_finding if {
	count(found(surfacer({"fill_after": after(1, 1, "typical")}))) == 1
}

test_a_card_of_its_own_asks_for_no_sanding if {
	grades(surfacer({"fill_after": after(20, 20, "card"), "fill_sanded": false})) == set()
}

test_color_on_an_unsanded_surfacer_has_a_rule_of_its_own if {
	grades(surfacer({"upper_kind": "solvent basecoat"})) == set()
}

test_what_is_neither_epoxy_nor_urethane_wants_no_sanding_here if {
	grades(surfacer({"lower_traits": {"epoxy": false, "urethane": false}})) == set()
}

test_a_young_surfacer_that_was_baked_is_told_only_of_the_sanding if {
	some v in found(surfacer({"fill_after": after(2, 2, "typical"), "baked_full": true}))
	[v.grade, v.certainty] == ["risk", "may"]
	contains(v.message, "nothing has sanded")
}
