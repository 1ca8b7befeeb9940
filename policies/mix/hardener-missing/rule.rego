# METADATA
# title: a two-part product is mixed without its hardener
# description: |
#   A two-part film does not dry hard, it is built: base and hardener link up molecule by molecule.
#   The base alone only gives off its solvent. What is left feels dry after a while and stays
#   soft underneath for good; the next film dissolves it, and it never holds fuel, water or a
#   tape edge. It looks quite right on the day, then prints, wrinkles and peels. In the shop: the rest
#   in the cup must be a hard plug the next day; if it still pours, so does the panel's. It
#   mostly happens when a cup is topped up, or when a reducer is poured by the hardener's marks.
# custom:
#   grade: fails
#   defect: never cures
#   remedy: Write the mix as the data sheet gives it, hardener included. A film without hardener cannot be mended by painting over it or by heat; it is washed or stripped off down to sound film.
#   safety:
#     signal: WARNING
#     text: With the hardener comes its hazard, isocyanate or epoxy hardener in most; the protection goes with the mix and not with the base. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: mixes, two_part: true, written: [step, card], hardener_parts: false, paste: false}
#     - {in: mixes, two_part: true, hardener_parts: false, paste: true, traits.class: {not: filler}}
#     - {in: mixes, two_part: true, hardener_parts: false, paste: true, paste.hi: false}
#   covers:
#     - ratio-off-card
package guidecoat.mix["hardener-missing"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.mixes
	m.two_part
	m.written != "none"
	m.hardener_parts == 0
	not pasted(m)
	v := lib.verdict(
		lib.at_step(m),
		lib.plain("fails"),
		sprintf("%s is two-part, and %s %q has no hardener in it%s%s", [m.name, whose(m), mixed(m), by_weight(m), wanted(m)]),
		mixed_right(m),
	)
}

# A share of paste by weight hardens what peroxide hardens: fillers, putties, polyester.
pasted(m) if {
	m.paste.hi != 0
	takes_paste(m)
}

takes_paste(m) if m.traits.class == "filler"

takes_paste(m) if "peroxide" in m.traits.hazards

# What a share is taken for where nothing hardens by it.
by_weight(m) := ": a share by weight is the paste of a filler or putty" if strange(m)

by_weight(m) := "" if not strange(m)

strange(m) if {
	m.paste != null
	not takes_paste(m)
}

whose(m) := "the mix" if m.written == "step"

whose(m) := "its card's mix" if m.written == "card"

mixed(m) := m.step_mix if m.written == "step"

mixed(m) := m.card_mix if m.written == "card"

# What the card gives, where that is not the very mix at fault.
better(m) if {
	m.written == "step"
	m.card_mix != ""
	m.card_mix != m.step_mix
}

wanted(m) := sprintf("; its card gives %s", [m.card_mix]) if better(m)

wanted(m) := "" if not better(m)

mixed_right(m) := [lib.set_key(m.step, "mix", m.card_mix) | better(m)]
