# METADATA
# title: tape goes on a film that is too young for it
# description: |
#   A film that feels dry is still soft below. Tape presses its edge and its weave into it, and its glue
#   takes up solvent that wants to leave; under the tape the film dries last of all. Pulled off, it leaves
#   its print or takes a strip of color along. You see a line, a row of tiny steps, a band of another
#   gloss where the tape lay. In the shop: press a piece on a hidden spot, rub it down, and pull it
#   after as long as the masking will stay; if you find the place again, wait.
# custom:
#   grade: risk
#   defect: tape tracks
#   remedy: Wait as the data sheet says before masking, use tape meant for fresh paint, and take it off as soon as the coat allows. Prints are left to harden, sanded flat and laid again.
#   safety:
#     signal: NOTICE
#     text: Film and tape give off solvent under the masking; open it up where there is air. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: masks, tape_after: past}
package guidecoat.clock["taped-too-soon"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.masks
	t := m.tape_after
	t != null
	v := lib.verdict(
		lib.at_surface(m),
		lib.judged("risk", t),
		sprintf("tape goes on %s %s after it was laid; it wants %s first%s", [
			m.name,
			t.measured.text,
			t.limit.text,
			lib.typical(t),
		]),
		lib.waited(m.layer, t.limit.text),
	)
}
