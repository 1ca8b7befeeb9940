# METADATA
# title: the mix is not left to stand before it is sprayed
# description: |
#   Some mixes, epoxies most of all, do not start evenly. Base and hardener must first find each
#   other; if they are laid before that, some of the hardener sweats out at the top and makes a
#   greasy film with damp air. The rest of the film cures short of it. The stand in the cup is
#   called induction, and it counts against the pot life. You see a waxy bloom or a haze that wipes
#   off, and patches of gloss and matte. The next coat draws back into craters or lets go. In the
#   shop: note when it was stirred, and start the timer before you reach for the gun.
# custom:
#   grade: risk
#   defect: uneven cure, blush
#   remedy: Mix first, then set the masking or wipe the panel while it stands, stir again, and spray. Write the stand on the step. Bloom is washed off with warm water and scuffed before the next coat.
#   safety:
#     signal: CAUTION
#     text: A bloom of epoxy hardener makes the skin sensitive; wear gloves to wash it off. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: mixes, induction_due: true, stood_written: false}
#     - {in: mixes, induction: past}
package guidecoat.clock["induction-skipped"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.mixes
	m.induction_due != null
	not m.stood_written
	v := lib.verdict(
		lib.at_step(m),
		object.union(lib.plain("risk"), {"limit": m.induction_due.shown}),
		sprintf("%s is to stand %s in the cup after mixing, and the step writes no such wait", [m.name, m.induction_due.text]),
		[lib.set_key(m.step, "stood", m.induction_due.text)],
	)
}

verdict contains v if {
	some m in input.mixes
	m.stood_written
	s := m.induction
	s != null
	v := lib.verdict(
		lib.at_step(m),
		lib.judged("risk", s),
		sprintf("%s stands %s in the cup before it is sprayed; it wants %s%s", [
			m.name,
			s.measured.text,
			s.limit.text,
			lib.typical(s),
		]),
		[lib.set_key(m.step, "stood", s.limit.text)],
	)
}
