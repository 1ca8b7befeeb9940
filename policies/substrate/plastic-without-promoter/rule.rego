# METADATA
# title: the first film on plastic is no promoter
# description: |
#   Soft bumper plastics (TPO, PP, PE, EPDM) are close kin to wax: their surface wants nothing to do
#   with paint, and scratches alone don't change that. A promoter is a very thin coat that swells
#   into the plastic and leaves live ends for the next film, for a few minutes only. Harder plastics
#   (ABS, PC, PUR, nylon, SMC) have some hold of their own and want a scratch instead. It looks
#   sound until a stone or a jet wash lifts it; then it comes off in sheets and the plastic below is
#   clean. In the shop: read the letters molded on the back; no letters, then a shaving that floats
#   on water is an olefin. Promoter that has stood past its time is laid again: scuffing it takes it off.
# custom:
#   grade: fails
#   defect: peeling
#   remedy: Find out which plastic it is. Clean it, scuff it, lay the promoter made for it and go over it inside its window; or use a primer whose card names this plastic. Past the window lay the promoter again.
#   safety:
#     signal: WARNING
#     text: Promoter is mostly solvent and burns; work in moving air with no flame near, and wear gloves, eye protection and a respirator fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts, lower_substrate: true, lower_traits.plastic: true, upper_traits.class: {not: promoter}}
#     - {in: contacts, lower_substrate: true, lower_kind: sheet molding compound, upper_traits.class: {not: promoter}}
#     - {in: contacts, lower_traits.class: promoter, substrate: bare plastic, abraded: true, recoat_most: past}
package guidecoat.substrate["plastic-without-promoter"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.lower_substrate
	is_plastic(c)
	c.upper_traits.class != "promoter"
	c.card_says != "allows"
	sort_of := sort(c)
	not holds_by_scratch(c, sort_of)
	v := lib.verdict(lib.at_contact(c), lib.plain(grades[sort_of]), message(c, sort_of), mend(c, sort_of))
}

# Promoter past its window and scuffed: so thin that the scuff has taken it off.
verdict contains v if {
	some c in input.contacts
	c.lower_traits.class == "promoter"
	c.upper_traits.class != "promoter"
	c.substrate == "bare plastic"
	c.abraded
	c.recoat_most != null
	sort_of := sort(c)
	sort_of != "engineering"
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged(grades[sort_of], c.recoat_most),
		sprintf("%s was scuffed %s after it was laid, past its %s, and %s goes on; past its window it is laid again%s", [
			c.lower_name,
			c.recoat_most.measured.text,
			c.recoat_most.limit.text,
			c.upper_name,
			lib.typical(c.recoat_most),
		]),
		promoter(c),
	)
}

grades := {"olefin": "fails", "unsaid": "risk", "engineering": "risk"}

is_plastic(c) if c.lower_traits.plastic

is_plastic(c) if c.lower_kind == "sheet molding compound"

sort(c) := "olefin" if {
	c.zone_facts.olefin
} else := "engineering" if {
	c.lower_kind == "sheet molding compound"
} else := "unsaid" if {
	c.zone_facts.plastic in {"unknown", ""}
} else := "engineering"

holds_by_scratch(c, "engineering") if c.abraded

# A sander or blast that took a finish off leaves a scratch too.
holds_by_scratch(c, "engineering") if {
	not c.abraded
	c.tooth.by in {"sander", "grinder", "grit blast"}
}

message(c, "olefin") := sprintf("%s goes straight on %s; this plastic takes no paint without a promoter", [c.upper_name, c.zone_facts.plastic])

message(c, "unsaid") := sprintf("%s goes straight on plastic, and the sheet does not say which plastic; an olefin takes no paint without a promoter", [c.upper_name])

message(c, "engineering") := sprintf("%s goes on %s that nothing abraded, with no promoter between", [c.upper_name, plastic(c)])

plastic(c) := c.lower_name if c.zone_facts.plastic in {"unknown", ""}

plastic(c) := sprintf("%s plastic", [c.zone_facts.plastic]) if not c.zone_facts.plastic in {"unknown", ""}

mend(c, sort_of) := promoter(c) if sort_of != "engineering"

mend(c, "engineering") := lib.abraded_before(c, {"do": "scuff", "pad": "very fine pad"})

promoter(c) := [lib.insert_before(c.step, s) |
	some s in lib.steps_around(c.zone, {"do": "spray", "product_kind": "adhesion promoter", "then_wait": "10 min"})
]
