package guidecoat.substrate["acid-primer-on-plastic_test"]

import data.guidecoat.substrate["acid-primer-on-plastic"] as rule

contact(more) := object.union(
	{
		"id": "panel/4:etch", "zone": "panel", "step": 4, "upper": "4:etch", "lower": "0:x", "upper_name": "etch",
		"lower_name": "bare plastic", "upper_traits": {"acid": true}, "lower_traits": {"plastic": true, "composite": false},
		"lower_substrate": true, "card_says": "silent", "place": {},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c]}
}

test_acid_primer_on_plastic_is_a_risk if {
	some v in found(contact({}))
	v.grade == "risk"
	v.mend == [{"edit": "set", "step": 4, "key": "product_kind", "value": ["adhesion promoter"]}]
}

test_acid_primer_on_fiberglass_is_a_risk if {
	some v in found(contact({"lower_traits": {"plastic": false, "composite": true}}))
	v.grade == "risk"
	v.mend == [{"edit": "set", "step": 4, "key": "product_kind", "value": ["epoxy primer", "urethane surfacer"]}]
}

test_acid_primer_on_metal_is_silent if found(contact({"lower_traits": {"plastic": false}})) == set()

test_acid_primer_on_a_film_is_not_this_rules_matter if found(contact({"lower_substrate": false})) == set()

test_epoxy_on_plastic_is_silent if found(contact({"upper_traits": {"acid": false}})) == set()

test_card_that_allows_it_is_silent if found(contact({"card_says": "allows"})) == set()
