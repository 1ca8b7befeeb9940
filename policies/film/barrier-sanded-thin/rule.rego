# METADATA
# title: the only water barrier over steel is sanded thin
# description: |
#   Most primers and all fillers let water through. Where one film alone, an epoxy
#   mostly, keeps it off bare steel, everything hangs on that film. Sand it to almost
#   nothing and damp reaches the metal through the scratches. It looks smooth and even.
#   A year later, rust dots stand in the pattern of the sander. In the shop: epoxy that
#   shows the gray of the steel through it is too thin.
# custom:
#   grade: risk
#   defect: "rust"
#   remedy: "Lay the barrier thicker, sand less, or lay another coat of it over the sanded place."
#   safety:
#     signal: CAUTION
#     text: "Epoxy dust and fresh epoxy both can make skin react: cover it. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - barrier_min
package guidecoat.film["barrier-sanded-thin"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	a.step == last_step[sprintf("%s/%s", [a.zone, a.layer])]
	c := a.barrier_left
	c != null
	v := lib.verdict(
		lib.at_surface(a),
		lib.judged("risk", c),
		sprintf("%s is all that keeps water off the steel, and %s of it is left; it wants %s%s", [a.surface_name, c.measured.text, c.limit.text, lib.typical(c)]),
		[],
	)
}

keys := {sprintf("%s/%s", [a.zone, a.layer]) | some a in input.abrasions}

last_step := {k: max([a.step | some a in input.abrasions; sprintf("%s/%s", [a.zone, a.layer]) == k]) | some k in keys}
