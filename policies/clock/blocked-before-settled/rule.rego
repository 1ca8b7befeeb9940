# METADATA
# title: a film is blocked for the last time before it has settled
# description: |
#   A thick film goes on shrinking for days while solvent (styrene, in polyester) finds its way out,
#   and it shrinks most where it lies thickest: over the low spots. Block it flat before that is
#   over, and it sinks into yesterday's lows tomorrow, under your color. You see the outline of the
#   repair, waves, and the lines of the paper a week after the polish, with the gloss gone over
#   them. In the shop: sight along a light tube or lay a straightedge on it a few days after
#   blocking; if the light bends where it ran straight, it had not settled. Laid over its range it
#   needs about twice as long. A bake to the schedule does the same in half an hour. In collision
#   work, where days are not to be had, surfacers other than polyester are taken to be ready when
#   they can be sanded; what is gained is the day, and what is lost is some flatness.
# custom:
#   grade: risk
#   defect: sand scratches, waves print through
#   remedy: Rough it out early if you like, but leave the last block until it has settled, or bake it first. Where it has sunk already, let it come to rest, block it again and recolor; a polish only brings the gloss back to the waves.
#   safety:
#     signal: CAUTION
#     text: A film that has not settled still gives off solvent or styrene; keep air moving through the room it stands in. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: abrasions, last: true, settling.age: past}
package guidecoat.clock["blocked-before-settled"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	a.last
	s := a.settling
	s != null
	not s.baked
	t := s.age
	t != null
	v := lib.verdict(
		lib.at_surface(a),
		lib.judged("risk", t),
		sprintf("%s is %s for the last time %s after it was laid; it settles for %s%s%s", [
			a.surface_name,
			lib.done[a.do],
			a.age.text,
			t.limit.text,
			thick(s),
			lib.typical(t),
		]),
		lib.waited(a.layer, t.limit.text),
	)
}

thick(s) := ", twice as long as usual because it lies over its range" if s.doubled

thick(s) := "" if not s.doubled
