# METADATA
# title: too little clear is left after sanding and polishing
# description: |
#   Clear keeps sunlight off the color by its thickness, and most of what does it sits
#   near the top, just what sanding takes away. Below about two mil it has years less to
#   live; below one it has hardly any. It looks like glass on the day it is handed over.
#   Then it goes dull in patches, hazes, and peels like sunburnt skin, roof and hood
#   first. In the shop: gauge before and after; count every sanding and every polishing
#   there has been.
# custom:
#   grade: fails
#   defect: "early dulling, peeling"
#   remedy: "Lay another coat of clear before flatting, sand less, or scuff it and clear again."
#   safety:
#     signal: WARNING
#     text: "Clearing again is isocyanate work: supplied air, booth, covered skin. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - clear_min
#     - clear_least
package guidecoat.film["clear-sanded-thin"]

import data.guidecoat.lib

verdict contains v if {
	some a in array.concat(input.abrasions, input.polishes)
	bad := a.clear_left_bad
	bad != null
	lib.broken(bad) == "will"
	v := lib.verdict(
		lib.at_surface(a),
		lib.judged("fails", bad),
		sprintf("%s of clear is left after this; under %s it has no life%s", [bad.measured.text, bad.limit.text, lib.typical(bad)]),
		[],
	)
}

verdict contains v if {
	some a in array.concat(input.abrasions, input.polishes)
	low := a.clear_left_low
	low != null
	not gone(a)
	v := lib.verdict(
		lib.at_surface(a),
		lib.judged("risk", low),
		sprintf("%s of clear is left after this; it wants %s%s", [low.measured.text, low.limit.text, lib.typical(low)]),
		[],
	)
}

gone(a) if {
	a.clear_left_bad != null
	lib.broken(a.clear_left_bad) == "will"
}
