package guidecoat.substrate["water-on-bare-steel_test"]

import data.guidecoat.substrate["water-on-bare-steel"] as rule

limits := {"rinse_dry": {"measure": {"text": "10 min"}}}

touch(more) := object.union(
	{
		"id": "panel/3", "zone": "panel", "step": 3, "layer": "0:mild-steel", "do": "clean", "agent": "water-wash",
		"water": true, "bare_steel": true, "surface_name": "mild steel", "follows_wet": false, "dried": null,
		"dry_abraded": false, "acid_washed": false, "covered": true, "place": {},
	},
	more,
)

rinse(more) := touch(object.union({"do": "rinse", "agent": "water"}, more))

# A rinse that washes chemistry off.
due(more) := rinse(object.union({"follows_wet": true}, more))

dried(lo, hi) := {"dried": {
	"sense": "most", "open": false, "leaned": [], "source": "limit", "graced": false,
	"over": {"lo": lo, "hi": hi},
	"measured": {"text": "20 min", "shown": {"lo": 20, "hi": 20, "unit": "min"}},
	"limit": {"text": "10 min", "shown": {"lo": 10, "hi": 10, "unit": "min"}},
}}

found(t) := vs if {
	vs := rule.verdict with input as {"touches": [t], "limits": limits}
}

grades(t) := {[v.grade, v.certainty] | some v in found(t)}

test_waterborne_cleaner_on_bare_steel_fails if grades(touch({})) == {["fails", "will"]}

test_soap_and_water_on_bare_steel_fails if grades(touch({"agent": "soap and water"})) == {["fails", "will"]}

test_plain_rinse_of_bare_steel_fails if grades(rinse({})) == {["fails", "will"]}

test_solvent_cleaner_on_bare_steel_is_silent if found(touch({"water": false})) == set()

test_water_on_paint_or_zinc_is_silent if found(touch({"bare_steel": false})) == set()

test_dry_abraded_before_the_next_film_is_a_risk if grades(touch({"dry_abraded": true})) == {["risk", "will"]}

test_acid_washed_before_the_next_film_is_a_risk if grades(rinse({"acid_washed": true})) == {["risk", "will"]}

test_no_film_after_it_fails if grades(touch({"covered": false})) == {["fails", "will"]}

test_dry_abraded_with_no_film_after_it_fails if {
	grades(touch({"covered": false, "dry_abraded": true, "acid_washed": true})) == {["fails", "will"]}
}

test_rinse_after_acid_dried_in_time_is_let_pass if found(due(dried(0.5, 0.5))) == set()

test_rinse_after_acid_dried_in_exactly_the_time_is_let_pass if found(due(dried(1, 1))) == set()

test_rinse_after_acid_dried_too_late_fails if {
	some v in found(due(dried(2, 2)))
	v.grade == "fails"
	v.certainty == "will"
	v.measured == {"lo": 20, "hi": 20, "unit": "min"}
	v.limit == {"lo": 10, "hi": 10, "unit": "min"}
	v.mend == [{"edit": "set", "step": 3, "key": "dried_within", "value": "10 min"}]
}

test_rinse_after_acid_dried_perhaps_too_late_may_be if grades(due(dried(0.5, 2))) == {["risk", "may"]}

test_rinse_after_acid_dried_too_late_but_dry_abraded_is_a_risk if {
	grades(due(object.union(dried(2, 2), {"dry_abraded": true}))) == {["risk", "will"]}
}

test_rinse_after_acid_with_no_drying_written_may_be if grades(due({})) == {["risk", "may"]}

test_soap_wash_after_acid_is_not_let_pass if {
	grades(touch(object.union(dried(0.5, 0.5), {"follows_wet": true}))) == {["fails", "will"]}
}

test_wipe_is_mended_with_a_solvent_cleaner if {
	some v in found(touch({}))
	v.mend == [{"edit": "set", "step": 3, "key": "with_kind", "value": "wax and grease remover"}]
}

test_needless_rinse_is_mended_by_dropping_it if {
	some v in found(rinse({}))
	v.mend == [{"edit": "drop", "step": 3}]
}

test_verdict_stands_on_the_touch if {
	some v in found(touch({}))
	v.on == "panel/3"
	v.rests == {"lower": "0:mild-steel"}
}

test_a_needless_rinse_dried_too_late_is_told_as_a_rinse if {
	some v in found(rinse(dried(2, 2)))
	[v.grade, v.certainty, v.measured] == ["fails", "will", null]
}
