# METADATA
# title: polyester lies straight on galvanized steel
# description: |
#   Polyester filler and surfacer want a surface that stays still while they cure. Zinc does not: it
#   is alkaline (the opposite of acid) and lively, and the cure next to it goes astray. A weak skin
#   forms where filler and zinc touch. The zinc's own oxide, soft and soapy, does the rest. It looks
#   like filler that lifts in one piece, months later, with white powder on its back. In the shop:
#   ring it with a knuckle, a hollow note means air behind; a fresh bright edge with white bloom
#   under it means zinc.
# custom:
#   grade: fails
#   defect: weak bond, peeling
#   remedy: Grind the filler off, prime the zinc with epoxy as its data sheet says, let it stand, and put the filler on the epoxy. A filler made for zinc may go straight on; then its card says so.
#   safety:
#     signal: WARNING
#     text: Grinding or welding zinc gives dust and fumes that bring on fever, and filler holds styrene and peroxide; wear what is fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts_on_metal, lower_traits.zinc: true, upper_kind: [body filler, fiber filler, finishing putty, polyester surfacer]}
#   covers:
#     - zinc-sanded-away
#     - tooth-too-deep
package guidecoat.substrate["filler-on-zinc"]

import data.guidecoat.lib

polyesters := {"body filler", "fiber filler", "finishing putty", "polyester surfacer"}

verdict contains v if {
	some c in input.contacts_on_metal
	c.lower_traits.zinc
	c.upper_kind in polyesters
	c.card_says != "allows"
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s lies straight on %s", [c.upper_name, c.lower_name]),
		[lib.insert_before(c.step, s) |
			some s in lib.steps_around(c.zone, {
				"do": "spray",
				"product_kind": "epoxy primer",
				"then_wait": "16 h",
			})
		],
	)
}
