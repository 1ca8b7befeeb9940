# METADATA
# title: "primer or filler goes over color of the same sheet"
# description: |
#   Color and clear belong on top. Primer or filler laid over what this same sheet has just painted
#   means that something was found late. Or the steps stand in the wrong order. It can hold, if the
#   paint is cured and scuffed. But every mil of paint beneath adds to a stack that chips and cracks
#   more easily the thicker it grows. And fresh color is not hard yet.
#
#   It looks like nothing on the day; later like chips that go deep, and edges whose outline shows.
#   In the shop: measure the film; a repair over fresh paint shows twice the film of the panel
#   beside it.
# custom:
#   grade: advice
#   defect: "film build"
#   remedy: "Put the filling and priming before the color. If a fault was found after painting, sand it out to sound primer, or to metal, before you fill it."
#   safety:
#     signal: NOTICE
#     text: "This is about the paint, not about people. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts, upper_traits.class: [primer, surfacer, sealer, filler], lower_traits.class: [color, clear], gap_applies: true}
package guidecoat.adhesion["primer-over-color"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_traits.class in {"primer", "surfacer", "sealer", "filler"}
	c.lower_traits.class in {"color", "clear"}
	c.gap_applies
	not lib.let_in(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("advice"),
		sprintf("%s goes over %s that this sheet has laid", [c.upper_name, c.lower_name]),
		[],
	)
}
