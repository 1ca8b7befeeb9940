# METADATA
# title: "strong solvent goes over enamel"
# description: |
#   Enamel hardens by taking up oxygen from the air, slowly, from the top down. For weeks it
#   is tough above and soft below, and after years it is still not solvent-proof: it does
#   not dissolve like lacquer, it swells. Solvent from the next film gets in at every edge
#   and break of its skin, the skin grows and folds.
#
#   It looks like wrinkles, above all at feathered edges and sanding breaks, minutes to an
#   hour after spraying. In the shop: a rag wet with thinner held two minutes; if a
#   thumbnail then marks the enamel or its gloss goes, it needs a barrier. The test is what
#   tells an old, hard enamel from one that will lift.
# custom:
#   grade: fails
#   defect: "wrinkling at feather edges"
#   remedy: "Test with a solvent rub first and write the test into the sheet. If it softens, strip it, or lay a barrier of epoxy or waterborne primer; a young enamel is left to cure, or stripped."
#   safety:
#     signal: WARNING
#     text: "Thinner is flammable; old enamel may hold lead, so test it before you sand or strip it. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "MIL-HDBK-1110 2.4, 2.4.2: strong solvents over solvent-soluble old paint; test by solvent rub (read)"
#   limits:
#     - enamel_young
#   needs:
#     - {in: contacts, lower_kind: [single-stage enamel, aged enamel], inspected: {not: solvent rub}}
package guidecoat.adhesion["strong-solvent-on-enamel"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_kind in lib.strong_solvent
	c.lower_kind in {"single-stage enamel", "aged enamel"}
	not lib.let_in(c)
	not own_coat(c)
	not "solvent rub" in c.inspected
	[judgement, words] := found(c)
	v := lib.verdict(
		lib.at_contact(c),
		judgement,
		sprintf("%s goes over %s%s, with no barrier between and no solvent rub to prove it", [
			c.upper_name,
			c.lower_name,
			words,
		]),
		array.concat(
			[lib.insert_before(c.step, s) |
				some s in lib.steps_at(c.zone, {"do": "inspect", "measure": ["solvent rub"]})
			],
			lib.sprayed_between(c, ["epoxy primer", "waterborne primer"]),
		),
	)
}

# The same card over itself, in two layers.
own_coat(c) if {
	c.upper_card == c.lower_card
	c.lower_card != ""
}

# What was there is old.
found(c) := [lib.plain("risk"), ""] if not c.gap_applies

# How old nobody says: it may be young.
found(c) := [lib.possible("fails"), " of an age that nobody says"] if {
	c.gap_applies
	c.gap.open
}

found(c) := [
	lib.measured_against("fails", sure, c.gap, young),
	sprintf(" that is %s old, younger than %s", [c.gap.text, young.text]),
] if {
	c.gap_applies
	sure := lib.below(c.gap, young)
}

found(c) := [lib.plain("risk"), sprintf(" that is %s old", [c.gap.text])] if {
	c.gap_applies
	not c.gap.open
	not lib.below(c.gap, young)
}

young := input.limits.enamel_young.measure
