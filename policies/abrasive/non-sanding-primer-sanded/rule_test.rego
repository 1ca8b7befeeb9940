package guidecoat.abrasive["non-sanding-primer-sanded_test"]

import data.guidecoat.abrasive["non-sanding-primer-sanded"] as rule

abrasion(more) := object.union(
	{
		"id": "dent/4", "step": 4, "do": "sand", "zone": "dent", "layer": "3:seal", "existing": false,
		"surface_kind": "epoxy sealer", "surface_name": "seal (epoxy sealer)",
		"surface_traits": {"class": "sealer", "acid": false, "sandable": false},
		"grit": {"name": "P400"}, "sand_after": after(6, 6, "card"), "sand_after_baked": false, "place": {},
	},
	more,
)

# Hours against twenty-four.
after(lo, hi, source) := {
	"measured": {"text": "AGE", "shown": {"lo": lo, "hi": hi, "unit": "h"}},
	"limit": {"text": "24 h", "shown": {"lo": 24, "hi": 24, "unit": "h"}},
	"sense": "least", "open": false, "source": source, "leaned": {"card": [], "typical": ["seal.sand_after"]}[source],
	"graced": true, "over": {"lo": lo / 24, "hi": hi / 24},
}

found(a) := vs if {
	vs := rule.verdict with input as {
		"abrasions": [a], "layers_by_id": {"3:seal": {"step": 3}}, "limits": {"grace": {"low": 0.9, "high": 1.1}},
	}
}

grades(a) := {[v.grade, v.certainty] | some v in found(a)}

test_a_film_not_for_sanding_sanded_before_its_time_is_a_risk if {
	some v in found(abrasion({}))
	[v.grade, v.certainty, v.on] == ["risk", "will", "dent/4"]
	v.limit == {"lo": 24, "hi": 24, "unit": "h"}
	v.message == "seal (epoxy sealer) is sanded with P400 and is no film for sanding before 24 h; it is AGE old"
	v.mend == [{"edit": "set", "step": 3, "key": "then_wait", "value": "24 h"}]
}

test_blocking_is_sanding if grades(abrasion({"do": "block"})) == {["risk", "will"]}

test_scuffing_is_let_pass if grades(abrasion({"do": "scuff"})) == set()

test_cured_past_its_time_it_may_be_sanded if grades(abrasion({"sand_after": after(24, 24, "card")})) == set()

test_a_bake_is_as_good_as_the_time if grades(abrasion({"sand_after_baked": true})) == set()

test_a_wait_that_straddles_the_time_may_be_short if grades(abrasion({"sand_after": after(12, 36, "card")})) == {["risk", "may"]}

test_a_typical_time_leaves_a_risk_that_may_be if {
	some v in found(abrasion({"sand_after": after(6, 6, "typical")}))
	[v.certainty, v.leaned] == ["may", ["seal.sand_after"]]
}

test_a_wait_that_nobody_wrote_breaks_nothing if {
	grades(abrasion({"sand_after": object.union(after(0, 0, "card"), {"open": true, "over": {"lo": 0, "hi": null}})})) == set()
}

test_a_film_that_gives_no_time_at_all_is_never_for_sanding if {
	some v in found(abrasion({"sand_after": null, "surface_kind": "cavity wax"}))
	[v.grade, v.certainty] == ["risk", "will"]
	v.mend == []
}

test_a_sandable_film_is_not_this_rules_matter if grades(abrasion({"surface_traits": {"sandable": true}})) == set()

test_acid_primer_and_promoter_have_a_rule_of_their_own if {
	grades(abrasion({"surface_traits": {"acid": true, "class": "primer"}})) == set()
	grades(abrasion({"surface_traits": {"class": "promoter"}})) == set()
}

test_a_film_that_was_there_is_cured if grades(abrasion({"existing": true, "sand_after": null})) == set()

test_bare_plastic_is_no_film if {
	grades(abrasion({"surface_traits": {"class": "substrate", "acid": false, "sandable": false}})) == set()
}
