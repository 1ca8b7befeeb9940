# METADATA
# title: a film is thicker than its data sheet lets it be
# description: |
#   A film dries from the top. Too much of it shuts the lid while solvent is still
#   below. What cannot get out makes pops, keeps the film soft, and lets it shrink for
#   weeks. Acid and wash primers hold by being almost nothing: a thick one stays soft
#   and splits inside itself. It looks rich and full at first, then pin holes, wrinkles,
#   or a whole layer that comes off with powder on both faces. In the shop: the comb in
#   the wet film tells before it is too late.
# custom:
#   grade: fails
#   defect: "solvent pop, splitting"
#   remedy: "Lay fewer or leaner coats, so that the dry film stays in the range of the data sheet. Let a film that is too thick harden much longer, sand it back and look for pops before going on; take too thick acid primer off."
#   safety:
#     signal: CAUTION
#     text: "Thick wet films give off solvent for hours; keep the extraction running. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "TT-C-490D Type III: wash primer 0.3-0.5 mil (second)"
#   limits:
#     - grace
#     - thick_half
package guidecoat.film["film-too-thick"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.layers
	t := l.thick
	t != null
	not split(l)
	some c in input.contacts_by_upper[l.id]
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged("risk", t),
		sprintf("%s is laid %s thick; it takes %s at most%s", [l.name, t.measured.text, t.limit.text, lib.typical(t)]),
		[],
	)
}

verdict contains v if {
	some l in input.layers
	split(l)
	t := l.thick_half
	some c in input.contacts_by_upper[l.id]
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged("fails", t),
		sprintf("%s is laid %s thick; over %s it splits inside itself%s", [l.name, t.measured.text, t.limit.text, lib.typical(t)]),
		[],
	)
}

# Acid and wash primer over half as much again as their most: the graver verdict speaks.
split(l) if {
	l.thick_half != null
	lib.broken(l.thick_half) == "will"
}
