# METADATA
# title: "the card forbids what it lies on"
# description: |
#   A maker who writes 'not over' has seen it go wrong. The reason may be solvent, acid, a softener
#   that wanders from one film into the other, or a bond that never forms; the data sheet seldom
#   says which. What the card keeps off is known to fail, while what it merely leaves out is only
#   unproven.
#
#   It looks as the product makes it: lifting, peeling, a film that stays soft. In the shop:
#   read the line on the data sheet again, and ask the maker before you think you know
#   better.
# custom:
#   grade: fails
#   defect: "as the card says"
#   remedy: "Use a product whose data sheet allows what is beneath it; or strip that; or put a film between that both cards allow."
#   safety:
#     signal: CAUTION
#     text: "A pair that does not cure may leave hardener free in the film. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts, card_says: forbids}
#   covers:
#     - card-does-not-list
package guidecoat.adhesion["card-forbids"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.card_says == "forbids"
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s lies on %s, and its card keeps it off %s", [c.upper_name, c.lower_name, c.lower_kind]),
		array.concat(
			[e |
				c.upper_kind != "epoxy primer"
				some e in lib.sprayed_between(c, ["epoxy primer"])
			],
			lib.stripped_before(c),
		),
	)
}
