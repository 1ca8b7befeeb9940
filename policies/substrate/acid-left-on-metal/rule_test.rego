package guidecoat.substrate["acid-left-on-metal_test"]

import data.guidecoat.substrate["acid-left-on-metal"] as rule

contact(more) := object.union(
	{
		"id": "panel/5:grey", "zone": "panel", "step": 5, "upper": "5:grey", "lower": "0:mild-steel",
		"upper_name": "grey", "lower_name": "mild steel", "upper_kind": "epoxy primer", "upper_traits": {"epoxy": true},
		"place": {},
		"prep": {
			"acid_wash_since_abraded": true, "conversion_since_abraded": false, "neutralized": false,
			"rinsed_since": true, "abraded_since": false, "treat_step": 2, "neutralize_step": 0, "last_step": 2,
		},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts_on_metal": [c], "limits": {"rinse_dry": {"measure": {"text": "10 min"}}}}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

urethane := {"upper_kind": "urethane surfacer", "upper_traits": {"epoxy": false}}

test_a_film_after_treatment_with_no_rinse_fails if {
	some v in found(contact({"prep": {"rinsed_since": false}}))
	v.grade == "fails"
	v.mend == [{"edit": "insert", "where": "after", "step": 2, "set": {"do": "rinse", "dried_within": "10 min"}}]
}

test_any_film_after_treatment_with_no_rinse_fails if {
	grades(contact(object.union(urethane, {"prep": {"rinsed_since": false}}))) == {["fails", "will"]}
}

test_a_film_after_neutralizer_with_no_rinse_fails if {
	after := {"neutralized": true, "neutralize_step": 4, "last_step": 4, "rinsed_since": false}
	grades(contact({"prep": after})) == {["fails", "will"]}
}

test_conversion_coating_with_no_rinse_fails if {
	coated := {"acid_wash_since_abraded": false, "conversion_since_abraded": true, "rinsed_since": false}
	grades(contact({"prep": coated})) == {["fails", "will"]}
}

test_abraded_after_treatment_is_silent if {
	ground := {"rinsed_since": false, "abraded_since": true, "acid_wash_since_abraded": false}
	found(contact({"prep": ground})) == set()
}

test_metal_never_treated_is_silent if {
	plain := {"last_step": 0, "treat_step": 0, "rinsed_since": false, "acid_wash_since_abraded": false}
	found(contact({"prep": plain})) == set()
}

test_epoxy_over_acid_wash_that_was_only_rinsed_is_a_risk if {
	some v in found(contact({}))
	v.grade == "risk"
	v.mend == [{"edit": "insert", "where": "after", "step": 2, "set": {"do": "neutralize", "with_kind": "neutralizer"}}]
}

test_polyester_filler_and_putty_over_acid_wash_only_rinsed_are_a_risk if {
	every kind in ["polyester surfacer", "body filler", "fiber filler", "finishing putty", "one-part putty", "plastic repair filler"] {
		grades(contact({"upper_kind": kind, "upper_traits": {"epoxy": false}})) == {["risk", "will"]}
	}
}

test_urethane_over_acid_wash_that_was_rinsed_is_silent if found(contact(urethane)) == set()

test_neutralized_converted_or_abraded_is_silent if {
	every done in ["neutralized", "conversion_since_abraded", "abraded_since"] {
		found(contact({"prep": {done: true}})) == set()
	}
}

test_conversion_coating_that_was_rinsed_is_silent if {
	found(contact({"prep": {"acid_wash_since_abraded": false, "conversion_since_abraded": true}})) == set()
}

test_a_rinse_with_no_acid_wash_before_it_is_silent if {
	found(contact({"prep": {"acid_wash_since_abraded": false}})) == set()
}

test_acid_of_the_first_step_counts if {
	grades(contact({"prep": {"rinsed_since": false, "last_step": 1}})) == {["fails", "will"]}
}
