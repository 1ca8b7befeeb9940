# METADATA
# title: nobody has proven that the old finish holds
# description: |
#   A new film is only as good as what it lies on, and it pulls. Every coat shrinks as it cures and
#   tugs at the layer below; its solvent soaks in and loosens what was barely holding. An old finish
#   of unknown make may be lacquer that dissolves again, enamel that swells, or a repaint that never
#   stuck. It looks like wrinkles and crow's feet within minutes, or like flakes that take the old
#   paint with them in a year. In the shop: cut a lattice and pull tape off it; then hold a rag wet
#   with thinner on the spot for two minutes. Color on the rag or a soft spot means that solvent
#   will lift it; epoxy and water-borne films are milder and ask for less proof.
# custom:
#   grade: risk
#   defect: lifting
#   remedy: Test adhesion, and solvent resistance before two-part or solvent-rich films; write both down as an inspect step. If either fails, strip it.
#   safety:
#     signal: WARNING
#     text: Old paint may hold lead or chromate; test before you cut or sand it. Thinner on a rag burns. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - "MIL-HDBK-1110 2.4 and 2.4.2 (read): strong solvents lift solvent-soluble old paint; test by solvent rub"
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts, lower_existing: true, lower_kind: unknown finish}
#     - {in: contacts, lower_existing: true, lower_condition: [unknown, peeling]}
package guidecoat.substrate["old-finish-not-proven"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.lower_existing
	doubtful(c)
	missing := [m | some m in needed(c); not m in c.inspected]
	count(missing) > 0
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s goes on %s%s with no inspect of %s before it", [
			c.upper_name,
			c.lower_name,
			state(c),
			concat(" and ", missing),
		]),
		[lib.insert_before(c.step, s) |
			some s in lib.steps_around(c.zone, {"do": "inspect", "measure": missing})
		],
	)
}

doubtful(c) if c.lower_kind == "unknown finish"

doubtful(c) if {
	c.lower_kind != "unknown finish"
	c.lower_condition in {"unknown", "peeling"}
}

# What has to be proven: adhesion always; solvent resistance before what carries strong solvent.
needed(c) := ["adhesion", "solvent rub"] if strong(c.upper_traits)

needed(c) := ["adhesion"] if not strong(c.upper_traits)

strong(t) if {
	not t.epoxy
	t.two_part
}

strong(t) if {
	not t.epoxy
	t.solvent
}

state(c) := " of unknown condition" if c.lower_condition == "unknown"

state(c) := " that is peeling" if c.lower_condition == "peeling"

state(c) := "" if not c.lower_condition in {"unknown", "peeling"}
