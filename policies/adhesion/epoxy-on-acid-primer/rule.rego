# METADATA
# title: "epoxy lies on acid primer"
# description: |
#   The hardener of an epoxy is an amine, which is the opposite of an acid: acid eats it up. Where
#   epoxy lies on a one-part acid primer, the acid left over can use up the hardener in the lowest
#   part of the epoxy. The bond goes with it.
#
#   Schools differ. Published systems do put epoxy over a two-part wash primer, whose acid
#   is used up on the metal within its short window; others say that epoxy needs no etch
#   beneath it at all, and lay it straight on clean, sanded metal. Few makers let it onto a
#   one-part acid primer. The card decides.
#
#   It looks like epoxy that stays rubbery underneath and peels with the acid primer on its back. In
#   the shop: press a thumbnail into the film after two days; cut a grid into a test piece and pull
#   tape off it.
# custom:
#   grade: risk
#   defect: "delamination"
#   remedy: "Lay the epoxy straight on bare, sanded and degreased metal; or ask for the data sheet that names this acid primer beneath this epoxy, and copy that onto its card."
#   safety:
#     signal: WARNING
#     text: "Epoxy hardener can make the skin allergic for life: gloves, eye protection and coverall. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "ARL-TR-3756 abstract and MIL-STD-186F: epoxy primer over two-part wash primer (read)"
#   limits: []
#   needs:
#     - {in: contacts, upper_traits.epoxy: true, lower_traits.acid: true}
package guidecoat.adhesion["epoxy-on-acid-primer"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_traits.epoxy
	c.lower_traits.acid
	lib.unsaid(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain(grade(c)),
		sprintf("%s lies on %s, and its card does not say that it may", [c.upper_name, c.lower_name]),
		array.concat([lib.drop(c.lower_step) | c.lower_step > 0], lib.stripped_before(c)),
	)
}

grade(c) := "advice" if c.lower_kind == "two-part wash primer"

grade(c) := "risk" if c.lower_kind != "two-part wash primer"
