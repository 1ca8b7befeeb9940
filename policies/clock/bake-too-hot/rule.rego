# METADATA
# title: the bake is too hot
# description: |
#   Each film has a heat at which its resin softens or begins to break down, and what lies beneath has its
#   own. Filler lets go of what is trapped in it and lifts its skin; plastic sags, and keeps the shape it
#   sagged to; a fast cure at the top shuts in solvent. What counts is the panel's heat and not the air's:
#   thin sheet under a lamp runs far ahead of the dial. You see blisters over filler, wavy plastic, a
#   clear gone yellow. In the shop: lay a strip thermometer or a probe on the panel itself, at its nearest
#   point to the heat.
# custom:
#   grade: risk
#   defect: blisters, distortion
#   remedy: Bake cooler and longer, as the data sheet lets you, and measure on the panel. Blistered film is taken down to sound ground; sagged plastic is not to be saved by paint.
#   safety:
#     signal: WARNING
#     text: Overheated paint gives off vapor and smoke that harm the lungs, and it can catch fire; switch the heat off and leave it to the exhaust. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - bake_plastic
#     - bake_filler
#   needs:
#     - {in: bakes, films.too_hot: past}
#     - {in: bakes, plastic_hot: past}
#     - {in: bakes, filler_hot: past}
package guidecoat.clock["bake-too-hot"]

import data.guidecoat.lib

verdict contains v if {
	some b in input.bakes
	some f in b.films
	h := f.too_hot
	h != null
	v := lib.verdict(
		lib.at_baked(b, f),
		lib.judged("risk", h),
		sprintf("the panel is baked at %s; %s bears %s at most%s", [h.measured.text, f.name, h.limit.text, lib.typical(h)]),
		[lib.set_key(b.step, "metal", h.limit.text)],
	)
}

verdict contains v if {
	some b in input.bakes
	h := b.plastic_hot
	h != null
	v := lib.verdict(
		lib.at_step(b),
		lib.judged("risk", h),
		sprintf("the panel is baked at %s; plastic bears %s at most", [h.measured.text, h.limit.text]),
		[lib.set_key(b.step, "metal", h.limit.text)],
	)
}

verdict contains v if {
	some b in input.bakes
	h := b.filler_hot
	h != null
	not plastic_speaks(b)
	v := lib.verdict(
		lib.at_step(b),
		lib.judged("risk", h),
		sprintf("the panel is baked at %s; filler bears %s at most", [h.measured.text, h.limit.text]),
		[lib.set_key(b.step, "metal", h.limit.text)],
	)
}

# Plastic bears less than filler: where both are too hot, it speaks for both.
plastic_speaks(b) if {
	b.plastic_hot != null
	lib.broken(b.plastic_hot)
}
