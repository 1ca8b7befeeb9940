# METADATA
# title: "a grit number does not say whose it is"
# description: |
#   Two systems number abrasives, and in the fine grades they part: 400 of one is about as fine as
#   800 of the other. A bare number is read as a P grade here. If the box on the shelf is of the
#   other sort, the sheet asks for one scratch and the painter makes another. It is then twice too
#   fine to hold, or too coarse to hide.
#
#   It looks like nothing on paper. In the shop: read the back of the disc; P and a number,
#   or a number alone.
# custom:
#   grade: advice
#   defect: "wrong scratch"
#   remedy: "Write P before the number where the disc has it, or the number and the word grit where it has not."
#   safety:
#     signal: NOTICE
#     text: "This is about the paint, not about people. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "ISO 6344 (FEPA) and CAMI median particles (read)"
#   limits:
#     - grade_unclear
#   needs:
#     - {in: steps, bare_grade: true}
package guidecoat.abrasive["grade-system-unclear"]

import data.guidecoat.lib

verdict contains v if {
	some s in input.steps
	s.bare_grade
	s.grade_number >= input.limits.grade_unclear.measure.lo
	v := lib.verdict(
		lib.at_step(s),
		lib.plain("advice"),
		sprintf("the grit is written as %d alone; it is read as P%d, and a disc of the other system has another scratch", [
			s.grade_number,
			s.grade_number,
		]),
		[lib.set_key(s.n, "grit", sprintf("P%d", [s.grade_number]))],
	)
}
