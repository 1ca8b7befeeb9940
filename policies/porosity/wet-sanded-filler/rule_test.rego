package guidecoat.porosity["wet-sanded-filler_test"]

import data.guidecoat.porosity["wet-sanded-filler"] as rule

limits := {"dry_out_time": {"measure": {"text": "24 h"}}, "dry_out_warm": {"measure": {"text": "65 F"}}}

abrasion(kind, more) := object.union(
	{
		"id": "dent/5", "zone": "dent", "step": 5, "layer": "4:x", "surface_kind": kind, "surface_name": "x", "wet": true,
		"surface_traits": {"wet_sandable": false}, "cut": false, "dried_out": null, "baked_dry": false, "place": {},
	},
	more,
)

found(a) := vs if {
	vs := rule.verdict with input as {"abrasions": [a], "limits": limits}
}

grades(a) := {[v.grade, v.certainty] | some v in found(a)}

dried(lo, hi) := {
	"sense": "least", "open": false, "leaned": [], "source": "limit", "graced": false, "over": {"lo": lo, "hi": hi},
	"measured": {"text": "10 h", "shown": {"lo": 10, "hi": 10, "unit": "h"}},
	"limit": {"text": "24 h", "shown": {"lo": 24, "hi": 24, "unit": "h"}},
}

keeps := ["body filler", "fiber filler", "finishing putty", "plastic repair filler"]

gives_back := ["polyester surfacer", "lacquer primer", "one-part putty"]

test_wet_paper_on_filler_or_two_part_putty_fails if {
	every kind in keeps {
		grades(abrasion(kind, {})) == {["fails", "will"]}
	}
}

test_drying_does_not_save_filler if {
	every kind in keeps {
		grades(abrasion(kind, {"dried_out": dried(3, 3), "baked_dry": true})) == {["fails", "will"]}
	}
}

test_wet_paper_through_to_filler_fails if {
	some v in found(abrasion("body filler", {"cut": true}))
	v.grade == "fails"
	contains(v.message, "cuts through")
}

test_dry_paper_is_silent if {
	every kind in array.concat(keeps, gives_back) {
		found(abrasion(kind, {"wet": false})) == set()
	}
}

test_card_that_lets_it_be_sanded_wet_is_silent if {
	every kind in array.concat(keeps, gives_back) {
		found(abrasion(kind, {"surface_traits": {"wet_sandable": true}})) == set()
	}
}

test_polyester_lacquer_and_one_part_putty_not_dried_out_are_a_risk if {
	every kind in gives_back {
		grades(abrasion(kind, {"dried_out": dried(0.4, 0.4)})) == {["risk", "will"]}
	}
}

test_dried_out_for_a_day_is_silent if {
	every kind in gives_back {
		found(abrasion(kind, {"dried_out": dried(1, 1)})) == set()
	}
}

test_dried_out_perhaps_for_a_day_may_be if grades(abrasion("polyester surfacer", {"dried_out": dried(0.4, 2)})) == {["risk", "may"]}

test_baked_dry_is_silent if found(abrasion("polyester surfacer", {"baked_dry": true, "dried_out": dried(0.1, 0.1)})) == set()

test_drying_that_nobody_wrote_may_be if {
	grades(abrasion("lacquer primer", {})) == {["risk", "may"]}
	open := object.union(dried(0, 0), {"open": true, "over": {"lo": 0, "hi": null}})
	grades(abrasion("lacquer primer", {"dried_out": open})) == {["risk", "may"]}
}

test_wet_paper_on_closed_films_is_silent if {
	every kind in ["epoxy primer", "urethane surfacer", "urethane clear", "seam sealer", "body solder", "mild steel"] {
		found(abrasion(kind, {})) == set()
	}
}

test_it_is_mended_by_sanding_dry if {
	some v in found(abrasion("body filler", {}))
	v.mend == [{"edit": "set", "step": 5, "key": "wet", "value": false}]
}
