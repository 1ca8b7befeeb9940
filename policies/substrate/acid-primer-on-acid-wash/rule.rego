# METADATA
# title: acid primer goes on acid-treated metal
# description: |
#   An acid primer is a treatment and a primer in one: its acid has to bite fresh metal, and what it
#   forms there is what holds it. Metal that has already met acid wash or conversion coating is
#   covered with phosphates. The primer's acid finds nothing to bite, stays in the film, and leaves
#   it soft and open to water. It looks like primer that never hardens through, wipes off as powder,
#   or peels with the whole build on it. In the shop: a thumbnail still marks it after a day; tape
#   pulls it off grey metal.
# custom:
#   grade: fails
#   defect: peeling
#   remedy: Use the one or the other. Over treated metal lay epoxy; or sand the treatment off to bright metal, degrease, and lay the acid primer on that.
#   safety:
#     signal: WARNING
#     text: Acid primer and metal acid burn skin and eyes, and the mist harms the lungs; wear what the labels ask for. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - "TM 43-0139 3-4a (read): wash primer does not stick to steel already treated with phosphoric metal conditioner"
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts_on_metal, upper_traits.acid: true, prep.acid_wash_since_abraded: true}
#     - {in: contacts_on_metal, upper_traits.acid: true, prep.conversion_since_abraded: true}
package guidecoat.substrate["acid-primer-on-acid-wash"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_on_metal
	c.upper_traits.acid
	agent := met(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain(grades[agent]),
		sprintf("%s goes on %s treated with %s since it was last abraded", [c.upper_name, c.lower_name, agent]),
		lib.abraded_before(c, {"do": "sand", "grit": lib.metal_grit(c)}),
	)
}

grades := {"acid wash": "fails", "conversion coating": "risk"}

# What the primer meets is the later of the two.
met(c) := "conversion coating" if {
	c.prep.conversion_since_abraded
	not acid_on_top(c)
} else := "acid wash" if {
	c.prep.acid_wash_since_abraded
}

acid_on_top(c) if {
	c.prep.acid_wash_since_abraded
	washes := [i | some i, a in c.touched; a == "acid wash"]
	conversions := [i | some i, a in c.touched; a == "conversion coating"]
	max(washes) > max(conversions)
}
