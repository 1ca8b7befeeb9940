# METADATA
# title: a coat goes on wetter than its data sheet lets it
# description: |
#   A wet coat has to hang on the wall until it thickens. Too much of it runs, and it
#   skins over before the solvent below has left. It looks glossy and wet, then it sags
#   at edges and holes, and pin holes come as it dries. In the shop: a comb pressed into
#   the fresh coat on masking paper tells the wet film; two leaner coats with a flash
#   between make the same film dry.
# custom:
#   grade: risk
#   defect: "sags, solvent pop"
#   remedy: "Lay more and leaner coats, each within the wet film of the data sheet, with its flash between them."
#   safety:
#     signal: CAUTION
#     text: "A wetter coat puts more solvent in the air at once. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - grace
package guidecoat.film["coat-too-wet"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.lays
	t := l.wet_max
	t != null
	some c in lib.laid(l)
	v := lib.verdict(
		lib.at_laying(l, c),
		lib.judged("risk", t),
		sprintf("a coat of %s goes on %s wet; it takes %s at most", [l.name, t.measured.text, t.limit.text]),
		[lib.set_key(l.step, "wet_film", t.limit.text)],
	)
}
