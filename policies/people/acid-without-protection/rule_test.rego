package guidecoat.people["acid-without-protection_test"]

import data.guidecoat.people["acid-without-protection"] as rule

step(more) := object.union(
	{
		"id": "2", "n": 2, "do": "treat", "tool": "", "with": "metal acid", "with_kind": "acid wash",
		"hazards": ["acid"], "wear": [], "place": {},
	},
	more,
)

grades(s) := gs if {
	vs := rule.verdict with input as {"mixes": [], "steps": [s]}
	gs := {v.grade | some v in vs}
}

laid(more) := gs if {
	vs := rule.verdict with input as {"steps": [], "mixes": [object.union(
		{
			"id": "3", "step": 3, "name": "etch (one-part acid primer)", "traits": {"acid": true}, "hazards": ["acid"],
			"wear": [], "place": {},
		},
		more,
	)]}
	gs := {v.grade | some v in vs}
}

test_acid_with_bare_hands_is_a_risk if grades(step({})) == {"risk"}

test_fluoride_fails if grades(step({"hazards": ["acid", "fluoride"]})) == {"fails"}

test_stripper_fails if {
	grades(step({"do": "strip", "tool": "chemical stripper", "with": "", "with_kind": "", "hazards": []})) == {"fails"}
}

test_a_neutralizer_is_a_risk if grades(step({"do": "neutralize", "with_kind": "neutralizer", "hazards": []})) == {"risk"}

test_gloves_alone_are_not_enough if grades(step({"wear": ["gloves"]})) == {"risk"}

test_gloves_and_face_shield_are_silent if grades(step({"wear": ["gloves", "face shield"]})) == set()

test_a_conversion_coating_without_acid_on_its_card_is_silent if {
	grades(step({"with_kind": "conversion coating", "hazards": []})) == set()
}

test_a_conversion_coating_with_fluoride_fails if {
	grades(step({"with_kind": "conversion coating", "hazards": ["fluoride"]})) == {"fails"}
}

test_wiping_with_a_mild_cleaner_is_silent if {
	grades(step({"do": "clean", "with_kind": "wax and grease remover", "hazards": ["flammable"]})) == set()
}

test_a_strip_with_a_disc_is_silent if {
	grades(step({"do": "strip", "tool": "strip disc", "with": "", "with_kind": "", "hazards": []})) == set()
}

test_acid_primer_laid_with_bare_hands_is_a_risk if laid({}) == {"risk"}

test_acid_primer_with_fluoride_fails if laid({"hazards": ["acid", "fluoride"]}) == {"fails"}

test_acid_primer_laid_with_both_is_silent if laid({"wear": ["gloves", "eye protection"]}) == set()

test_another_primer_is_silent if laid({"traits": {"acid": false}}) == set()

test_whatever_covers_the_eyes_counts if {
	every eyes in ["eye protection", "face shield", "blast hood"] {
		grades(step({"wear": ["gloves", eyes]})) == set()
	}
}

test_acid_primer_laid_with_gloves_alone_is_a_risk if laid({"wear": ["gloves"]}) == {"risk"}

test_acid_and_caustic_count_in_whatever_they_come if {
	every do in ["treat", "neutralize", "clean"] {
		every hazard in ["acid", "caustic"] {
			grades(step({"do": do, "with_kind": "waterborne cleaner", "hazards": [hazard]})) == {"risk"}
		}
	}
}

test_other_acts_are_not_this_rules_matter if {
	grades(step({"do": "polish", "with_kind": "polishing compound"})) == set()
	grades(step({"do": "sand", "tool": "chemical stripper", "with_kind": "", "hazards": []})) == set()
}
