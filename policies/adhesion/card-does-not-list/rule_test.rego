package guidecoat.adhesion["card-does-not-list_test"]

import data.guidecoat.adhesion["card-does-not-list"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "urethane sealer", "lower_kind": "lacquer primer",
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

found(c) := vs if {
	vs := rule.verdict with input as {
		"contacts": [c], "zones": [],
		"cards": {"upper": {"goes_on": ["epoxy primer", "mild steel", "urethane surfacer"]}, "metals": {"goes_on": []}},
	}
}

grades(c) := {v.grade | some v in found(c)}

test_a_substrate_off_the_list_is_a_risk if {
	grades(contact({"card_says": "unlisted", "lower_kind": "aluminum", "lower_substrate": true, "lower_card": ""})) == {"risk"}
	grades(contact({"card_says": "unlisted", "lower_kind": "bare plastic", "lower_substrate": true, "lower_card": ""})) == {"risk"}
}

test_a_film_off_the_list_is_advice if grades(contact({"card_says": "unlisted"})) == {"advice"}

test_a_finish_that_was_there_is_a_film if {
	grades(contact({"card_says": "unlisted", "lower_kind": "factory finish", "lower_existing": true, "lower_card": ""})) == {"advice"}
}

test_its_own_card_beneath_is_silent if {
	grades(contact({"card_says": "unlisted", "upper_card": "seal", "lower_card": "seal"})) == set()
}

test_two_films_without_a_card_are_not_one_card if {
	grades(contact({"card_says": "unlisted", "upper_card": "", "lower_card": ""})) == {"advice"}
}

test_any_other_word_of_the_card_is_silent if {
	every word in ["silent", "allows", "forbids"] {
		grades(contact({"card_says": word})) == set()
	}
}

test_it_offers_a_film_from_the_list if {
	some v in found(contact({"card_says": "unlisted"}))
	v.mend == [{"edit": "insert", "where": "before", "step": 6, "set": {"do": "spray", "product_kind": ["epoxy primer", "urethane surfacer"]}}]
}

test_an_epoxy_that_lists_metals_alone_is_offered_nothing if {
	some v in found(contact({"card_says": "unlisted", "upper_card": "metals", "upper_kind": "epoxy primer", "lower_substrate": true}))
	v.mend == []
}

test_its_own_kind_is_not_offered_between if {
	some v in found(contact({"card_says": "unlisted", "upper_kind": "epoxy primer"}))
	v.mend[0].set.product_kind == ["urethane surfacer"]
}

test_with_a_list_of_metals_alone_it_offers_epoxy if {
	some v in found(contact({"card_says": "unlisted", "upper_card": "metals", "lower_substrate": true}))
	v.mend[0].set.product_kind == ["epoxy primer"]
}

test_it_offers_every_film_that_can_be_sprayed_between_and_nothing_else if {
	sprayable := [
		"adhesion promoter", "epoxy primer", "epoxy sealer", "epoxy surfacer", "one-part acid primer",
		"two-part wash primer", "urethane surfacer", "waterborne primer",
	]
	c := contact({"card_says": "unlisted"})
	every kind in sprayable {
		some v in rule.verdict with input as {"contacts": [c], "zones": [], "cards": {"upper": {"goes_on": [kind, "body filler"]}}}
		v.mend[0].set.product_kind == [kind]
	}
	some v in rule.verdict with input as {
		"contacts": [object.union(c, {"upper_kind": "solvent basecoat"})], "zones": [],
		"cards": {"upper": {"goes_on": ["urethane sealer", "solvent basecoat"]}},
	}
	v.mend[0].set.product_kind == ["urethane sealer"]
}
