# METADATA
# title: a data sheet was not looked at for a long time
# description: |
#   Data sheets are revised, often without a word to the shop. A wait, a mix or a film that was
#   right two years ago may be wrong for the can on the shelf today. It looks like a process that
#   always held and all at once does not. In the shop: compare the issue date at the foot of the
#   sheet on file with the newest one from the supplier.
# custom:
#   grade: advice
#   defect: "an outdated number"
#   remedy: "Get the present data sheet, compare every number on the card with it, and write the day you did."
#   safety:
#     signal: NOTICE
#     text: "A newer safety data sheet may name other protection. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - sheet_stale
#   needs:
#     - {in: cards, laid: true, data_sheet.age: past}
package guidecoat.paper["data-sheet-stale"]

import data.guidecoat.lib

verdict contains v if {
	some card in input.cards
	card.laid
	c := card.data_sheet.age
	c != null
	v := lib.verdict(
		{"on": card.ref, "zone": null, "step": null, "rests": {"card": card.ref}, "place": card.place},
		lib.judged("advice", c),
		sprintf("the data sheet of %s was last checked %s before this sheet's date; look at it again after %s", [card.shown, c.measured.text, c.limit.text]),
		[],
	)
}
