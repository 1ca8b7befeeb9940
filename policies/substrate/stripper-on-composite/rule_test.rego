package guidecoat.substrate["stripper-on-composite_test"]

import data.guidecoat.substrate["stripper-on-composite"] as rule

strip(more) := object.union(
	{
		"id": "panel/1", "zone": "panel", "step": 1, "tool": "chemical stripper", "substrate": "mild steel",
		"substrate_traits": {"composite": false, "plastic": false}, "top_kind": "mild steel",
		"took": [{"kind": "factory finish"}], "had_filler": false, "place": {},
	},
	more,
)

found(s) := vs if {
	vs := rule.verdict with input as {"strips": [s]}
}

fails(s) if {
	some v in found(s)
	v.grade == "fails"
}

test_stripper_on_composite_fails if fails(strip({"substrate": "fiberglass", "substrate_traits": {"composite": true}}))

test_stripper_on_plastic_fails if fails(strip({"substrate": "bare plastic", "substrate_traits": {"plastic": true}}))

test_stripper_that_takes_or_reaches_gelcoat_fails if {
	fails(strip({"took": [{"kind": "gelcoat"}]}))
	fails(strip({"top_kind": "gelcoat"}))
}

test_stripper_on_a_zone_with_filler_or_seam_sealer_fails if fails(strip({"had_filler": true}))

test_stripper_on_paint_over_steel_is_silent if found(strip({})) == set()

test_a_razor_on_plastic_is_silent if found(strip({"tool": "razor", "substrate_traits": {"plastic": true}})) == set()

test_it_is_mended_with_another_tool if {
	some v in found(strip({"had_filler": true}))
	v.mend == [{"edit": "set", "step": 1, "key": "tool", "value": "sander"}]
	v.on == "panel/1"
}
