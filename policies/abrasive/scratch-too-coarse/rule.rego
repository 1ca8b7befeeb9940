# METADATA
# title: "the scratch is too coarse for the film over it"
# description: |
#   Wet paint fills a groove and levels over it. Its solvent swells the edges of the groove
#   as well. As the solvent leaves, the film shrinks, and it shrinks most where it is
#   deepest: right over the groove. So the line comes back, first as a slight dullness, then
#   plain. Metallic and pearl show it soonest, because their flakes tip into it; a thin
#   color shows more than a thick primer.
#
#   The scratch that counts is the coarsest one still there. Finer paper after it helps only
#   if it cut down to the bottom of the coarse one; scuffing with a pad never does.
#
#   It looks like straight or curly lines that follow the sander, worse in sunlight and
#   worse after a week. In the shop: wet the surface and look along it against a lamp; what
#   you see wet you will see painted.
# custom:
#   grade: fails
#   defect: "sand-scratch swelling"
#   remedy: "Refine grit by grit, each no more than one step on, until the last suits the film: P400 to P500 under solid color, P500 to P600 under metallic, the card’s range where it gives one. If it is painted already, let it harden, block it flat, refine, and color again."
#   safety:
#     signal: CAUTION
#     text: "Sanding dust harms the lungs. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "ISO 6344 (FEPA) median particles, in part as a trade chart prints them (read)"
#   limits:
#     - color_scratch_fails
#     - color_scratch_solid
#     - color_scratch_metallic
#     - single_stage_fails
#     - single_stage_scratch
#   needs:
#     - {in: contacts, upper_traits.class: [color, clear], scratch: true}
#     - {in: contacts, scratch: true, coarse: past}
package guidecoat.abrasive["scratch-too-coarse"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.scratch != null
	not c.lower_traits.metal
	[judgement, limit, words] := found(c)
	v := lib.verdict(
		lib.at_contact(c),
		judgement,
		sprintf("%s goes over %s scratched with %s; %s", [c.upper_name, c.lower_name, c.scratch.name, words]),
		[e |
			grit := refined(c, limit)
			some e in lib.abraded_before(c, {"do": "sand", "grit": grit})
		],
	)
}

# A card's own limit, which replaces the trade's.
found(c) := [
	lib.judged(graded(c), c.coarse),
	c.coarse.limit,
	sprintf("its card wants %s or finer beneath it", [c.coarse.limit.text]),
] if {
	by_card(c)
	lib.broken(c.coarse)
}

# Under color and clear: the limits of the trade, not the kind's range.
found(c) := [
	lib.measured_against("fails", "will", c.scratch.microns, fails_past(c)),
	risk_past(c),
	sprintf("nothing coarser than %s may lie under it, and %s is better", [fails_past(c).text, risk_past(c).text]),
] if {
	not by_card(c)
	shows(c)
	surely_fails(c)
}

found(c) := [
	lib.measured_against("risk", sure, c.scratch.microns, risk_past(c)),
	risk_past(c),
	sprintf("%s or finer keeps it from showing", [risk_past(c).text]),
] if {
	not by_card(c)
	shows(c)
	not surely_fails(c)
	sure := lib.above(c.scratch.microns, risk_past(c))
}

# Under anything else: the range of the kind.
found(c) := [
	lib.judged("risk", c.coarse),
	c.coarse.limit,
	sprintf("it wants %s or finer beneath it%s", [c.coarse.limit.text, lib.typical(c.coarse)]),
] if {
	not by_card(c)
	not shows(c)
	c.coarse != null
	lib.broken(c.coarse)
}

by_card(c) if c.coarse.source == "card"

shows(c) if c.upper_traits.class in {"color", "clear"}

# A card's limit missed under color is as grave as the trade would take it to be.
graded(c) := "fails" if {
	shows(c)
	surely_fails(c)
} else := "risk"

surely_fails(c) if lib.above(c.scratch.microns, fails_past(c)) == "will"

single_stage(c) if c.upper_kind in {"single-stage urethane", "single-stage enamel"}

lively(c) if input.cards[c.upper_card].effect in {"metallic", "pearl", "candy"}

fails_past(c) := input.limits.single_stage_fails.measure if single_stage(c)

fails_past(c) := input.limits.color_scratch_fails.measure if not single_stage(c)

risk_past(c) := input.limits.single_stage_scratch.measure if single_stage(c)

risk_past(c) := input.limits.color_scratch_metallic.measure if {
	not single_stage(c)
	lively(c)
}

risk_past(c) := input.limits.color_scratch_solid.measure if {
	not single_stage(c)
	not lively(c)
}

# The first grade that takes the scratch away and is fine enough; else the finest that takes it away, for a start.
refined(c, limit) := [g.name | some g in c.refine; not lib.above(g.microns, limit)][0]

refined(c, limit) := c.refine[count(c.refine) - 1].name if {
	every g in c.refine {
		lib.above(g.microns, limit)
	}
}
