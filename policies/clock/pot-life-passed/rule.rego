# METADATA
# title: the cup is used past its pot life
# description: |
#   From the moment hardener meets base, the mix hardens in the cup. At the end of its pot life it is
#   still liquid, but its molecules have grown long; it no longer breaks into fine drops, no longer flows
#   together, and has fewer ends left to bond with. Thinning it makes it run, not young. In warm air the
#   time is shorter: ten degrees Celsius halve it. You see peel that will not lie down, a dry look, a film that
#   stays dull and soft. In the shop: note the hour of mixing on the cup; when it warms in the hand
#   or pulls strings off the stick, it is over.
# custom:
#   grade: fails
#   defect: poor flow, dull soft film
#   remedy: Mix less at a time, or a fresh cup for each coat, or take the slower hardener that the data sheet names. Write how long the cup stands and how long the coats take.
#   safety:
#     signal: WARNING
#     text: A cup that goes off heats up and can smoke or catch fire; put what is left over outside, in a metal vessel with water where the data sheet lets you. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "US Army PS Magazine 396: epoxy about 15 h at room temperature and 6 h at 100 °F, urethane 8 h and 2 h (read)"
#     - "doubling per 10 °C, rule of thumb (read)"
#   limits:
#     - grace
#   needs:
#     - {in: mixes, pot: past}
package guidecoat.clock["pot-life-passed"]

import data.guidecoat.lib

coats := {l.id: l.coats | some l in input.lays}

verdict contains v if {
	some m in input.mixes
	p := m.pot
	p != null
	v := lib.verdict(
		lib.at_step(m),
		lib.judged("fails", p),
		sprintf("the cup of %s is %s old at its last coat; it lives %s in this air%s", [
			m.name,
			p.measured.text,
			p.limit.text,
			lib.typical(p),
		]),
		fresh(m),
	)
}

# A cup for each coat, where there is more than one.
fresh(m) := [lib.set_key(m.step, "fresh_cup", true) | coats[m.id] > 1]
