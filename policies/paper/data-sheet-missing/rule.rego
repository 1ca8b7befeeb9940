# METADATA
# title: a card names no technical data sheet
# description: |
#   A data sheet is the maker's promise: mix, film, waits, temperatures. Makers change a product
#   without changing its name, and then the old sheet is wrong in ways nobody can see in the can. It
#   looks like nothing until a film fails; then, with no sheet number on the card, nobody can tell
#   what was promised. In the shop: the number and date are at the foot of the sheet's first page.
# custom:
#   grade: advice
#   defect: "an unproven number"
#   remedy: "Write data_sheet with its number and the day it was last checked on the product card."
#   safety:
#     signal: NOTICE
#     text: "The safety data sheet of the very product counts, not that of one like it. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: cards, laid: true, data_sheet.written: false}
package guidecoat.paper["data-sheet-missing"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.cards
	c.laid
	not c.data_sheet.written
	v := lib.verdict(
		{"on": c.ref, "zone": null, "step": null, "rests": {"card": c.ref}, "place": c.place},
		lib.plain("advice"),
		sprintf("the card of %s names no technical data sheet", [c.shown]),
		[],
	)
}
