# METADATA
# title: a film is sanded before it is hard enough
# description: |
#   A film that is still green, not hard yet, has solvent in it and is soft underneath. Paper does
#   not cut it, it rolls it: the grains clog with gum and drag grooves that no finer grade takes
#   out. Cutting it open also lets what is inside come out at once, so that the film shrinks after
#   it was flat. You see paper that loads up in three strokes, crumbs, torn edges, and later the
#   scratch coming back through the color. In the shop: try one corner with a fresh sheet; dry
#   powder means ready, curls and balls mean wait. The thumbnail should not mark it.
# custom:
#   grade: fails
#   defect: gumming, later shrinkage
#   remedy: Wait as the data sheet says, longer in the cool or over a thick film, or bake to its schedule first. Where it was sanded green, let it harden and start the sanding again from the coarser grade.
#   safety:
#     signal: CAUTION
#     text: Dust of a film that is not cured carries free hardener, and wet hands take it up; wear gloves and a respirator fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - sand_half
#   needs:
#     - {in: abrasions, sand_after: past, sand_after_baked: false}
package guidecoat.clock["sanded-too-soon"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	not a.sand_after_baked
	s := a.sand_after
	s != null
	a.surface_traits.sandable
	v := lib.verdict(
		lib.at_surface(a),
		lib.judged(grade(s), s),
		sprintf("%s is %s %s after it was laid; it wants %s first%s", [
			a.surface_name,
			lib.done[a.do],
			a.age.text,
			s.limit.text,
			lib.typical(s),
		]),
		lib.waited(a.layer, s.limit.text),
	)
}

# Surely under half the time fails; a threshold inside the row has no grace.
grade(s) := "fails" if {
	s.over.hi != null
	s.over.hi < input.limits.sand_half.measure.lo
} else := "risk"
