# METADATA
# title: the oven comes too soon after the last coat
# description: |
#   A wet coat needs some minutes at room heat, so that the bulk of its solvent walks out before the heat
#   comes. When the oven or lamp is on at once, the surface skins over and the solvent boils beneath it.
#   It bursts through, and the skin is by then too stiff to close again. The thicker the coat and the
#   faster the heat, the worse. You see a rash of pin-holes, densest where the lamp stood nearest or
#   the metal is thinnest. In the shop: look at them under a glass; each pop is a tiny cone with a
#   hole in its tip. Dirt is a bump without a hole.
# custom:
#   grade: risk
#   defect: solvent pop
#   remedy: Let it flash as the data sheet says before any heat, and bring the heat up slowly. Pops are baked through, sanded out to sound film, and laid again.
#   safety:
#     signal: WARNING
#     text: Wet paint in front of a hot lamp gives off vapor that can burn; the exhaust must have cleared it before the heat goes on. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - flash_first_typical
#   needs:
#     - {in: bakes, films.flash_first: past}
package guidecoat.clock["baked-before-flash"]

import data.guidecoat.lib

verdict contains v if {
	some b in input.bakes
	some f in b.films
	s := f.flash_first
	s != null
	v := lib.verdict(
		lib.at_baked(b, f),
		lib.judged("risk", s),
		sprintf("%s is baked %s after its last coat; it wants %s to flash before any heat%s", [
			f.name,
			f.since.text,
			s.limit.text,
			lib.typical(s),
		]),
		lib.waited(f.layer, s.limit.text),
	)
}
