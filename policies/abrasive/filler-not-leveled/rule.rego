# METADATA
# title: "filler is covered as it lay"
# description: |
#   Filler, putty and polyester cure with a waxy or sticky skin and with every ridge the
#   spreader left. Nothing holds to that skin, and every wave of it comes through whatever
#   you spray on it. Sanding takes the skin off, opens a scratch, and is the only thing that
#   makes it flat. Filler on filler bonds better, because both are alike, and still the skin
#   between is a weak place.
#
#   It looks like waves in a side light and paint that peels off a smooth filler face. In
#   the shop: wipe a fingertip over it; if it drags or shines, nothing has touched it.
# custom:
#   grade: fails
#   defect: "waves, poor bond"
#   remedy: "Let it set, block it dry to its shape, P80 then P150 to P180, blow it clean, and only then lay the next film."
#   safety:
#     signal: CAUTION
#     text: "Filler dust harms the lungs: a fit respirator or extraction at the sander. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - color_scratch_metallic
#     - dry_abrasive
#   needs:
#     - {in: contacts, lower_traits.class: filler, abraded: false}
#     - {in: contacts, lower_kind: polyester surfacer, abraded: false}
package guidecoat.abrasive["filler-not-leveled"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	as_it_lay(c.lower_kind)
	not c.abraded
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain(grade(c)),
		sprintf("%s goes on %s that nothing has sanded", [c.upper_name, c.lower_name]),
		lib.abraded_before(c, {"do": "block", "grit": grit(c)}),
	)
}

as_it_lay(kind) if kind in lib.fillers

as_it_lay("polyester surfacer")

grade(c) := "risk" if two_fillers(c)

grade(c) := "fails" if not two_fillers(c)

two_fillers(c) if {
	c.upper_kind in lib.fillers
	c.lower_kind in lib.fillers
}

# A grade that suits what goes over it: as a primer wants it, or as color does.
grit(c) := input.limits.color_scratch_metallic.measure.text if c.upper_traits.class in {"color", "clear", "sealer"}

grit(c) := input.limits.dry_abrasive.measure.text if not c.upper_traits.class in {"color", "clear", "sealer"}
