# METADATA
# title: "sanding dust is left under the film"
# description: |
#   Sanding leaves powder in every scratch, where a film wants to get its hold. Paint wets
#   the powder instead of the surface, lifts part of it, and carries it along as seeds.
#   Under color the smallest grain shows. A wipe takes the oil and the fine dust, a tack
#   cloth the lint that the wipe leaves behind: before color each does what the other does
#   not.
#
#   It looks like grit you can feel in the dry film, and paint that peels with powder on its
#   back. In the shop: a clean dark rag over the sanded panel; what it picks up would be in
#   the paint.
# custom:
#   grade: risk
#   defect: "seeds, poor bond"
#   remedy: "Blow it off, wipe it with cleaner and a dry second rag, and before color tack it as well, all after the last sanding."
#   safety:
#     signal: CAUTION
#     text: "Blowing sets dust loose in the air: a fit respirator, and not beside someone who has none. Cleaner is flammable. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts, dust.abraded: true, dust.cleaned: false, lower_traits.metal: false}
#     - {in: contacts, dust.abraded: true, dust.tacked: false, upper_traits.class: color, lower_traits.metal: false}
package guidecoat.abrasive["dust-left-under-film"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.dust.abraded
	not c.lower_traits.metal
	[judgement, words] := found(c)
	v := lib.verdict(
		lib.at_contact(c),
		judgement,
		sprintf("%s goes over %s abraded at step %d, %s", [c.upper_name, c.lower_name, c.dust.step, words]),
		mend(c),
	)
}

found(c) := [lib.plain("risk"), "with no clean, tack or blow-off since"] if not dusted(c)

found(c) := [lib.plain("advice"), words(c)] if {
	dusted(c)
	c.upper_traits.class == "color"
	words(c)
}

dusted(c) if c.dust.cleaned

dusted(c) if c.dust.tacked

dusted(c) if c.dust.blown_off

words(c) := "cleaned since but not tacked" if {
	c.dust.cleaned
	not c.dust.tacked
}

words(c) := "tacked since but not cleaned" if {
	not c.dust.cleaned
	c.dust.tacked
}

words(c) := "blown off since but neither cleaned nor tacked" if {
	not c.dust.cleaned
	not c.dust.tacked
}

# What is missing: dust off a pore without solvent, a wipe elsewhere, the tack cloth where only that is left.
mend(c) := [lib.insert_before(c.step, s) | some s in lib.steps_around(c.zone, {"do": "blow_off"})] if {
	c.lower_pore
	not dusted(c)
}

mend(c) := lib.wiped_before(c, "wax and grease remover") if {
	not c.lower_pore
	not c.dust.cleaned
}

mend(c) := lib.wiped_before(c, "wax and grease remover") if {
	c.lower_pore
	dusted(c)
	not c.dust.cleaned
}

mend(c) := [lib.insert_before(c.step, s) | some s in lib.steps_around(c.zone, {"do": "tack"})] if c.dust.cleaned
