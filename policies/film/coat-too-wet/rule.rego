# METADATA
# title: a coat is laid wetter than the card lets in
# description: |
#   There is a most that will hang on an upright panel and still breathe. Above it gravity wins and the
#   coat creeps down as a curtain; and as the skin forms over so deep a wet layer, the solvent at the bottom
#   has no way out but through it. Two thin coats lay the same film and have twice the time to let go.
#   You see runs and sags with a thick lip, then pinholes, then gloss that dies. In the shop: dip a
#   wet-film comb right behind the gun; by the time it looks too wet, it is.
# custom:
#   grade: risk
#   defect: sags, solvent pop
#   remedy: Lay the film in more, thinner coats, each with its flash; move faster, or fit a smaller tip. A sag is left to harden, cut flat with a block and laid again.
#   safety:
#     signal: NOTICE
#     text: Heavy wet coats give off solvent for longer; keep the exhaust on through the flash. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: lays, wet_max: past}
package guidecoat.film["coat-too-wet"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.lays
	w := l.wet_max
	w != null
	some c in lib.laid(l)
	v := lib.verdict(
		lib.at_laying(l, c),
		lib.judged("risk", w),
		sprintf("a coat of %s is laid %s wet; its card lets in %s%s", [
			l.name,
			w.measured.text,
			w.limit.text,
			lib.typical(w),
		]),
		[lib.set_key(l.step, "wet_film", w.limit.text)],
	)
}
