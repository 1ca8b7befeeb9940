package guidecoat.adhesion["one-part-putty-buried_test"]

import data.guidecoat.adhesion["one-part-putty-buried"] as rule

contact(more) := object.union(
	{
		"id": "dent/6:upper", "zone": "dent", "step": 6, "upper": "6:upper", "lower": "3:lower",
		"upper_name": "upper", "lower_name": "lower", "upper_card": "upper", "lower_card": "lower",
		"upper_kind": "urethane surfacer", "lower_kind": "one-part putty",
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

putty := {"id": "4:tube", "kind": "one-part putty", "name": "tube putty (one-part putty)", "step": 4, "traits": {"two_part": false}}

layers := {
	"0:mild steel": {"id": "0:mild steel", "kind": "mild steel", "name": "mild steel", "step": 0, "traits": {"two_part": false}},
	"2:epoxy": {"id": "2:epoxy", "kind": "epoxy primer", "name": "epoxy primer", "step": 2, "traits": {"two_part": true}},
	"4:tube": putty,
	"5:lacquer": {"id": "5:lacquer", "kind": "lacquer primer", "name": "lacquer primer", "step": 5, "traits": {"two_part": false}},
	"5:surfacer": {"id": "5:surfacer", "kind": "urethane surfacer", "name": "2K", "step": 5, "traits": {"two_part": true}},
	"0.1:one-part putty": {"id": "0.1:one-part putty", "kind": "one-part putty", "name": "one-part putty", "step": 0, "traits": {"two_part": false}},
}

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "totals": [], "layers_by_id": layers}
}

grades(c) := {v.grade | some v in found(c)}

over(films, more) := contact(object.union({"films": films, "upper_traits": {"two_part": true}}, more))

test_under_a_two_part_film_it_is_a_risk if {
	some v in found(over(["0:mild steel", "2:epoxy", "4:tube"], {}))
	v.grade == "risk"
	v.on == "dent/6:upper"
	v.message == "upper buries tube putty (one-part putty), which can no longer dry"
	v.mend == [{"edit": "set", "step": 4, "key": "product_kind", "value": ["finishing putty"]}]
}

test_under_a_one_part_film_it_is_silent if {
	grades(over(["0:mild steel", "2:epoxy", "4:tube"], {"upper_kind": "lacquer primer", "upper_traits": {"two_part": false}})) == set()
}

test_a_one_part_film_between_does_not_help if {
	grades(over(["0:mild steel", "2:epoxy", "4:tube", "5:lacquer"], {"lower_kind": "lacquer primer"})) == {"risk"}
}

test_the_second_two_part_film_over_it_is_silent if {
	grades(over(["0:mild steel", "2:epoxy", "4:tube", "5:surfacer"], {"lower_kind": "urethane surfacer"})) == set()
}

test_a_two_part_film_beneath_it_does_not_count if {
	grades(over(["0:mild steel", "2:epoxy", "4:tube"], {})) == {"risk"}
}

test_where_there_is_no_putty_it_is_silent if grades(over(["0:mild steel", "2:epoxy"], {"lower_kind": "epoxy primer"})) == set()

test_putty_that_was_there_counts_and_cannot_be_swapped if {
	some v in found(over(["0:mild steel", "0.1:one-part putty"], {}))
	v.grade == "risk"
	v.mend == []
}

# Fifteen mil is the most.
total(lo, hi) := {
	"id": "dent/9-0", "zone": "dent", "top_step": 9, "filler_step": 4, "place": {},
	"one_part_putty_max": {
		"measured": {"text": "20 mil", "lo": lo, "hi": hi, "open": false, "shown": {"lo": lo, "hi": hi, "unit": "mil"}},
		"limit": {"text": "15 mil", "lo": 15, "hi": 15, "open": false, "shown": {"lo": 15, "hi": 15, "unit": "mil"}},
		"sense": "most", "open": false, "source": "limit", "leaned": [], "graced": false,
		"over": {"lo": lo / 15, "hi": hi / 15},
	},
}

thick(t) := vs if {
	vs := rule.verdict with input as {"contacts": [], "totals": [t], "layers_by_id": {}}
}

test_thick_putty_is_a_risk if {
	some v in thick(total(20, 20))
	[v.grade, v.certainty, v.step, v.on] == ["risk", "will", 4, "dent/9-0"]
	v.measured == {"lo": 20, "hi": 20, "unit": "mil"}
	v.message == "one-part putty is 20 mil thick; it dries through up to 15 mil"
}

test_just_fifteen_mil_is_silent if count(thick(total(15, 15))) == 0

test_putty_that_may_be_thick_may_sink if {
	some v in thick(total(10, 20))
	[v.grade, v.certainty] == ["risk", "may"]
}

test_a_zone_without_putty_is_silent if count(thick(object.union(total(1, 1), {"one_part_putty_max": null}))) == 0
