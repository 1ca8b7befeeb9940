# METADATA
# title: a bake has shut the window of the film beneath
# description: |
#   The hours of a window are meant for a film that hardens at room heat. A bake does in half an hour what
#   else takes days: it uses up the free ends that the next film would tie onto, and the surface is a
#   closed plate, whatever the clock says. Lacquers and all else that the card gives no end for
#   are not meant. It looks like any missed window: paint that comes off in clean sheets at a chip, often
#   only on panels that went through the oven. In the shop: cut a grid and pull tape; try it on a
#   panel that was baked and one that was not.
# custom:
#   grade: risk
#   defect: peeling between coats
#   remedy: Scuff a baked film before the next one, edges too, and clean it; or lay the next film first and bake the two together, if both data sheets let you.
#   safety:
#     signal: CAUTION
#     text: Let a baked panel cool before it is touched or wiped; solvent on hot metal flashes into vapor that burns. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "MIL-HDBK-1110 11.4.2.3: epoxy or urethane cured too hard before the next coat delaminates (read)"
#   limits: []
#   needs:
#     - {in: contacts, gap_applies: true, baked: true, recoat_most: true, abraded_since_bake: false}
#     - {in: contacts, gap_applies: true, baked_perhaps: true, recoat_most: true, abraded_since_bake: false}
package guidecoat.clock["window-shut-by-heat"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.gap_applies
	judgement := shut(c)
	c.recoat_most != null
	not lib.broken(c.recoat_most)
	not c.abraded_since_bake
	not early(c)
	c.upper_kind != "cavity wax"
	v := lib.verdict(
		lib.at_contact(c),
		judgement,
		sprintf("%s goes on %s inside its window of %s, but step %d %s baked it hard, and nothing has abraded it since", [
			c.upper_name,
			c.lower_name,
			c.recoat_most.limit.text,
			c.bake_step,
			{"will": "has", "may": "may have"}[judgement.certainty],
		]),
		lib.scuffed(c),
	)
}

shut(c) := lib.plain("risk") if {
	c.baked
} else := lib.possible("risk") if {
	c.baked_perhaps
}

# A film that is not ready for the next one has not shut.
early(c) if {
	not c.baked_full
	lib.broken(c.recoat_least)
}
