# METADATA
# title: color goes over a film that has not settled
# description: |
#   A blocked film that still shrinks takes its color down with it. The color was laid on a flat
#   ground and ends on one with dips. Its own solvent goes down into the film as well, and starts
#   the shrinking afresh. A sealer between makes it slower and does not stop it. A week or a month
#   later you see the gloss go dull in the shape of the repair. The outline of the repair and the
#   lines of the block show in the sun. In the shop: mark the edge of the repair on tape before
#   color; if what sinks follows the mark, the film beneath was too young. A bake to the schedule
#   counts as settled.
# custom:
#   grade: risk
#   defect: dieback, mapping
#   remedy: Give the blocked film its whole settling time, or bake it, before any color. What has sunk is left until it rests, blocked flat, sealed and recolored.
#   safety:
#     signal: CAUTION
#     text: A film that still settles goes on giving off solvent or styrene under the color; keep air moving where the panel stands. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts_under_color, upper_traits.class: color, beneath.settling.age: past}
package guidecoat.clock["color-before-settled"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_under_color
	c.upper_traits.class == "color"
	young := [b |
		some b in c.beneath
		unsettled(b)
		not colored_before(c, b)
	]
	b := uppermost(young)
	t := b.settling.age
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged("risk", t),
		sprintf("%s goes over %s, which is %s old and was blocked; it settles for %s%s%s", [
			c.upper_name,
			b.name,
			b.age.text,
			t.limit.text,
			thick(b.settling),
			lib.typical(t),
		]),
		lib.waited(b.layer, t.limit.text),
	)
}

unsettled(b) if {
	b.blocked
	b.settling != null
	not b.settling.baked
	b.settling.age != null
	lib.broken(b.settling.age)
}

# Of several, the one laid last is told of.
uppermost(films) := [b | some b in films; b.step == max([f.step | some f in films])][0]

# The first color over the film is the youngest, and speaks for those after it.
colored_before(c, b) if {
	some x in c.beneath
	x.traits.class == "color"
	x.step > b.step
}

thick(s) := ", twice as long as usual because it lies over its range" if s.doubled

thick(s) := "" if not s.doubled
