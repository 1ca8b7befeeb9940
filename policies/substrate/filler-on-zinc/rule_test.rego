package guidecoat.substrate["filler-on-zinc_test"]

import data.guidecoat.substrate["filler-on-zinc"] as rule

contact(more) := object.union(
	{
		"id": "dent/4:filler", "zone": "dent", "step": 4, "upper": "4:filler", "lower": "0:galvanized-steel",
		"upper_name": "filler", "lower_name": "galvanized steel", "upper_kind": "body filler",
		"lower_traits": {"zinc": true}, "card_says": "silent", "place": {},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {
		"contacts_on_metal": [c],
		"zones": [{"name": "dent", "parent": ""}, {"name": "panel", "parent": ""}],
	}
}

test_every_polyester_on_galvanized_fails if {
	every kind in ["body filler", "fiber filler", "finishing putty", "polyester surfacer"] {
		some v in found(contact({"upper_kind": kind}))
		v.grade == "fails"
	}
}

test_epoxy_and_one_part_putty_on_galvanized_are_silent if {
	every kind in ["epoxy primer", "one-part putty", "urethane surfacer"] {
		found(contact({"upper_kind": kind})) == set()
	}
}

test_filler_on_mild_steel_is_silent if found(contact({"lower_traits": {"zinc": false}})) == set()

test_card_that_allows_it_is_silent if found(contact({"card_says": "allows"})) == set()

test_card_that_does_not_list_it_fails if {
	some v in found(contact({"card_says": "unlisted"}))
	v.grade == "fails"
}

test_epoxy_is_offered_before_it if {
	some v in found(contact({}))
	v.mend == [{
		"edit": "insert", "where": "before", "step": 4,
		"set": {"do": "spray", "product_kind": "epoxy primer", "then_wait": "16 h", "on": ["dent"]},
	}]
}
