# METADATA
# title: the gun's pressure is off the card's range
# description: |
#   Air pressure makes the drops. Too little, and they stay big: the film lies like the skin of an
#   orange, and metallic flake sinks and clumps into clouds. Too much, and they are torn so fine
#   that half of them dry in the air or bounce off; the coat is dry, much of the paint goes into the
#   filter, and the flake stands on end and looks light. The pressure that counts is at the gun with
#   the trigger pulled, not on the wall. You see orange peel and a cloudy color, or a rough coat and
#   clouds of mist. In the shop: put a gauge at the gun's inlet, pull the trigger, and read it while
#   the air runs.
# custom:
#   grade: risk
#   defect: dry spray, peel, mottle
#   remedy: With the air running, set the pressure at the gun to what the data sheet gives. Look at the pattern on paper before the panel.
#   safety:
#     signal: CAUTION
#     text: More pressure means more mist in the air you breathe. A gun of the high-transfer sort is built for a set inlet pressure, which some codes limit. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: lays, pressure_low: past}
#     - {in: lays, pressure_high: past}
package guidecoat.mix["pressure-off-card"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.lays
	p := lib.worse([l.pressure_low, l.pressure_high])
	v := lib.verdict(
		lib.at_step(l),
		lib.judged("risk", p),
		sprintf("%s is sprayed at %s; its card wants %s at %s", [l.name, p.measured.text, p.limit.text, p.sense]),
		[lib.set_key(l.step, "pressure", p.limit.text)],
	)
}
