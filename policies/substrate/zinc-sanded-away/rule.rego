# METADATA
# title: the zinc is sanded away and not made good
# description: |
#   Galvanized sheet is protected by a coat of zinc a few hundredths of a millimeter thick. The zinc
#   gives itself up so that the steel does not rust, also at scratches and edges. Coarse paper, a
#   grinder or a blast gun has it off in seconds, and what is left is plain steel in patches. Prime
#   it as if it were still zinc and it rusts there first. It looks like creep from the edge of the
#   repair while the rest of the panel stays sound. In the shop: a drop of copper sulfate turns
#   steel brown at once and zinc black; or look for the change from soft grey to bright silver.
# custom:
#   grade: risk
#   defect: rust creep
#   remedy: Scuff zinc with P180 to P320 or a very fine pad by hand. Where it is through, treat the place as mild steel, with epoxy, or with acid primer and surfacer over it.
#   safety:
#     signal: CAUTION
#     text: Zinc dust and fume bring on fever; wear a respirator fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - zinc_coarse
#   needs:
#     - {in: contacts_on_metal, lower_traits.zinc: true, stripped: false, zinc_cut: true}
#     - {in: contacts_on_metal, lower_traits.zinc: true, stripped: false, zinc_abraded: true}
package guidecoat.substrate["zinc-sanded-away"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_on_metal
	c.lower_traits.zinc
	not c.stripped
	gone := through(c)
	not made_good(c)
	v := lib.verdict(
		lib.at_contact(c),
		gone.judgement,
		sprintf("%s, and %s goes on it; what is under the zinc wants epoxy, or acid primer and a surfacer over it", [
			gone.words,
			c.upper_name,
		]),
		[lib.insert_before(c.step, s) |
			some s in lib.steps_around(c.zone, {
				"do": "spray",
				"product_kind": "epoxy primer",
				"then_wait": "2 h",
			})
		],
	)
}

through(c) := {
	"judgement": lib.plain("risk"),
	"words": sprintf("%s was ground or blasted", [c.lower_name]),
} if {
	c.zinc_cut
}

through(c) := {
	"judgement": lib.measured_against("risk", sure, c.zinc_abraded.microns, limit),
	"words": sprintf("%s was abraded with %s, coarser than %s", [c.lower_name, c.zinc_abraded.name, limit.text]),
} if {
	not c.zinc_cut
	c.zinc_abraded != null
	limit := input.limits.zinc_coarse.measure
	sure := lib.above(c.zinc_abraded.microns, limit)
}

# Primed as mild steel would be: epoxy, acid primer with a surfacer over it, or what its card lets on steel by itself.
made_good(c) if c.upper_traits.epoxy

made_good(c) if {
	c.upper_traits.acid
	some id in c.above
	surfaces(input.layers_by_id[id].traits)
}

made_good(c) if {
	not c.upper_traits.acid
	some metal in input.cards[c.upper_card].direct_to_metal
	metal in {"*", "mild steel"}
}

surfaces(t) if t.class == "surfacer"

surfaces(t) if t.epoxy
