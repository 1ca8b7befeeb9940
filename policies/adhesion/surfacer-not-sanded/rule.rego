# METADATA
# title: "color lies on surfacer that nobody sanded"
# description: |
#   A surfacer is sprayed to be cut. As laid it has texture and a dull, dry skin: color over
#   it copies every bit of the texture, and holds only to the top of a surface that no
#   scratch has opened. Its solvent also leaves through the color if nobody gave it the time
#   that sanding gives. A card that says wet on wet is for a surfacer meant to be covered as
#   it lies; the others are not.
#
#   It looks like the skin of an orange under a flat clear, dullness after a week, color that flakes
#   from a shiny primer. In the shop: rub the primer with a dry fingertip; if it is glossy at the
#   edges, nothing has touched it.
# custom:
#   grade: risk
#   defect: "peel texture, dieback"
#   remedy: "Let the surfacer reach its sanding time. Block it with P320 to P400, finish with P400 to P600, wipe it clean, and color on that. Or use a product that is made to be covered wet on wet, inside its window."
#   safety:
#     signal: WARNING
#     text: "Sanding dust of two-part surfacers harms the lungs. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - color_scratch_metallic
#   needs:
#     - {in: contacts_under_color, upper_traits.class: color, lower_kind: [urethane surfacer, epoxy surfacer, lacquer primer, waterborne primer], abraded: false}
package guidecoat.adhesion["surfacer-not-sanded"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_under_color
	c.upper_traits.class == "color"
	c.lower_kind in {"urethane surfacer", "epoxy surfacer", "lacquer primer", "waterborne primer"}
	not c.abraded
	not c.lower_traits.wet_on_wet
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s lies on %s that nothing has sanded since it was laid", [c.upper_name, c.lower_name]),
		lib.abraded_before(c, {"do": "sand", "grit": input.limits.color_scratch_metallic.measure.text}),
	)
}
