# METADATA
# title: a card names no safety data sheet
# description: |
#   The safety data sheet says what is in the can that can hurt you, what to wear, and what to do
#   when it went wrong. A shop that does not know which sheet belongs to which can does not know
#   what its people breathe. It looks like nothing until somebody is ill. In the shop: ask for the
#   binder or the file; if it takes longer than a minute to find the sheet, it will not be found
#   after an accident either.
# custom:
#   grade: advice
#   defect: "an unknown hazard"
#   remedy: "Write safety_sheet with its number and the day it was last checked on the product card."
#   safety:
#     signal: NOTICE
#     text: "The safety data sheet of the very product counts, not that of one like it. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: cards, laid: true, safety_sheet.written: false}
package guidecoat.paper["safety-sheet-missing"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.cards
	c.laid
	not c.safety_sheet.written
	v := lib.verdict(
		{"on": c.ref, "zone": null, "step": null, "rests": {"card": c.ref}, "place": c.place},
		lib.plain("advice"),
		sprintf("the card of %s names no safety data sheet", [c.shown]),
		[],
	)
}
