# METADATA
# title: "polyester surfacer lies on bare metal"
# description: |
#   Polyester shrinks as it cures and goes on shrinking for days. On smooth metal it has only the
#   sanding marks to hold to, and it is porous besides: water that gets in anywhere runs along the
#   metal beneath it. On zinc its solvent (styrene) and its hardener (peroxide) react with the metal
#   and leave a soapy layer; on aluminum the oxide skin that forms within hours is all it holds to.
#
#   On steel schools differ. Restorers lay epoxy first and gain a film that keeps water off
#   the steel; many collision shops spray it on steel sanded with P80 and gain half a day,
#   and some data sheets allow it.
#
#   It looks like sheets that come off with clean metal behind, or rust creeping out from
#   the edge of a repair. In the shop: tap along the edge; a change of note is air beneath.
# custom:
#   grade: fails
#   defect: "delamination, rust"
#   remedy: "Lay epoxy on the bare metal, keep its wait, and spray the polyester on that. If the data sheet allows this metal, copy that onto the card as direct_to_metal."
#   safety:
#     signal: WARNING
#     text: "Polyester surfacer gives off styrene and its hardener is a peroxide: a fit respirator, gloves, eye protection, no flame. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts_on_metal, upper_kind: polyester surfacer}
package guidecoat.adhesion["polyester-on-bare-metal"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_on_metal
	c.upper_kind == "polyester surfacer"
	not lib.let_in(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain(grade(c)),
		sprintf("%s goes straight on %s, and its card does not say that it may", [c.upper_name, c.lower_name]),
		lib.waited_between(c),
	)
}

grade(c) := "fails" if c.lower_kind in {"aluminum", "galvanized steel"}

grade(c) := "risk" if {
	not c.lower_kind in {"aluminum", "galvanized steel"}
	input.sheet.work != "collision"
}

grade(c) := "advice" if {
	not c.lower_kind in {"aluminum", "galvanized steel"}
	input.sheet.work == "collision"
}
