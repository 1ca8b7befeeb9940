# METADATA
# title: "color or clear lies on bare metal"
# description: |
#   Color is made to look right, not to hold to metal. It has no etch and too little resin, and it
#   lets moisture through. Clear over bare metal turns loose the first time the panel heats and
#   cools. A rub-through at an edge or a crease counts: a bare line as wide as a pencil starts the
#   same rust as a bare panel.
#
#   It looks like flakes off the edges with bright or brown metal behind, a brown line along
#   a crease. In the shop: look along every edge and body line after the last sanding, wet,
#   in a low light; bare metal flashes.
# custom:
#   grade: fails
#   defect: "peeling, rust"
#   remedy: "Spot-prime every bare place with epoxy, or acid primer and surfacer, sand what needs it, and color on that. Where the data sheet allows bare metal, copy that onto the card."
#   safety:
#     signal: CAUTION
#     text: "Primers harm skin, eyes and lungs, and most are flammable. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts_under_color, lower_traits.metal: true}
package guidecoat.adhesion["color-on-bare-metal"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_under_color
	c.lower_traits.metal
	lib.unsaid(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s goes straight on %s, and its card does not say that it may", [c.upper_name, c.lower_name]),
		lib.sprayed_between(c, ["epoxy primer", "epoxy sealer"]),
	)
}
