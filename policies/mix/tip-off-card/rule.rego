# METADATA
# title: the fluid tip is off the card's range
# description: |
#   The tip says how much paint the air has to tear into drops. Through too small a tip a thick
#   primer comes thin and dry: it is half set before it lands, does not flow together, and lies like
#   dust on the panel. Through too large a tip more comes than the air can break up: big drops, too
#   much in one pass, runs and trapped solvent. Surfacers want a wide tip, clears and colors a
#   narrow one. You see a sandy surface, or one like the skin of an orange, or curtains at the
#   edges. In the shop: spray a short burst on masking paper; the pattern should be even with fine
#   drops to its very rim.
# custom:
#   grade: risk
#   defect: dry spray, runs
#   remedy: Fit a tip from the range that the data sheet gives, and test the pattern on paper. Do not make up for the wrong tip with reducer.
#   safety:
#     signal: WARNING
#     text: Take pressure off gun and hose before a tip is changed; a jet under pressure goes through skin, above all from an airless gun. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: lays, tip_low: past}
#     - {in: lays, tip_high: past}
package guidecoat.mix["tip-off-card"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.lays
	t := lib.worse([l.tip_low, l.tip_high])
	v := lib.verdict(
		lib.at_step(l),
		lib.judged("risk", t),
		sprintf("%s is sprayed through a tip of %s; its card wants %s at %s", [l.name, t.measured.text, t.limit.text, t.sense]),
		[lib.set_key(l.step, "tip", t.limit.text)],
	)
}
