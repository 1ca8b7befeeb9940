# METADATA
# title: the film goes on before the cleaner has left
# description: |
#   Cleaner that has not left is solvent or water in the wrong place. On a tight surface it sits as
#   a thin film in scratches and edges; in a porous one it sits deep, and takes many times as long
#   to come up. Paint shuts it in. It then pushes out through the new film as bubbles, or stays and
#   keeps the film soft, so that it sinks for weeks. It looks like pinholes and tiny craters in the
#   first hour, or dull sunken areas over filler later. In the shop: hold the back of a hand close;
#   a cool place is still giving off cleaner. Wipe dry with a second rag and you have most of it gone.
# custom:
#   grade: risk
#   defect: solvent pop, sinking
#   remedy: Wipe dry with a clean rag and wait. On a tight surface, solvent needs five minutes and water-borne cleaner a quarter of an hour. On a porous one solvent needs half an hour, and longer in the cold.
#   safety:
#     signal: WARNING
#     text: Cleaner vapor burns and can reach a flame across the room; let it leave, with the air moving, before spraying. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - porous_dry_out
#     - solvent_flash
#     - water_flash
#   needs:
#     - {in: contacts, all_wipes: true}
package guidecoat.porosity["cleaner-not-flashed"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	wet := [{"wipe": w, "limit": limit, "sure": sure} |
		some w in c.all_wipes
		limit := leaves(c, w)
		sure := lib.below(w.age, limit)
	]
	count(wet) > 0
	last := array.reverse(wet)[0]
	v := lib.verdict(
		lib.at_contact(c),
		lib.measured_against("risk", last.sure, last.wipe.age, last.limit),
		sprintf("%s goes on %s %s after the wipe with %s in step %d; that wants %s%s", [
			c.upper_name,
			c.lower_name,
			last.wipe.age.text,
			last.wipe.agent,
			last.wipe.step,
			last.limit.text,
			porous(c),
		]),
		[lib.set_key(last.wipe.step, "then_wait", last.limit.text)],
	)
}

leaves(c, w) := input.limits.porous_dry_out.measure if {
	w.solvent
	c.lower_pore
}

leaves(c, w) := input.limits.solvent_flash.measure if {
	w.solvent
	not c.lower_pore
}

leaves(c, w) := input.limits.water_flash.measure if {
	w.kind == "waterborne cleaner"
	not c.lower_pore
}

porous(c) := " on a porous surface" if c.lower_pore

porous(c) := "" if not c.lower_pore
