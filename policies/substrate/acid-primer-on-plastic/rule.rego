# METADATA
# title: acid primer goes on plastic or fiberglass
# description: |
#   Acid primer holds because its acid bites metal and ties the resin to what it has bitten. Plastic
#   and fiberglass have nothing to bite. All that is left is a thin film with acid shut in under it.
#   The alcohol and solvent that carry it can fill some plastics with fine cracks. It looks like
#   primer that wipes or flakes off with the first flex, or fine cracks like frost in the part. In
#   the shop: tape pulls it off whole; a magnet or a scratch in a hidden place tells metal from
#   plastic before the can is opened.
# custom:
#   grade: risk
#   defect: peeling
#   remedy: Sand it off. Use the promoter that is meant for the plastic, or on fiberglass an epoxy or surfacer whose card lets it on.
#   safety:
#     signal: WARNING
#     text: Acid primer burns skin and eyes, and its mist harms the lungs; sanding fiberglass makes dust that itches and cuts. Wear what is fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts, upper_traits.acid: true, lower_substrate: true, lower_traits.plastic: true}
#     - {in: contacts, upper_traits.acid: true, lower_substrate: true, lower_traits.composite: true}
package guidecoat.substrate["acid-primer-on-plastic"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_traits.acid
	c.lower_substrate
	nothing_to_bite(c.lower_traits)
	c.card_says != "allows"
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s goes on %s, which it cannot bite", [c.upper_name, c.lower_name]),
		lib.replaced(c.step, instead(c.lower_traits)),
	)
}

nothing_to_bite(t) if t.plastic

nothing_to_bite(t) if t.composite

instead(t) := ["adhesion promoter"] if t.plastic

instead(t) := ["epoxy primer", "urethane surfacer"] if not t.plastic
