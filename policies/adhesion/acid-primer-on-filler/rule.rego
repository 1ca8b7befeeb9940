# METADATA
# title: "acid primer lies on filler"
# description: |
#   Acid primer is made for bare metal: its acid bites the metal and is used up there. On
#   filler, putty or polyester there is nothing to bite. The acid stays, soaks into the
#   pores and goes on attacking the resin, and the strong, thin solvent of the primer swells
#   the filler's edge. Whatever comes next lies on a damp, sour sponge.
#
#   It looks like the outline of the repair swelling up under the primer, or small blisters over the
#   filler weeks later. Paint that lifts has filler dust on its back. In the shop: look along the
#   feather edge ten minutes after spraying; a ridge that was not there before is the filler
#   drinking.
# custom:
#   grade: fails
#   defect: "delamination, swelling"
#   remedy: "Sand the acid primer off the filler, blow it clean, and seal filler and metal together with epoxy or a two-part surfacer. Keep acid primer for bare metal, masked off from the filler."
#   safety:
#     signal: WARNING
#     text: "Acid primer burns skin and eyes, and sanding it makes a dust that may hold chromate. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts, upper_traits.acid: true, lower_traits.class: filler}
#     - {in: contacts, upper_traits.acid: true, lower_kind: polyester surfacer}
package guidecoat.adhesion["acid-primer-on-filler"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_traits.acid
	drinks(c.lower_kind)
	not lib.let_in(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s goes onto %s, where there is no metal for its acid to bite", [c.upper_name, c.lower_name]),
		[lib.set_key(c.step, "product_kind", ["epoxy primer", "urethane surfacer"])],
	)
}

drinks(kind) if kind in lib.fillers

drinks("polyester surfacer")
