package guidecoat.substrate["gloss-not-scuffed_test"]

import data.guidecoat.substrate["gloss-not-scuffed"] as rule

contact(more) := object.union(
	{
		"id": "panel/2:x", "zone": "panel", "step": 2, "upper": "2:x", "lower": "0.1:y", "upper_name": "x", "lower_name": "y",
		"upper_kind": "epoxy primer", "upper_traits": {"class": "primer"}, "lower_kind": "factory finish",
		"lower_traits": {"class": "finish", "lacquer": false, "pore": false}, "lower_existing": true, "abraded": false,
		"card_says": "silent", "wipes": [{"step": 1}], "place": {},
	},
	more,
)

found(c) := vs if {
	vs := rule.verdict with input as {"contacts": [c], "limits": {"metal_steel_fine": {"measure": {"text": "P180"}}}}
}

fails(c) if {
	some v in found(c)
	v.grade == "fails"
}

carried(kind, class, more) := contact({"lower_kind": kind, "lower_traits": object.union({"class": class}, more)})

test_every_glossy_finish_fails if {
	every kind in ["factory finish", "factory primer", "two-part refinish", "aged enamel", "powder coat", "e-coat"] {
		fails(contact({"lower_kind": kind}))
	}
}

test_abraded_finish_is_silent if found(contact({"abraded": true})) == set()

test_card_that_goes_on_it_is_silent if found(contact({"card_says": "allows"})) == set()

test_card_that_does_not_list_it_fails if fails(contact({"card_says": "unlisted"}))

test_film_this_sheet_laid_is_the_window_rules_matter if found(contact({"lower_existing": false})) == set()

test_gelcoat_lacquer_underbody_and_unknown_are_other_rules_matter if {
	every kind in ["gelcoat", "aged lacquer", "underbody coating", "unknown finish"] {
		found(contact({"lower_kind": kind})) == set()
	}
}

test_any_other_film_that_was_there_fails if {
	fails(carried("epoxy primer", "primer", {}))
	fails(carried("urethane clear", "clear", {}))
	fails(carried("solvent basecoat", "color", {}))
}

test_films_that_never_shut_are_silent if {
	found(carried("lacquer primer", "surfacer", {"lacquer": true, "pore": true})) == set()
	found(carried("lacquer topcoat", "color", {"lacquer": true})) == set()
	found(carried("body filler", "filler", {"pore": true})) == set()
	found(carried("seam sealer", "seam", {})) == set()
}

test_cavity_wax_needs_no_tooth if found(contact({"upper_kind": "cavity wax"})) == set()

test_the_scuff_offered_suits_the_film if {
	some v in found(contact({}))
	v.mend[0].set == {"do": "scuff", "pad": "fine pad"}
	some w in found(contact({"upper_kind": "solvent basecoat", "upper_traits": {"class": "color"}}))
	w.mend[0].set == {"do": "scuff", "pad": "very fine pad"}
	some x in found(contact({"upper_kind": "body filler", "upper_traits": {"class": "filler"}}))
	x.mend[0].set == {"do": "sand", "grit": "P180"}
}

test_what_other_rules_speak_for_is_silent_whatever_its_class if {
	every kind in ["gelcoat", "underbody coating", "aged lacquer", "unknown finish"] {
		found(carried(kind, "coating", {})) == set()
	}
}

test_every_film_that_shuts_fails_and_a_pore_never_shuts if {
	every class in ["primer", "surfacer", "promoter", "sealer", "color", "clear", "coating"] {
		fails(carried("some film", class, {}))
		found(carried("some film", class, {"pore": true})) == set()
	}
}

test_clear_is_offered_the_finer_pad_alone if {
	every class in ["color", "clear"] {
		some v in found(contact({"upper_traits": {"class": class}}))
		{e.set.pad | some e in v.mend} == {"very fine pad"}
	}
}
