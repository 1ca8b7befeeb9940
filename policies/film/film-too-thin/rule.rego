# METADATA
# title: a film is thinner than its data sheet asks for
# description: |
#   A film works by its thickness. Below what the data sheet asks for there are thin
#   places, peaks of the scratch stick out, water and air find the way to the metal, and
#   sanding goes through at once. Reduced paint makes less dry film than it looks wet.
#   It looks even on the day. Later pin points of rust come through a primer, color goes
#   patchy, clear dies. In the shop: measure the wet film with a comb and work the dry
#   film out from the solids; measure again dry with a gauge.
# custom:
#   grade: fails
#   defect: "poor hold-out, rust"
#   remedy: "Lay more coats, or wetter ones up to what the data sheet lets you, until the dry film is in its range. If it has cured, sand it and lay the film again."
#   safety:
#     signal: CAUTION
#     text: "More coats mean more solvent to draw off and longer flashes. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "MIL-HDBK-1110 2.1.5: dry film is wet film times volume solids (read)"
#     - "MIL-HDBK-1110 11.4.2.5: thin film over a deep profile, pinpoint rust (read)"
#   limits:
#     - grace
package guidecoat.film["film-too-thin"]

import data.guidecoat.lib

primers := {"primer", "surfacer", "sealer"}

verdict contains v if {
	some l in input.layers
	t := l.thin
	t != null
	some c in input.contacts_by_upper[l.id]
	not c.fades
	c.zone_facts.role != "blend"
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged(table(c), t),
		sprintf("%s is laid %s thick; it wants %s at least%s", [l.name, t.measured.text, t.limit.text, lib.typical(t)]),
		more_coats(l),
	)
}

table(c) := "fails" if {
	c.upper_traits.class in primers
	c.lower_traits.metal
}

table(c) := "advice" if c.upper_traits.class == "color"

table(c) := "risk" if {
	c.upper_traits.class != "color"
	not on_metal(c)
}

on_metal(c) if {
	c.upper_traits.class in primers
	c.lower_traits.metal
}

more_coats(l) := [lib.set_key(y.step, "coats", y.coats_enough) |
	some y in input.lays
	y.layer == l.id
	y.coats_enough > y.coats
]
