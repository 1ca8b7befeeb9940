# METADATA
# title: "clear lies on primer or filler with no color between"
# description: |
#   Clear is meant to tie onto basecoat that is still open, or onto scuffed color or clear.
#   Over a primer, a sealer or filler there is no color to protect, and often no bond to
#   speak of: primers are dull and full of pigment, they drink the clear's resin, and
#   daylight goes straight through the clear and chalks what is under it.
#
#   It looks like a gray or patchy shine, then clear that flakes off a powdery face. In the
#   shop: nothing to test; read the sheet again, the color is missing or a cut went through
#   it.
# custom:
#   grade: risk
#   defect: "no color, weak bond"
#   remedy: "Lay the color first, wherever the clear will go, rub-throughs too. If a clear over primer is what you want, use a product whose data sheet allows it and copy that onto the card."
#   safety:
#     signal: WARNING
#     text: "Two-part clear carries isocyanate: supplied air and covered skin when it is sprayed. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts_under_color, upper_traits.class: clear, lower_traits.class: [primer, surfacer, sealer, filler]}
#     - {in: contacts_under_color, upper_traits.class: clear, lower_kind: [e-coat, factory primer]}
package guidecoat.adhesion["clear-without-base"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_under_color
	c.upper_traits.class == "clear"
	colorless(c)
	not lib.let_in(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s lies on %s, with no color between", [c.upper_name, c.lower_name]),
		lib.sprayed_between(c, ["solvent basecoat", "waterborne basecoat"]),
	)
}

colorless(c) if c.lower_traits.class in {"primer", "surfacer", "sealer", "filler"}

colorless(c) if c.lower_kind in {"e-coat", "factory primer"}
