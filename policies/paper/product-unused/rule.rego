# METADATA
# title: a card in the sheet is never used
# description: |
#   A card is written into the sheet itself, and no step names it. It is left over from an earlier
#   revision, or it belongs to a step that was forgotten. Whoever sprays from the paper cannot tell
#   which. It looks like a can that stands on the bench for nothing, or like a film that is missing.
#   In the shop: go through the cans on the bench for this job; each should have its step.
# custom:
#   grade: advice
#   defect: "a forgotten step or a left-over line"
#   remedy: "Take the card out, or write the step it was meant for."
#   safety:
#     signal: NOTICE
#     text: "A forgotten barrier or sealer is a fault no later coat puts right. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: cards, own: true, used: false}
package guidecoat.paper["product-unused"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.cards
	c.own
	not c.used
	v := lib.verdict(
		{"on": c.ref, "zone": null, "step": null, "rests": {"card": c.ref}, "place": c.place},
		lib.plain("advice"),
		sprintf("the card of %s stands in this sheet, and no step uses it", [c.shown]),
		[],
	)
}
