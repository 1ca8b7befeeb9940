# METADATA
# title: a typical number stands in for the data sheet
# description: |
#   Where a card leaves a number out, this rulebook takes what is usual for that kind of product.
#   Two cans of one kind can differ by hours of drying and by half the film. A verdict that rests on
#   a usual number is a guess about your can. It looks like a warning over a wait that your own
#   product has long met, or like none where it has not. In the shop: lay the data sheet beside the
#   card and fill in the keys that are named here.
# custom:
#   grade: advice
#   defect: "an unproven number"
#   remedy: "Copy the named numbers from the product's data sheet onto its card."
#   safety:
#     signal: NOTICE
#     text: "No typical number says anything about the hazards of your product. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: cards, compared: true}
package guidecoat.paper["value-assumed"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.cards
	count(c.compared) > 0
	v := lib.verdict(
		{"on": c.ref, "zone": null, "step": null, "rests": {"card": c.ref}, "place": c.place},
		object.union(lib.plain("advice"), {"leaned": [sprintf("%s.%s", [c.ref, key]) | some key in c.compared]}),
		sprintf("typical numbers stand in for %s on the card of %s", [concat(", ", c.compared), c.shown]),
		[],
	)
}
