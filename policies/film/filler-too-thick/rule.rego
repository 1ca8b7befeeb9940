# METADATA
# title: filler lies too thick
# description: |
#   Filler is talc in resin: hard, and not tough. It shrinks as it sets and pulls at its edge, and
#   it does not move with the metal. A thin skim gives way; a thick plug cracks, or breaks its grip
#   and hangs there by the paint. A deep fill also stays warm and soft inside, and sinks for weeks.
#   Filler with glass in it bears a little more. You see a crack that follows the edge of the
#   repair, a sunken spot, a plate that drops out on a rough road. In the shop: a magnet that holds
#   weakly or not at all says that there is too much; so does a drill.
# custom:
#   grade: risk
#   defect: cracking, sinking
#   remedy: Work the metal until a straightedge asks only for a skim, or bring it up with body solder or by welding in metal. Filler that is too thick comes off to metal.
#   safety:
#     signal: CAUTION
#     text: Grinding filler makes dust with glass and talc in it; wear a respirator fit for it, and eye protection. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - filler_max
#     - fiber_max
#   needs:
#     - {in: totals, filler_max: past}
#     - {in: totals, fiber_max: past}
package guidecoat.film["filler-too-thick"]

import data.guidecoat.lib

verdict contains v if {
	some t in input.totals
	f := lib.worse([t.filler_max, t.fiber_max])
	v := lib.verdict(
		at(t),
		lib.judged("risk", f),
		sprintf("%s carries %s of filler; %s is the most%s", [
			t.zone,
			f.measured.text,
			f.limit.text,
			lib.typical(f),
		]),
		[],
	)
}

at(t) := object.union(lib.at_surface(t), {"step": t.filler_step})
