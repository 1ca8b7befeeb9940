# METADATA
# title: nobody says how a two-part product is mixed
# description: |
#   A two-part product hardens only at its own ratio, and ratios differ from can to can: the grey
#   primer may be two to one and the black one beside it four to one. When neither the step nor the card
#   gives it, it is mixed from memory, or by the last product's stick. A cup that is off looks
#   like any other; it shows as soft spots, brittle edges or a coat that never dries, when the job
#   is long out of the door. In the shop: ask for the ratio without the can at hand; if two people
#   name two figures, it belongs on the card. Filler is told by the share of paste, by weight.
# custom:
#   grade: advice
#   defect: a mix that is anyone's guess
#   remedy: Copy the ratio from the data sheet onto the product's card, with its hardener and reducer, so that every sheet has it.
#   safety:
#     signal: NOTICE
#     text: Who does not know the mix does not know what is in the air either; the hazards of the hardener stand in its safety data sheet. Follow it, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: mixes, two_part: true, written: none}
package guidecoat.mix["ratio-not-written"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.mixes
	m.two_part
	m.written == "none"
	v := lib.verdict(
		lib.at_step(m),
		lib.plain("advice"),
		sprintf("%s is two-part, and neither the step nor its card says how it is mixed", [m.name]),
		[],
	)
}
