# METADATA
# title: "a grade is skipped"
# description: |
#   Each paper only takes out the scratches of the one before if they are not much deeper than its
#   own. From P80 straight to P320 the tops are shaved and the valleys stay: the surface looks fine
#   and dull, and the deep lines wait under it until the paint shrinks into them. The rule of the
#   trade is to go up by no more than about one hundred in the low numbers, two hundred in the high.
#   Put as particle size, that is about 2.7 to 1.
#
#   It looks like single deep lines among fine ones after a week, in the direction of the
#   coarse paper. In the shop: dust on guide coat before the finer paper; sand until the
#   last of it is gone from the lines.
# custom:
#   grade: risk
#   defect: "deep scratches left"
#   remedy: "Put the grade between back in, and sand with each until guide coat shows that the last one’s lines are out."
#   safety:
#     signal: CAUTION
#     text: "Sanding dust harms the lungs. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "ISO 6344 (FEPA) median particles, in part as a trade chart prints them (read)"
#   limits:
#     - grade_step
#   needs:
#     - {in: contacts, sequence.fall: past}
#   covers:
#     - scratch-too-coarse
package guidecoat.abrasive["grade-skipped"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	not c.lower_substrate
	skips := [r |
		some r in c.sequence
		lib.broken(r.fall)
		not gone_back(c, r)
	]
	count(skips) > 0
	skip := skips[0]
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged("risk", skip.fall),
		sprintf("%s goes over %s sanded with %s and then %s: that is %s times finer, and %s is the most", [
			c.upper_name,
			c.lower_name,
			skip.from,
			skip.to,
			skip.fall.measured.text,
			skip.fall.limit.text,
		]),
		[lib.insert_before(skip.to_step, s) |
			skip.between != ""
			some s in lib.steps_at(c.zone, {"do": "sand", "grit": skip.between})
		],
	)
}

# The painter went back to a coarser grade afterwards, and the deep scratch is gone.
gone_back(c, r) if {
	c.scratch.step != r.from_step
	fine := [g.microns | some g in c.abrasions; g.step == r.to_step][0]
	some g in c.abrasions
	g.step > r.to_step
	g.do in {"sand", "block"}
	lib.above(g.microns, fine) == "will"
}
