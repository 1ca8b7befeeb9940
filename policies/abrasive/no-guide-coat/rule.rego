# METADATA
# title: "surfacer is blocked without guide coat"
# description: |
#   A block rides on the high places. Without a contrast coat you cannot see where it has
#   not touched: the lows look as dull as the rest. With guide coat dusted on, whatever is
#   still dark is low, and you stop when the dark is gone, not when you are tired. It also
#   shows the scratches of the paper before.
#
#   It looks like waves and pits that only show in gloss. In the shop: dust it on, take
#   three strokes, and look.
# custom:
#   grade: advice
#   defect: "lows left"
#   remedy: "Dust on guide coat before each blocking of a surfacer, and write guide_coat = true on the step."
#   safety:
#     signal: CAUTION
#     text: "Dry guide coat and sanding dust harm the lungs. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: abrasions, do: block, surface_traits.class: surfacer, guide_coat: false, cut: false}
package guidecoat.abrasive["no-guide-coat"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	a.do == "block"
	a.surface_traits.class == "surfacer"
	not a.guide_coat
	not a.cut
	v := lib.verdict(
		lib.at_surface(a),
		lib.plain("advice"),
		sprintf("%s is blocked with %s and no guide coat", [a.surface_name, a.grit.name]),
		[lib.set_key(a.step, "guide_coat", true)],
	)
}
