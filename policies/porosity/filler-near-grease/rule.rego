# METADATA
# title: grease is in the air while a pore is open
# description: |
#   Hammering and grinding throw oil from tools and hands, polishing throws wax and silicone, and
#   cavity wax drifts as a fog. On closed paint it can be wiped off. In open filler it goes down the
#   pores, and no cleaner fetches it back: the cleaner carries it deeper. It looks like round
#   craters (fisheyes) that sit over the repair and come back through every coat, while the panel
#   beside it is clean. In the shop: if the craters draw the outline of the filler, the dirt is in
#   the filler.
# custom:
#   grade: risk
#   defect: fisheyes that no wipe removes
#   remedy: Do metalwork, polishing and cavity wax before the filler is opened, after it is sealed, or in another room. Filler that has caught it is sanded down to fresh material, or comes off.
#   safety:
#     signal: CAUTION
#     text: Cavity wax mist burns and harms the lungs; spray it where the air is drawn off. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: exposures, pore: true, during.do: [metalwork, polish]}
#     - {in: exposures, pore: true, during.product_kind: cavity wax}
package guidecoat.porosity["filler-near-grease"]

import data.guidecoat.lib

verdict contains v if {
	some x in input.exposures
	x.pore
	near := [d | some d in x.during; greasy(d)]
	count(near) > 0
	first := near[0]
	v := lib.verdict(
		{"on": x.id, "zone": x.zone, "step": first.step, "rests": {"lower": x.layer}, "place": place(first.step, x)},
		lib.plain("risk"),
		sprintf("%s stands open while %s in the same place", [x.name, concat(", ", [did(d) | some d in near])]),
		[],
	)
}

greasy(d) if {
	d.same_place
	d.do in {"metalwork", "polish"}
}

greasy(d) if {
	d.same_place
	d.do == "spray"
	d.product_kind == "cavity wax"
}

did(d) := sprintf("step %d does metalwork", [d.step]) if d.do == "metalwork"

did(d) := sprintf("step %d polishes", [d.step]) if d.do == "polish"

did(d) := sprintf("step %d sprays cavity wax", [d.step]) if d.do == "spray"

places := {s.n: s.place | some s in input.steps}

place(n, x) := object.get(places, n, x.place)
