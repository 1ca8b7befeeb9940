# METADATA
# title: "color or clear lies on acid primer"
# description: |
#   Acid primer is a go-between: one side bites the metal, the other waits for a primer. It is far
#   too thin to level, to fill or to keep water out. The acid left in it meddles with the cure of
#   color and clear. Most color is made to lie on a cured, sanded primer, and has nothing to hold to
#   here.
#
#   It looks like paint that peels in long strips down to a tinted metal, often with rust
#   already beneath. In the shop: cut an X and pull tape; if the X comes off clean to the
#   metal's tint, the color never held.
# custom:
#   grade: fails
#   defect: "peeling"
#   remedy: "Lay a two-part surfacer or sealer on the acid primer inside its window, sand or leave it as its card says, and color on that."
#   safety:
#     signal: WARNING
#     text: "Two-part surfacers and sealers carry isocyanate: supplied air and covered skin when they are sprayed. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts_under_color, lower_traits.acid: true}
package guidecoat.adhesion["color-on-acid-primer"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_under_color
	c.lower_traits.acid
	not lib.let_in(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s lies straight on %s", [c.upper_name, c.lower_name]),
		lib.sprayed_between(c, ["urethane sealer", "urethane surfacer"]),
	)
}
