# METADATA
# title: solder flux is left under a film
# description: |
#   Body solder is tinned with a flux that is acid and full of salts, so that it eats oxide while it
#   is hot. It boils into the seam and the pores of the solder and stays there. Under paint it draws
#   damp and gnaws at steel and film, slowly, from inside the seam. It looks like blisters in a row
#   along the solder, months later, with a salty or sour drop in them. In the shop: warm the seam
#   with a heat gun and watch for weeping; a pH strip on a damp rag shows acid. It takes three acts, each
#   for its own reason: neutralizer for the acid, water for the salts, cleaner for grease and tallow.
# custom:
#   grade: risk
#   defect: blisters at the seam
#   remedy: Before the first film or filler, neutralize the solder and rinse it with water. Dry it with heat at once, and wipe it with solvent cleaner.
#   safety:
#     signal: WARNING
#     text: Body solder may hold lead, and flux burns skin and eyes; never sand it with a power tool, and wash before eating. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts, solder: true}
package guidecoat.substrate["solder-flux-left"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.solder != null
	missing := lacking(c.solder)
	count(missing) > 0
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s goes on %s with no %s since", [c.upper_name, c.lower_name, concat(", no ", [m.do | some m in missing])]),
		[lib.insert_before(c.step, s) |
			some m in missing
			some s in lib.steps_around(c.zone, m)
		],
	)
}

lacking(s) := array.concat(
	array.concat(
		[{"do": "neutralize", "with_kind": "neutralizer"} | not s.neutralized],
		[lib.rinse | not s.rinsed],
	),
	[lib.wipe("wax and grease remover") |
		not s.cleaned
	],
)
