# METADATA
# title: filler is thicker than it should ever be
# description: |
#   Filler is stiffer than steel is, and it shrinks and stretches at its own rate. A
#   thick lump of it fights the panel on every hot and cold day, heats up as it hardens,
#   and holds solvent. It looks perfect until a door is slammed or a summer goes by:
#   then a crack, or the outline of the dent comes back. In the shop: a magnet that
#   hardly holds tells that there is too much. Filler is for the last of a dent, not for
#   its shape.
# custom:
#   grade: risk
#   defect: "cracking, sinking"
#   remedy: "Bring the metal up with hammer, dolly or puller until a thin fill will do, or use a fiber filler where it must be thicker, in layers that each harden."
#   safety:
#     signal: WARNING
#     text: "Sanding thick filler makes a great deal of fine dust: respirator and extraction. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - filler_max
#     - fiber_max
package guidecoat.film["filler-too-thick"]

import data.guidecoat.lib

verdict contains v if {
	some t in input.totals
	c := worst(t)
	v := lib.verdict(
		object.union(lib.at_surface(t), {"step": t.filler_step}),
		lib.judged("risk", c),
		sprintf("the filler here adds up to %s; over %s it cracks or sinks", [c.measured.text, c.limit.text]),
		[],
	)
}

worst(t) := t.filler_max if {
	not t.has_fiber
	t.filler_max != null
}

worst(t) := t.fiber_max if {
	t.has_fiber
	t.fiber_max != null
}
