# METADATA
# title: "polyester surfacer lies on acid primer"
# description: |
#   Polyester surfacer is filler thin enough for a gun. It is set off by the same sort of hardener,
#   a peroxide. Acid left in the primer stops the lowest part of it from curing. Its styrene, a
#   strong solvent, swells the primer while it waits. A heavy, hard film then hangs on a soft skin a
#   fraction of a mil thick. It also shrinks for a week, and pulls at that skin all the time.
#
#   It looks like whole sheets letting go at an edge, a stone chip or a body line, primer color on
#   the back. In the shop: cut a grid into a test piece after a week and pull tape off it; or run a
#   blade under a sanded edge, it goes in as if into wax. No wait and no scuffing makes the pair
#   hold.
# custom:
#   grade: fails
#   defect: "delamination"
#   remedy: "Take both back to bare metal with P36 to P80, wipe it clean, lay epoxy, keep its wait, and spray the polyester on the epoxy."
#   safety:
#     signal: WARNING
#     text: "Polyester surfacer gives off styrene, and sanding acid primer makes a dust that may hold chromate. Wear a respirator that is fit for each. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts, upper_kind: polyester surfacer, lower_traits.acid: true}
#   covers:
#     - card-does-not-list
#     - window-missed
package guidecoat.adhesion["polyester-on-acid-primer"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_kind == "polyester surfacer"
	c.lower_traits.acid
	not lib.let_in(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s lies on %s", [c.upper_name, c.lower_name]),
		array.concat(lib.replaced_below(c, ["epoxy primer"]), lib.stripped_before(c)),
	)
}
