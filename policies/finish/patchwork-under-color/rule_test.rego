package guidecoat.finish["patchwork-under-color_test"]

import data.guidecoat.finish["patchwork-under-color"] as rule

contact(id, kind, more) := object.union(
	{
		"id": id, "zone": id, "step": 5, "upper": "5:base", "lower": "x", "lower_kind": kind,
		"lower_pore": false, "zone_facts": {"role": ""}, "place": {},
	},
	more,
)

color(rests) := {
	"id": "5:base", "step": 5, "name": "blue (solvent basecoat)", "traits": {"class": "color"},
	"rests_on": [{"kind": k} | some k in rests],
}

found(l, contacts) := vs if {
	vs := rule.verdict with input as {"layers": [l], "contacts_by_upper": {"5:base": contacts}}
}

test_two_hard_films_are_advice if {
	some v in found(color(["urethane surfacer", "factory finish"]), [
		contact("a", "urethane surfacer", {}),
		contact("b", "factory finish", {}),
	])
	v.grade == "advice"
	v.on == "a"
}

test_lacquer_primer_among_them_is_a_risk_and_stands_on_it if {
	some v in found(color(["factory finish", "lacquer primer"]), [
		contact("a", "factory finish", {}),
		contact("b", "lacquer primer", {}),
	])
	v.grade == "risk"
	v.on == "b"
}

test_it_stands_on_the_porous_place_first if {
	some v in found(color(["body filler", "waterborne primer"]), [
		contact("a", "waterborne primer", {}),
		contact("b", "body filler", {"lower_pore": true}),
	])
	v.on == "b"
}

test_one_film_is_silent if {
	count(found(color(["urethane sealer"]), [contact("a", "urethane sealer", {})])) == 0
}

test_clear_is_not_judged if {
	l := object.union(color(["urethane surfacer", "factory finish"]), {"traits": {"class": "clear"}})
	count(found(l, [contact("a", "urethane surfacer", {}), contact("b", "factory finish", {})])) == 0
}

test_a_blend_zone_is_never_where_it_stands if {
	some v in found(color(["urethane surfacer", "factory finish"]), [
		contact("a", "urethane surfacer", {"zone_facts": {"role": "blend"}}),
		contact("b", "factory finish", {}),
	])
	v.on == "b"
}

test_every_kind_that_drinks_makes_it_a_risk if {
	every kind in ["lacquer primer", "one-part acid primer", "two-part wash primer", "waterborne primer", "one-part putty"] {
		rests := ["epoxy primer", kind]
		{v.grade | some v in found(color(rests), [contact("a", kind, {}), contact("b", "epoxy primer", {})])} == {"risk"}
	}
}

test_a_film_that_drinks_and_is_porous_is_the_worst_place if {
	some v in found(color(["epoxy primer", "lacquer primer"]), [
		contact("a", "epoxy primer", {}), contact("b", "lacquer primer", {"lower_pore": true}),
	])
	v.on == "b"
	v.mend == [{
		"edit": "insert", "where": "before", "step": 5,
		"set": {"do": "spray", "product_kind": ["urethane sealer", "epoxy sealer"]},
	}]
}
