# METADATA
# title: sanding may go through a film and the sheet does not say so
# description: |
#   Every grade of paper takes its share of the film. Where it takes as much as is left,
#   the block comes through: on edges first, then on high spots. What is bare then is
#   not on the paper, so nobody primes or seals it. It looks like a small shadow of
#   another color in the block's path. In the shop: stop when the color under the block
#   changes; write down what came through and cover it.
# custom:
#   grade: risk
#   defect: "bare spots nobody planned"
#   remedy: "Lay more film before sanding, take a finer grade, or write on the step with cuts_to what it may go through to, and add the step that covers it."
#   safety:
#     signal: CAUTION
#     text: "Dust of more than one film is in the air then: wear the respirator for the worst of them. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
package guidecoat.film["sanded-through-unsaid"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	not a.cuts_written
	c := a.through_middle
	c != null
	not c.open
	reaches(c.over)
	v := lib.verdict(
		lib.at_surface(a),
		object.union(lib.plain("risk"), {"leaned": c.leaned, "measured": c.measured.shown, "limit": c.limit.shown}),
		sprintf("%s takes about %s off %s, of which about %s is left, and the sheet says of no place that it comes through", [a.grit.name, c.measured.text, a.surface_name, c.limit.text]),
		[],
	)
}

# The middle of what it takes off reaches the middle of what is left.
reaches(over) if over.lo >= 1
