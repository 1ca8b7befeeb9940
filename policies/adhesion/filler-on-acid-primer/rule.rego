# METADATA
# title: "filler lies on acid primer"
# description: |
#   Filler sets because its paste hardener, a peroxide, starts the resin off. Acid that is still in
#   an acid primer spoils that start right where the two touch. Styrene, the solvent in the filler,
#   softens the thin primer from above. Between two hard layers you are left with a skin that never
#   cured properly. What exactly goes on differs from can to can; that it lets go does not.
#
#   It looks like filler coming away as a plate: smooth on the back, at times still tacky,
#   with the primer's color on it. In the shop: tap the repair, a loose plate rings hollow;
#   set a chisel to the feather edge and it lifts in one piece instead of crumbling.
# custom:
#   grade: fails
#   defect: "delamination"
#   remedy: "Take the acid primer off to bare metal with P36 to P80, wipe it clean, and lay epoxy. Leave the epoxy as long as its data sheet asks before filler, and put the filler on it."
#   safety:
#     signal: WARNING
#     text: "Grinding acid primer makes a dust that harms the lungs, and some hold chromate. Wear a respirator that is fit for it. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts, upper_traits.class: filler, lower_traits.acid: true}
#   covers:
#     - card-does-not-list
#     - window-missed
package guidecoat.adhesion["filler-on-acid-primer"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_kind in lib.fillers
	c.lower_traits.acid
	not lib.let_in(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s lies on %s", [c.upper_name, c.lower_name]),
		array.concat(lib.replaced_below(c, ["epoxy primer"]), lib.stripped_before(c)),
	)
}
