package guidecoat.substrate["wet-sanding-bare-steel_test"]

import data.guidecoat.substrate["wet-sanding-bare-steel"] as rule

abrasion(more) := object.union(
	{
		"id": "panel/4", "zone": "panel", "step": 4, "layer": "0:mild-steel", "surface_name": "mild steel",
		"wet": true, "bare_steel": true, "cut": false, "dry_again": false, "place": {},
	},
	more,
)

found(a) := vs if {
	vs := rule.verdict with input as {
		"abrasions": [a],
		"limits": {"dry_abrasive": {"measure": {"text": "P180"}}},
		"zones": [{"name": "panel", "parent": ""}, {"name": "rub-through", "parent": "panel"}],
	}
}

test_wet_paper_on_bare_steel_fails if {
	some v in found(abrasion({}))
	v.grade == "fails"
	v.certainty == "will"
	v.on == "panel/4"
}

test_wet_paper_through_to_bare_steel_fails if {
	some v in found(abrasion({"cut": true, "zone": "rub-through", "id": "rub-through/4"}))
	v.grade == "fails"
	contains(v.message, "cuts through")
	v.mend[1] == {
		"edit": "insert", "where": "after", "step": 4,
		"set": {"do": "sand", "grit": "P180", "on": ["rub-through"]},
	}
}

test_dry_abraded_again_before_the_next_film_is_silent if found(abrasion({"dry_again": true})) == set()

test_dry_paper_on_bare_steel_is_silent if found(abrasion({"wet": false})) == set()

test_wet_paper_on_paint_is_silent if found(abrasion({"bare_steel": false})) == set()

test_it_is_mended_by_sanding_dry if {
	some v in found(abrasion({}))
	v.mend[0] == {"edit": "set", "step": 4, "key": "wet", "value": false}
}
