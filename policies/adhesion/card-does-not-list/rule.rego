# METADATA
# title: "the card does not list what it lies on"
# description: |
#   A data sheet that lists what a product may lie on lists what was tried. Something left
#   off the list may hold as well as the rest; nobody has promised it. On a bare metal or
#   plastic that counts for more, because there the bond is all there is; over another film,
#   for less.
#
#   It looks like nothing until it lets go. In the shop: make a test piece with the same film
#   beneath, cut a grid into it after a week and pull tape off it. Or ask the maker.
# custom:
#   grade: risk
#   defect: "unproven bond"
#   remedy: "Ask whether the product may lie on it and add it to goes_on or direct_to_metal if so; otherwise put a listed film between, or use another product."
#   safety:
#     signal: NOTICE
#     text: "This is about the paint, not about people. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts, card_says: unlisted}
package guidecoat.adhesion["card-does-not-list"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.card_says == "unlisted"
	not own_coat(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain(grade(c)),
		sprintf("%s lies on %s, which is not on its card's list", [c.upper_name, c.lower_name]),
		[e |
			kinds := between(c)
			count(kinds) > 0
			some e in lib.sprayed_between(c, kinds)
		],
	)
}

grade(c) := "risk" if c.lower_substrate

grade(c) := "advice" if not c.lower_substrate

# A product may lie on itself.
own_coat(c) if {
	c.upper_card == c.lower_card
	c.lower_card != ""
}

# What the list names and can be sprayed is what may go between; where the list is silent of films, epoxy.
# A film of its own kind between is no help.
between(c) := listed if {
	listed := [k |
		some k in input.cards[c.upper_card].goes_on
		k in sprayable
		k != c.upper_kind
	]
	count(listed) > 0
} else := ["epoxy primer"] if {
	c.upper_kind != "epoxy primer"
} else := []

sprayable := {
	"epoxy primer", "epoxy surfacer", "urethane surfacer", "waterborne primer", "one-part acid primer",
	"two-part wash primer", "adhesion promoter", "urethane sealer", "epoxy sealer",
}
