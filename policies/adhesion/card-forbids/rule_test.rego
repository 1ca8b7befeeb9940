package guidecoat.adhesion["card-forbids_test"]

import data.guidecoat.adhesion["card-forbids"] as rule

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
	vs := rule.verdict with input as {"contacts": [c], "zones": [{"name": "panel", "parent": ""}, {"name": "dent", "parent": ""}]}
}

grades(c) := {v.grade | some v in found(c)}

test_a_card_that_keeps_off_it_fails if {
	some v in found(contact({"card_says": "forbids"}))
	[v.grade, v.certainty, v.on] == ["fails", "will", "dent/6:upper"]
	v.message == "upper lies on lower, and its card keeps it off lacquer primer"
}

test_a_substrate_can_be_forbidden_too if {
	grades(contact({"card_says": "forbids", "lower_kind": "aluminum", "lower_substrate": true})) == {"fails"}
}

test_it_offers_epoxy_between_or_bare_metal if {
	some v in found(contact({"card_says": "forbids"}))
	[e.set.do | some e in v.mend] == ["spray", "strip"]
	some w in found(contact({"card_says": "forbids", "upper_kind": "epoxy primer"}))
	[e.set.do | some e in w.mend] == ["strip"]
}

test_any_other_word_of_the_card_is_silent if {
	every word in ["silent", "allows", "unlisted"] {
		grades(contact({"card_says": word})) == set()
	}
}
