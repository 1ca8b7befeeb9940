# METADATA
# title: the surface is sanded before it is degreased
# description: |
#   Wax, road film, silicone and the oil of hands lie on top of old paint and hammered metal. Paper
#   does not lift them off: it warms them, smears them, and presses them down into the scratch it
#   has just made, where a rag no longer reaches. What you wipe later is the top of the ridges. It
#   looks like round craters (fisheyes) that come back coat after coat in the sanded area, sometimes
#   in the swirl of the sander. In the shop: clogged paper with shiny little corns is wax; so is a
#   surface on which water stands in beads after sanding.
# custom:
#   grade: risk
#   defect: "fisheyes: wax ground into the scratch"
#   remedy: Wash and degrease before the first abrasion, and again after every time the panel was stored or hammered; then sand. If it was sanded dirty, degrease twice with fresh rags, sand with fresh paper, and degrease again.
#   safety:
#     signal: CAUTION
#     text: Cleaner left wet under a sander can catch fire from a spark; let it dry off first, and keep the air moving. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: abrasions, soiled_by: true, cleaned_before: false}
#     - {in: strips, tool: [sander, blast], soiled_by: true, cleaned_before: false}
package guidecoat.substrate["sanded-before-degreased"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	soiled(a)
	v := lib.verdict(
		lib.at_surface(a),
		lib.plain("risk"),
		sprintf("%s is abraded %s", [a.surface_name, why(a)]),
		mend(a),
	)
}

verdict contains v if {
	some s in input.strips
	s.tool in {"sander", "blast"}
	soiled(s)
	v := lib.verdict(
		{"on": s.id, "zone": s.zone, "step": s.step, "rests": {"step": s.id}, "place": s.place},
		lib.plain("risk"),
		sprintf("the %s is put to the surface %s", [s.tool, why(s)]),
		mend(s),
	)
}

soiled(a) if {
	a.soiled_by != ""
	not a.cleaned_before
}

why(a) := "with no clean before it, and wax goes into the scratch" if a.soiled_by == "carried"

why(a) := sprintf("after step %d (%s) with no clean between", [a.soiled_step, a.soiled_by]) if a.soiled_by != "carried"

mend(a) := [lib.insert_before(a.step, s) |
	some s in lib.steps_around(a.zone, lib.wipe("wax and grease remover"))
]
