# METADATA
# title: isocyanate is sprayed without supplied air
# description: |
#   Hardeners of two-part urethanes carry isocyanate. Spraying turns it into a mist and
#   a vapor you cannot smell in time. Breathed in, it can teach the lungs to react:
#   after that, a trace brings on asthma, and it stays for life. It looks like nothing
#   at first; then a tight chest in the evening, a cough at night, better at weekends. A
#   cartridge gives no warning when it is used up, so the trade and the health
#   authorities ask for air brought in from outside. In the shop: look for the word
#   isocyanate on the hardener's safety data sheet.
# custom:
#   grade: fails
#   defect: "sensitisation, asthma"
#   remedy: "Spray it in supplied air, in a booth with its extraction running, skin covered. Change the process sheet only when the shop really has the equipment and it has been fitted to the painter."
#   safety:
#     signal: WARNING
#     text: "Isocyanate mist can cause serious, sometimes fatal lung disease. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "US EPA 744-F-00-007: painters spraying isocyanates should wear supplied air; cartridge protection often is not enough (read)"
#     - "Safe Work Australia 2020: air-line, not cartridge (read)"
#     - "NIOSH 96-111 (read)"
#   limits: []
#   needs:
#     - {in: mixes, isocyanate: true, wear: {not: supplied-air respirator}}
package guidecoat.people["isocyanate-without-supplied-air"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.mixes
	unprotected(m)
	m.sprayed
	v := lib.verdict(
		lib.at_step(m),
		lib.plain("fails"),
		sprintf("%s is sprayed with isocyanate in the cup, and no supplied-air respirator is written for the step", [m.name]),
		[],
	)
}

verdict contains v if {
	some m in input.mixes
	unprotected(m)
	m.brushed
	v := lib.verdict(
		lib.at_step(m),
		lib.plain("risk"),
		sprintf("%s is brushed with isocyanate in the cup, and no supplied-air respirator is written for the step", [m.name]),
		[],
	)
}

unprotected(m) if {
	m.isocyanate
	not "supplied-air respirator" in m.wear
}
