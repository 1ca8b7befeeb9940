# METADATA
# title: enamel or one-part primer lies straight on galvanized steel
# description: |
#   Zinc is alkaline, the opposite of acid. The oils and resins of enamel and most one-part primers
#   are a kind of fat, and alkali and fat make soap. At the zinc a thin layer of it forms, damp
#   after damp, and the film above slides off it. Scuffing does not help, because it is no matter of
#   grip. It looks fine for a season, then peels in sheets that are brittle, with a greasy or white
#   back. In the shop: a knife under an edge takes off a whole strip; the metal beneath is bright
#   and dry.
# custom:
#   grade: fails
#   defect: peeling in sheets (soap forms at the zinc)
#   remedy: Strip it to the zinc, scuff, degrease, and put epoxy between, or an acid primer whose card is made for zinc. Then the enamel may follow.
#   safety:
#     signal: CAUTION
#     text: Scuffing zinc makes dust that brings on fever; wear a respirator fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - "MIL-HDBK-1110 4.2.4 (read): galvanized steel is alkaline, and oil paints peel from it"
#     - "MIL-HDBK-1110 4.4.4.1 (read): epoxy and urethane over galvanized steel"
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts_on_metal, lower_traits.zinc: true, upper_kind: single-stage enamel}
#     - {in: contacts_on_metal, lower_traits.zinc: true, upper_traits.class: [primer, surfacer], upper_traits.two_part: false, upper_traits.acid: false}
package guidecoat.substrate["enamel-on-zinc"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_on_metal
	c.lower_traits.zinc
	makes_soap(c)
	c.card_says != "allows"
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s lies straight on %s", [c.upper_name, c.lower_name]),
		[lib.insert_before(c.step, s) |
			some s in lib.steps_around(c.zone, {
				"do": "spray",
				"product_kind": "epoxy primer",
				"then_wait": "2 h",
			})
		],
	)
}

makes_soap(c) if c.upper_kind == "single-stage enamel"

# A one-part primer or surfacer; acid primer is made for it.
makes_soap(c) if {
	c.upper_traits.class in {"primer", "surfacer"}
	not c.upper_traits.two_part
	not c.upper_traits.acid
}
