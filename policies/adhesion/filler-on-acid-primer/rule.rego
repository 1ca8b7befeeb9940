# METADATA
# title: filler lies on acid primer
# description: |
#   Filler hardens when its peroxide sets off the resin. Acid left in an acid
#   primer upsets that right where the two touch, and the styrene in the filler
#   softens the thin primer. What you get is a weak, half-cured skin between
#   two hard layers. The exact chemistry differs from can to can; the letting
#   go does not. It comes off in a plate, smooth on the back and sometimes
#   tacky, with primer color on it. In the shop: put a chisel to the feather
#   edge; a loose plate sounds hollow when tapped.
# custom:
#   grade: fails
#   defect: delamination
#   remedy: Take the acid primer off to bare metal with P36 to P80, clean it, lay epoxy, let it stand as its data sheet says, and put the filler on the epoxy.
#   safety:
#     signal: WARNING
#     text: Grinding acid primer makes a dust that can harm the lungs, and it may hold chromate. Wear a respirator fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   covers:
#     - card-does-not-list
#     - window-missed
package guidecoat.adhesion["filler-on-acid-primer"]

import data.guidecoat.lib

fillers := {
	"body filler", "fiber filler", "finishing putty", "one-part putty", "plastic repair filler",
}

verdict contains v if {
	some c in input.contacts
	c.upper_kind in fillers
	c.lower_traits.acid
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s lies on %s", [c.upper_name, c.lower_name]),
		[],
	)
}
