# METADATA
# title: "filler lies on bare steel"
# description: |
#   Filler is porous. Water that reaches its edge, from a chip or from the back of the panel, soaks
#   along inside it. With nothing between filler and steel, the steel rusts where nobody can see it.
#   The rust lifts the filler from below.
#
#   Schools differ, and both have reasons. Put on freshly ground steel, filler grips the
#   deep scratch as hard as it ever will, and a day is saved: collision shops work so. Put
#   on epoxy, the steel is sealed before anything porous lies on it, and that is what a
#   restoration that should last for decades wants; it costs a night's wait.
#
#   It looks like a rust line round the edge of the repair, then a blister you can push in.
#   In the shop: a magnet that still holds and a hollow tap tell of rust under sound filler.
# custom:
#   grade: risk
#   defect: "rust under the filler"
#   remedy: "Lay epoxy on the clean, sanded steel, leave it as long as its card asks before filler, and spread the filler on the epoxy."
#   safety:
#     signal: WARNING
#     text: "Epoxy hardener and filler hardener harm skin and eyes: gloves, eye protection, coverall. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts_on_metal, upper_traits.class: filler, lower_traits.steel: true}
package guidecoat.adhesion["filler-on-bare-metal"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_on_metal
	input.sheet.work == "restoration"
	c.upper_kind in lib.fillers
	c.lower_traits.steel
	not lib.let_in(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s lies straight on %s, with nothing that keeps water off the steel", [c.upper_name, c.lower_name]),
		lib.waited_between(c),
	)
}
