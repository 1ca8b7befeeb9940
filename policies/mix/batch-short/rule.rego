# METADATA
# title: the batch is too small for its layer
# description: |
#   If the cup runs dry in mid-panel, two bad things can follow. Either the painter stretches what
#   is left, and the last third gets half the film. Or a second cup is mixed in a hurry, a shade off
#   in color and in ratio, over paint that has begun to skin. Half of what leaves a gun, and more
#   with an old one, never lands, and some stays in cup and hose. You see a step in color or gloss,
#   often along a body line, and a film that the gauge finds thin at one end. In the shop: work the
#   volume out from area, film and solids before the can is opened, and mix a little more.
# custom:
#   grade: risk
#   defect: color and film change in mid-panel
#   remedy: Mix enough for the whole layer in one, or plan the break at an edge or panel gap. Stir two cans of one color together before the first coat.
#   safety:
#     signal: NOTICE
#     text: Mixing much more than is needed leaves hardened waste that heats up in the can; keep what is left over small and outside. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "US EPA best practice for refinish spraying: transfer HVLP 60-70 %, conventional 20-30 % (read)"
#     - "NIST SP 811 app. B: 1 US gal = 3.785412 L, which makes 1604.17 ft² of 1 mil (calc)"
#   limits:
#     - transfer_hvlp
#     - transfer_conventional
#     - transfer_airless
#     - transfer_brush
#     - cup_waste
#   needs:
#     - {in: mixes, batch: past}
package guidecoat.mix["batch-short"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.mixes
	b := m.batch
	b != null
	v := lib.verdict(
		lib.at_step(m),
		lib.judged("risk", b),
		sprintf("a batch of %s is mixed of %s, and the layer needs %s%s", [
			b.measured.text,
			m.name,
			b.limit.text,
			lib.typical(b),
		]),
		enough(m),
	)
}

enough(m) := [lib.set_key(m.step, "batch", m.batch_enough) | m.batch_enough != ""]
