# METADATA
# title: "seam sealer lies on bare metal or acid primer"
# description: |
#   A seam is where water waits. Sealer is made to stay soft and to bridge the gap, not to keep
#   steel from rusting. Most of it holds poorly to bare metal. Moisture creeps along the metal under
#   its edge and the seam rusts with a clean bead on top. Acid primer beneath it is no help: it
#   stops no water, and the sealer's oils and the acid do not agree.
#
#   It looks like a brown line beside a bead that still looks new, then a bead that pulls
#   off in one strip. In the shop: lift the end of the bead with a pick; rust or bright
#   metal under it tells.
# custom:
#   grade: risk
#   defect: "rust in the seam"
#   remedy: "Prime the seam with epoxy, let it stand as its card says, and seal on that; or use a sealer whose data sheet allows bare metal, and copy that onto its card."
#   safety:
#     signal: CAUTION
#     text: "Some seam sealers carry isocyanate or solvent: gloves, eye protection, fresh air. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts, upper_kind: seam sealer, lower_traits.metal: true}
#     - {in: contacts, upper_kind: seam sealer, lower_traits.acid: true}
package guidecoat.adhesion["seam-sealer-on-bare-metal"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_kind == "seam sealer"
	unfit(c.lower_traits)
	lib.unsaid(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s lies on %s, and its card does not say that it may", [c.upper_name, c.lower_name]),
		lib.sprayed_between(c, ["epoxy primer"]),
	)
}

unfit(t) if t.metal

unfit(t) if t.acid
