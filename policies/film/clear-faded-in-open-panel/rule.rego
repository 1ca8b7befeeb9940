# METADATA
# title: clear fades out in the middle of a panel
# description: |
#   A clear that is fanned out to nothing ends in a rim of single drops. Thinner melts the rim and it
#   looks gone for the day, but the film there is a breath thick: it has no shield against the sun, and no
#   grip on the gloss beside it. Each polish moves the edge. You see a milky ring in
#   slanting light, then a line that lifts at the edge and can be followed with a fingernail. In the shop:
#   look along the panel with a lamp behind the blend; wet it, and the ring comes up. Where the panel
#   itself ends, at a gap, an edge or a sharp line, there is no rim to lift.
# custom:
#   grade: risk
#   defect: halo, peeling edge
#   remedy: Take clear and single stage to the next edge or gap of the panel, over scuffed paint, and let only the color fade out.
#   safety:
#     signal: CAUTION
#     text: Blending thinner is strong solvent, and what it fogs over is breathed like the clear; keep the same protection on. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts_under_color, fades: true, zone_facts.edge: open}
package guidecoat.film["clear-faded-in-open-panel"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_under_color
	c.fades
	c.zone_facts.edge == "open"
	seals(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s fades out in %s, where no edge or gap of the panel ends it", [c.upper_name, c.zone]),
		[],
	)
}

seals(c) if c.upper_traits.class == "clear"

seals(c) if c.upper_kind in {"single-stage urethane", "single-stage enamel"}
