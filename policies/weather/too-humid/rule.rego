# METADATA
# title: a film is laid in damp air
# description: |
#   Damp air slows every film that dries by giving off water or solvent. Solvent that leaves also
#   cools the wet coat, until water settles in it. Lacquer and acid primer turn milky with it, and
#   what is milky holds nothing that is laid on top. Waterborne paint has nowhere to send its own
#   water and stays soft. Hardener that takes up water makes gas and a dull film instead of a hard
#   one. You see haze, slow flash, tiny bubbles. In the shop: read the meter in the booth and not at
#   the door; if a coat is not matte in twice its usual time, the air is too damp.
# custom:
#   grade: risk
#   defect: blush, slow flash
#   remedy: Wait for drier air, dry it, or warm it with the panel. For lacquer use a retarder that the data sheet names. A film that blushed is left to dry out, sanded back to clear sound film, and laid again.
#   safety:
#     signal: NOTICE
#     text: Waiting longer in a closed booth also means breathing what the film gives off for longer; keep the exhaust on. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "US Air Force coatings manual 6.12.9: wash primer at about 70 % RH and more may blush, and topcoats do not hold on blush (read)"
#   limits:
#     - humidity_typical
#     - humidity_typical_damp
#   needs:
#     - {in: lays, humid: past}
package guidecoat.weather["too-humid"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.lays
	h := l.humid
	lib.broken(h)
	some c in lib.laid(l)
	v := lib.verdict(
		lib.at_laying(l, c),
		lib.judged("risk", h),
		sprintf("%s is laid in air of %s humidity; it lets in %s at most%s", [
			l.name,
			h.measured.text,
			h.limit.text,
			lib.typical(h),
		]),
		[],
	)
}
