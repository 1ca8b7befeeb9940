# METADATA
# title: "a stiff film lies on something that gives"
# description: |
#   A bumper of TPO, PP or PUR bends and comes back; a bead of seam sealer stretches as the
#   panel works. Epoxy, polyester and filler cure hard and brittle. When what is under them
#   moves further than they can, they crack, and the crack runs up through everything above.
#   A promoter between makes them stick; it does not make them bend.
#
#   It looks like fine parallel cracks across a bumper corner, often after the first cold
#   day, or a crack along a seam. In the shop: bend a painted scrap of the same plastic
#   cold, round a broom handle.
# custom:
#   grade: risk
#   defect: "cracking"
#   remedy: "Use a filler and a primer that are made for plastic and stay flexible, or a flex additive where the data sheet has one. Copy flexible = true onto the card whose data sheet says so."
#   safety:
#     signal: WARNING
#     text: "Plastic repair products and flex additives often carry isocyanate. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "MIL-HDBK-1110 2.4.3, 11.4.1.10: rigid film over flexible checks and cracks (read)"
#   limits: []
#   needs:
#     - {in: contacts, upper_traits.flexible: false, lower_traits.plastic: true}
#     - {in: contacts, upper_traits.flexible: false, lower_traits.class: [promoter, seam]}
#     - {in: contacts, upper_traits.flexible: false, lower_traits.flexible: true}
package guidecoat.adhesion["stiff-on-flexible"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	stiff(c)
	not c.upper_traits.flexible
	not c.upper in softened
	ground := giving(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s is stiff, and %s beneath it gives", [c.upper_name, ground]),
		mend(c),
	)
}

stiff(c) if c.upper_traits.epoxy

stiff(c) if c.upper_kind in lib.fillers

stiff(c) if c.upper_kind == "polyester surfacer"

# Layers with flex additive in every cup that makes them.
softened := {m.layer | some m in input.mixes; m.additive_kind == "flex additive"} - {m.layer |
	some m in input.mixes
	m.additive_kind != "flex additive"
}

giving(c) := "the plastic" if {
	c.lower_traits.plastic
	bends(c.zone_facts)
	not lib.let_in(c)
}

# Through a promoter, which is too thin to bend or to hold anything back.
giving(c) := "the plastic" if {
	c.lower_traits.class == "promoter"
	bends(c.zone_facts)
	only_promoter(c)
	not "bare plastic" in object.get(input.cards, [c.upper_card, "goes_on"], [])
}

giving(c) := c.lower_name if {
	not c.lower_traits.plastic
	c.lower_traits.class != "promoter"
	yields(c)
	not lib.let_in(c)
}

yields(c) if c.lower_kind == "seam sealer"

yields(c) if c.lower_traits.flexible

bends(zone) if zone.olefin

bends(zone) if zone.plastic == "PUR"

only_promoter(c) if {
	every id in c.films {
		input.layers_by_id[id].traits.class in {"promoter", "substrate"}
	}
	c.substrate == "bare plastic"
}

mend(c) := [lib.set_key(c.step, "product_kind", ["plastic repair filler"])] if c.upper_kind in lib.fillers

mend(c) := [
	lib.set_key(c.step, "product_kind", ["urethane surfacer", "urethane sealer"]),
	lib.set_key(c.step, "additive", "flex additive"),
] if {
	not c.upper_kind in lib.fillers
}
