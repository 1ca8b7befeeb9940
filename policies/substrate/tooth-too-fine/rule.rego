# METADATA
# title: the scratch on the metal is too fine
# description: |
#   A scratch has to be deep enough for the resin to run in and lock. On metal a primer or filler
#   wants more of it than paint wants on paint, because metal gives nothing back: no swelling, no
#   live ends. Fine paper leaves it almost polished. Acid primers etch a little and manage with
#   less; filler is stiff and shrinks, and needs the most. It looks sound on the day, then it lifts
#   at edges and chips, and whole flakes follow. In the shop: drag a fingernail across the metal; it
#   should catch and sound. Cut a grid into a test piece and pull tape off it: that shows what
#   holds.
# custom:
#   grade: risk
#   defect: peeling
#   remedy: Sand the metal again with the grade the data sheet gives. Without one take P80 to P180 on steel, and P36 to P80 there under filler. Take P180 to P320 on aluminum and P240 to P320 on zinc. Wipe it afterwards.
#   safety:
#     signal: CAUTION
#     text: Sanding metal makes dust that harms the lungs and eyes; wear what is fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - metal_steel_fine
#     - metal_steel_acid_fine
#     - metal_filler_fine
#     - metal_stainless_fine
#     - metal_aluminum_fine
#     - metal_galvanized_fine
#   needs:
#     - {in: contacts_on_metal, tooth.blast: false, tooth.fine_card: past}
#     - {in: contacts_on_metal, tooth.blast: false, tooth.fine_card: false, tooth.grit: true}
#     - {in: contacts_on_metal, tooth.blast: false, tooth.fine_card: false, tooth.finest: true}
package guidecoat.substrate["tooth-too-fine"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_on_metal
	c.upper_kind != "body solder"
	not c.tooth.blast
	c.tooth.fine_card != null
	grit := scratch(c.tooth)
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged("risk", c.tooth.fine_card),
		message(c, grit, c.tooth.fine_card.limit.text, ", as its card says"),
		lib.abraded_before(c, {"do": "sand", "grit": lib.metal_grit(c)}),
	)
}

verdict contains v if {
	some c in input.contacts_on_metal
	c.upper_kind != "body solder"
	not c.tooth.blast
	is_null(c.tooth.fine_card)
	grit := scratch(c.tooth)
	limit := lib.metal_fine(c)
	sure := lib.below(grit.microns, limit)
	not let_pass(c, grit, sure)
	v := lib.verdict(
		lib.at_contact(c),
		lib.measured_against("risk", sure, grit.microns, limit),
		message(c, grit, limit.text, ""),
		lib.abraded_before(c, {"do": "sand", "grit": lib.metal_grit(c)}),
	)
}

# The scratch that counts is the coarsest still there; where only pads were used, the pad.
scratch(t) := t.grit if t.grit != null

scratch(t) := t.finest if {
	t.grit == null
	t.finest != null
}

# On zinc a very fine pad is as good as the finest paper that will do.
let_pass(c, grit, sure) if {
	c.lower_traits.zinc
	grit.pad
	sure == "may"
}

message(c, grit, limit, says) := sprintf("%s goes on %s scratched with %s; it wants %s or coarser there%s", [
	c.upper_name,
	c.lower_name,
	grit.name,
	limit,
	says,
])
