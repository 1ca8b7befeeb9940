# METADATA
# title: a porous film stands open too long
# description: |
#   An open pore never rests. It takes up the damp of the air, and with it oil mist, sanding dust,
#   salt from hands and whatever else floats in a shop. None of it can be wiped out again, because
#   it is not on the surface but in it. Outdoors dew does in one night what the shop does in weeks.
#   It looks like blisters or round craters (fisheyes) over the repair only, or rust at the filler's
#   edge. In the shop: look for a darker, greasy tone, or brown at the feather edge; fresh filler
#   sands to pale dust, old open filler clogs the paper.
# custom:
#   grade: risk
#   defect: contamination, moisture
#   remedy: Seal filler and porous surfacer as soon as they have settled. If it stood open too long, sand it to fresh material, dry it with heat, blow it off and seal it the same day. Keep it indoors.
#   safety:
#     signal: CAUTION
#     text: Sanding filler makes fine dust; wear a respirator fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - porous_open
#     - damp_pore
#   needs:
#     - {in: exposures, pore: true, pore_open: past}
#     - {in: exposures, pore: true, outdoors: true}
package guidecoat.porosity["filler-left-open"]

import data.guidecoat.lib

verdict contains v if {
	some x in input.exposures
	x.pore
	found := why(x)
	v := lib.verdict(
		{"on": x.id, "zone": x.zone, "step": x.from_step, "rests": {"lower": x.layer}, "place": x.place},
		found.judgement,
		found.message,
		[],
	)
}

why(x) := {
	"judgement": lib.judged("risk", x.pore_open),
	"message": sprintf("%s stands open for %s; it may stand open for %s%s", [
		x.name,
		x.pore_open.measured.text,
		x.pore_open.limit.text,
		lib.typical(x.pore_open),
	]),
} if {
	x.pore_open != null
	lib.broken(x.pore_open)
} else := {
	"judgement": lib.plain("risk"),
	"message": sprintf("%s stands open outdoors, and it drinks the damp", [x.name]),
} if {
	x.outdoors
}
