# METADATA
# title: the cup is reduced further than the card lets in
# description: |
#   Reducer is only there to carry the paint to the panel; all of it leaves again. The more of it,
#   the less film each wet coat makes. Hiding and shield must then be built from more coats, each
#   with more solvent to let go. The thin film shrinks further into every scratch, and resin that
#   was cut too far falls out of it. You see runs on the day, then gloss that dies back, sand lines
#   and a lean look a week later. In the shop: weigh or measure the reducer; a cup that pours like
#   water from the stick was cut too far, and warming the paint would have thinned it as well.
# custom:
#   grade: fails
#   defect: thin film, dieback
#   remedy: Keep to the share of reducer that the data sheet gives. If it sprays too thick at that, warm the paint, change the tip, or take a reducer for the temperature.
#   safety:
#     signal: CAUTION
#     text: More reducer is more vapor to burn and to breathe, and it may put the mix over the figure of the local code. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "MIL-HDBK-1110 2.1.5: dry film is wet film times volume solids (read)"
#   limits:
#     - grace
#   needs:
#     - {in: mixes, reduced: past}
package guidecoat.mix["over-reduced"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.mixes
	r := m.reduced
	r != null
	v := lib.verdict(
		lib.at_step(m),
		lib.judged("fails", r),
		sprintf("%s is reduced by %s of base and hardener; its card lets in %s%s", [
			m.name,
			r.measured.text,
			r.limit.text,
			lib.typical(r),
		]),
		cut_less(m),
	)
}

cut_less(m) := [lib.set_key(m.step, "mix", m.card_mix) |
	m.written == "step"
	m.card_mix != ""
	m.card_mix != m.step_mix
]
