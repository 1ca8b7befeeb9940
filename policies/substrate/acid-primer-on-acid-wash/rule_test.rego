package guidecoat.substrate["acid-primer-on-acid-wash_test"]

import data.guidecoat.substrate["acid-primer-on-acid-wash"] as rule

contact(more) := object.union(
	{
		"id": "panel/5:etch", "zone": "panel", "step": 5, "upper": "5:etch", "lower": "0:mild-steel",
		"upper_name": "etch", "lower_name": "mild steel", "upper_kind": "one-part acid primer",
		"upper_traits": {"acid": true}, "lower_kind": "mild steel", "lower_traits": {"steel": true, "zinc": false},
		"wipes": [], "touched": [], "tooth": {"fine_card": null}, "place": {},
		"prep": {"acid_wash_since_abraded": false, "conversion_since_abraded": false},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {
		"contacts_on_metal": [c],
		"limits": {"metal_steel_acid_fine": {"measure": {"text": "P320"}}, "metal_steel_fine": {"measure": {"text": "P180"}}},
	}
}

grades(c) := {[v.grade, v.certainty] | some v in found(c)}

washed := {"touched": ["acid wash", "rinse"], "prep": {"acid_wash_since_abraded": true}}

converted := {"touched": ["conversion coating", "rinse"], "prep": {"conversion_since_abraded": true}}

test_acid_primer_on_acid_washed_metal_fails if grades(contact(washed)) == {["fails", "will"]}

test_wash_primer_on_acid_washed_metal_fails if {
	grades(contact(object.union(washed, {"upper_kind": "two-part wash primer"}))) == {["fails", "will"]}
}

test_acid_primer_on_conversion_coating_is_a_risk if grades(contact(converted)) == {["risk", "will"]}

test_the_later_of_the_two_counts if {
	both := {"acid_wash_since_abraded": true, "conversion_since_abraded": true}
	grades(contact({"touched": ["acid wash", "rinse", "conversion coating", "rinse"], "prep": both})) == {["risk", "will"]}
	grades(contact({"touched": ["conversion coating", "acid wash", "rinse"], "prep": both})) == {["fails", "will"]}
}

test_acid_primer_on_metal_abraded_since_is_silent if found(contact({"touched": ["acid wash", "rinse"]})) == set()

test_epoxy_on_acid_washed_metal_is_silent if {
	found(contact(object.union(washed, {"upper_kind": "epoxy primer", "upper_traits": {"acid": false}}))) == set()
}

test_it_is_mended_by_sanding_the_treatment_off if {
	some v in found(contact(washed))
	v.mend == [{"edit": "insert", "where": "before", "step": 5, "set": {"do": "sand", "grit": "P320"}}]
}
