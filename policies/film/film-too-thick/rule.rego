# METADATA
# title: the dry film comes out thicker than the card lets in
# description: |
#   A film dries from the top. The thicker it is, the longer the way out for what lies below, and
#   the skin shuts before the last of it has left. That solvent pops, or stays and keeps the film
#   soft; and a thick film pulls harder as it shrinks, until it cracks or splits off. Acid and wash
#   primer are the extreme: they are made to be so thin that metal shows through. A heavy coat of
#   them is a crust with loose acid in it that splits inside itself. You see craters, checks, plates
#   that come off with primer on both faces. In the shop: gauge the dry film in several places;
#   edges and the ends of the stroke run thickest.
# custom:
#   grade: fails
#   defect: solvent pop, splitting
#   remedy: Fewer or thinner coats, with the whole flash between them. A film that is too thick is given time or a bake, then sanded down into its range; a crust of acid primer is taken off to metal.
#   safety:
#     signal: CAUTION
#     text: A thick film gives off solvent for days; keep it out of closed rooms. Sanding it makes dust, and acid primer may hold chromate. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "TT-C-490D Type III: wash primer 0.3-0.5 mil (second)"
#     - "MIL-HDBK-1110 11.4.2.4: trapped solvent gives blisters between coats (read)"
#   limits:
#     - thick_half
#   needs:
#     - {in: layers, thick: past}
#     - {in: layers, thick_half: past}
package guidecoat.film["film-too-thick"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.layers
	t := thick(l)
	some c in input.contacts_by_upper[l.id]
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged(t.grade, t.film),
		sprintf("%s comes out at %s dry; it lets in %s%s", [
			l.name,
			l.thick.measured.text,
			l.thick.limit.text,
			lib.typical(t.film),
		]),
		thinned(l),
	)
}

# Acid and wash primer split when they are surely half as thick again as they may be.
thick(l) := {"grade": "fails", "film": l.thick_half} if {
	l.traits.acid
	lib.broken(l.thick_half) == "will"
} else := {"grade": "risk", "film": l.thick} if {
	lib.broken(l.thick)
}

# As many coats as stay within it, where one step lays them all.
thinned(l) := [lib.set_key(y.step, "coats", y.coats_most) |
	some y in input.lays
	y.layer == l.id
	y.coats_most > 0
	y.coats_most < y.coats
]
