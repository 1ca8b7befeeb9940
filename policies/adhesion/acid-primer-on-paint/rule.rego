# METADATA
# title: "acid primer lies on paint"
# description: |
#   The acid in an acid primer is there to etch bare metal. On a painted surface it has no metal to
#   react with. It stays in the film as loose acid, and keeps the next coats from bonding or curing.
#   Its solvents are strong and hot besides: a lacquer or another film that softens again in thinner
#   wrinkles at once; a cured film may only lift at feather edges.
#
#   It looks like crow's-feet within minutes on soft films, or peeling between primer and
#   old paint months later. In the shop: hold a rag with thinner on the old paint for two
#   minutes; if color comes off, acid primer will lift it.
# custom:
#   grade: fails
#   defect: "lifting"
#   remedy: "Use acid primer on the bare metal only. Over paint, scuff it and lay epoxy or a two-part surfacer; over a film that thinner softens, strip it or lay a barrier in light, dry coats after a test patch."
#   safety:
#     signal: WARNING
#     text: "Acid primer burns skin and eyes, and its solvents are flammable. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts, upper_traits.acid: true, lower_substrate: false}
package guidecoat.adhesion["acid-primer-on-paint"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_traits.acid
	on_paint(c)
	not lib.let_in(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain(grade(c.lower_traits)),
		sprintf("%s lies on %s instead of bare metal", [c.upper_name, c.lower_name]),
		array.concat(
			[lib.set_key(c.step, "product_kind", ["epoxy primer", "waterborne primer", "urethane surfacer"])],
			lib.stripped_before(c),
		),
	)
}

grade(lower) := "fails" if lower.reversible

grade(lower) := "risk" if not lower.reversible

# Over itself it is laid again, as it should be. Filler has a rule of its own, and body solder is as good as metal.
on_paint(c) if {
	not c.lower_substrate
	not c.lower_traits.acid
	not c.lower_kind in lib.fillers
	not c.lower_kind in {"polyester surfacer", "body solder"}
}
