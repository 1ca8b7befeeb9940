# METADATA
# title: "the scratch is too fine to hold the film"
# description: |
#   Once a film's window has shut, the next one can only hang on by scratches. A scratch
#   finer than the film's resin can run into is as good as none: the surface is dull, and
#   still sealed. That is how a panel that was 'sanded all over' peels all the same. At the
#   fading edge of a blend a finer scratch will do, because the film there is thin and sits
#   on sound clear.
#
#   It looks like clean peeling in sheets at the first chip, the back of the flake shiny. In the
#   shop: cut a grid on a hidden edge and pull tape off it; a scratch you cannot feel with a
#   fingernail is polish.
# custom:
#   grade: risk
#   defect: "peeling"
#   remedy: "Sand or scuff the whole of it again, edges too, with a grade in the range that the film’s data sheet gives. Wipe it, and lay the film."
#   safety:
#     signal: CAUTION
#     text: "Sanding dust harms the lungs. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - zone_blend_fine
#   needs:
#     - {in: contacts, lower_substrate: false, grip: true, fine: past}
#     - {in: contacts, lower_substrate: false, grip: true, zone_facts.role: blend}
package guidecoat.abrasive["scratch-too-fine"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	not c.lower_substrate
	c.grip != null
	window := out_of_window(c)
	[base, leaned, limit] := too_fine(c)
	v := lib.verdict(
		lib.at_contact(c),
		joined(base, leaned, window),
		sprintf("%s goes over %s, which is past its window and has only the grip of %s; it wants %s or coarser%s", [
			c.upper_name,
			c.lower_name,
			c.grip.name,
			limit.text,
			unsure(leaned),
		]),
		lib.abraded_before(c, {"do": "sand", "grit": limit.text}),
	)
}

# Outside a blend: the card's fine limit, or its kind's.
too_fine(c) := [lib.judged("risk", c.fine), c.fine.leaned, c.fine.limit] if {
	c.zone_facts.role != "blend"
	c.fine != null
	lib.broken(c.fine)
}

too_fine(c) := [lib.measured_against("risk", sure, c.grip.microns, limit), [], limit] if {
	c.zone_facts.role == "blend"
	limit := input.limits.zone_blend_fine.measure
	sure := lib.below(c.grip.microns, limit)
}

# How the lower film is past its window: how sure that is, and what it leans on. A film that takes only
# its own coats unabraded is always past it.
out_of_window(c) := ["will", []] if {
	sealed(c)
} else := ["may", [sprintf("%s.recoat", [c.lower_card])]] if {
	c.window_shut
	c.window_given == "typical"
} else := ["will", []] if {
	c.window_shut
} else := [lib.certainty(c.recoat_most), c.recoat_most.leaned] if {
	lib.broken(c.recoat_most)
}

# What was there long ago, and what a bake has sealed.
sealed(c) if c.lower_existing

sealed(c) if c.baked

joined(base, leaned, [sure, more]) := object.union(base, {
	"certainty": worse(base.certainty, sure),
	"leaned": sort({l | some l in array.concat(leaned, more)}),
})

worse("will", "will") := "will"

worse(a, b) := "may" if "may" in {a, b}

unsure([]) := ""

unsure(leaned) := " (typical; copy the data sheet's)" if count(leaned) > 0
