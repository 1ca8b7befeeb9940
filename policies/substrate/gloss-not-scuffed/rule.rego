# METADATA
# title: a film goes on an old glossy finish that nothing scuffed
# description: |
#   A finish that came with the part has cured long ago. Its surface is closed: no live ends, no
#   solvent left, nothing for a new film to tie onto but scratches. E-coat and factory primer look
#   dull enough to pass, yet they were baked harder than anything the shop can bake. New paint lies
#   on them as on glass. It looks right until masking tape, a chip or a door edge lifts it. Then it
#   comes off clean, with the old gloss printed on its back. In the shop: after scuffing, hold a
#   lamp low; every shiny freckle, corner and edge is a place where it will start.
# custom:
#   grade: fails
#   defect: peeling
#   remedy: Scuff all of it, edges and recesses too, with a grade the new film's data sheet gives, until no gloss is left; wipe it and then lay the film. A product that is made to go on unsanded says so on its card.
#   safety:
#     signal: CAUTION
#     text: Dust of old paint may hold lead or chromate; find out before sanding, and wear a respirator fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts, lower_existing: true, abraded: false}
package guidecoat.substrate["gloss-not-scuffed"]

import data.guidecoat.lib

glossy := {
	"factory finish", "factory primer", "two-part refinish", "aged enamel", "powder coat", "e-coat",
}

# Existing finishes that other rules speak for.
others := {"gelcoat", "underbody coating", "aged lacquer", "unknown finish"}

verdict contains v if {
	some c in input.contacts
	c.lower_existing
	closed(c)
	not c.abraded
	c.card_says != "allows"
	c.upper_kind != "cavity wax"
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s goes on %s that nothing abraded", [c.upper_name, c.lower_name]),
		lib.abraded_before(c, scuff(c)),
	)
}

closed(c) if c.lower_kind in glossy

# Any other film that was there when the sheet began is past its window, where it has one that shuts.
closed(c) if {
	not c.lower_kind in glossy
	not c.lower_kind in others
	c.lower_traits.class in {"primer", "surfacer", "promoter", "sealer", "color", "clear", "coating"}
	not c.lower_traits.lacquer
	not c.lower_traits.pore
}

scuff(c) := {"do": "sand", "grit": "P180"} if c.upper_kind in lib.fillers

scuff(c) := {"do": "scuff", "pad": "very fine pad"} if c.upper_traits.class in {"color", "clear"}

scuff(c) := {"do": "scuff", "pad": "fine pad"} if {
	not c.upper_kind in lib.fillers
	not c.upper_traits.class in {"color", "clear"}
}
