package guidecoat.adhesion["acid-primer-sanded_test"]

import data.guidecoat.adhesion["acid-primer-sanded"] as rule

abrasion(more) := object.union(
	{
		"id": "dent/4", "step": 4, "do": "scuff", "zone": "dent", "layer": "3:etch",
		"surface_kind": "one-part acid primer", "surface_name": "etch (one-part acid primer)",
		"surface_traits": {"class": "primer", "acid": true},
		"grit": {"name": "fine pad"}, "next_kind": "urethane surfacer", "next_contact": "dent/5:surfacer", "place": {},
	},
	more,
)

found(a) := vs if {
	vs := rule.verdict with input as {"abrasions": [a], "zones": []}
}

grades(a) := {v.grade | some v in found(a)}

promoter := {
	"surface_kind": "adhesion promoter", "surface_name": "bumper tie (adhesion promoter)",
	"surface_traits": {"class": "promoter", "acid": false},
}

test_scuffed_acid_primer_is_a_risk if {
	some v in found(abrasion({}))
	v.grade == "risk"
	v.on == "dent/4"
	v.message == "etch (one-part acid primer) is abraded with fine pad; so thin a film counts as gone, and it is not laid again"
}

test_sanding_and_blocking_count_as_well if {
	grades(abrasion({"do": "sand", "grit": {"name": "P320"}})) == {"risk"}
	grades(abrasion({"do": "block", "grit": {"name": "P320"}})) == {"risk"}
}

test_wash_primer_counts_as_well if {
	grades(abrasion({"surface_kind": "two-part wash primer"})) == {"risk"}
}

test_promoter_counts_as_well if grades(abrasion(promoter)) == {"risk"}

test_a_cut_that_stops_in_it_counts if grades(abrasion({"cut": true, "cut_from": "urethane surfacer"})) == {"risk"}

test_left_as_it_is_counts if grades(abrasion({"next_kind": "", "next_contact": ""})) == {"risk"}

test_acid_primer_laid_again_is_silent if {
	grades(abrasion({"next_kind": "one-part acid primer"})) == set()
	grades(abrasion({"next_kind": "two-part wash primer"})) == set()
}

test_promoter_laid_again_is_silent if grades(abrasion(object.union(promoter, {"next_kind": "adhesion promoter"}))) == set()

test_promoter_over_sanded_acid_primer_does_not_put_it_right if grades(abrasion({"next_kind": "adhesion promoter"})) == {"risk"}

test_acid_primer_over_sanded_promoter_does_not_put_it_right if {
	grades(abrasion(object.union(promoter, {"next_kind": "one-part acid primer"}))) == {"risk"}
}

test_another_primer_may_be_sanded if {
	grades(abrasion({"surface_kind": "epoxy primer", "surface_traits": {"class": "primer", "acid": false}})) == set()
}

test_the_metal_itself_may_be_sanded if {
	grades(abrasion({"surface_kind": "mild steel", "surface_traits": {"class": "substrate", "acid": false}})) == set()
}

test_it_offers_to_lay_it_again if {
	some v in found(abrasion({}))
	v.mend == [{
		"edit": "insert", "where": "after", "step": 4,
		"set": {"do": "spray", "product_kind": ["one-part acid primer"]},
	}]
}
