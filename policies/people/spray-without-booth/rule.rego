# METADATA
# title: paint is sprayed outside a booth
# description: |
#   A gun fills the air with a cloud of solvent and fine paint. Where nothing draws it
#   off, it gathers at the floor, drifts to the next bay and waits for a spark: a
#   grinder, a heater, a switch. The same cloud is what everyone nearby breathes. It
#   looks like a haze under the lights and dust on every car in the room. In the shop:
#   hold a strip of masking paper at the booth filter; if the fan does not pull it, do
#   not spray. Sparks from grinding or welding glow on in corners and rags, so the place
#   needs an hour of quiet before a gun comes out.
# custom:
#   grade: fails
#   defect: "fire, exposure"
#   remedy: "Spray in the booth, or in a prep bay with its extraction running. Keep grinding and welding out of that place for at least an hour before."
#   safety:
#     signal: DANGER
#     text: "A flame or spark in a spray cloud can kill. No sparks, no heaters, no smoking; extraction on. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "40 CFR 63 subpart HHHHHH: a booth for every coat, primer too (second)"
#     - "29 CFR 1910.107(b)(5)(i), per OSHA letter of 22 Oct 2001 (read)"
#     - "common practice for the hour after metalwork"
#   limits:
#     - metalwork_clear
#   needs:
#     - {in: lays, do: spray, where: {not: [booth, prep bay]}}
#     - {in: lays, do: spray, metalwork_near: past}
package guidecoat.people["spray-without-booth"]

import data.guidecoat.lib

extracted := {"booth", "prep bay"}

dangerous := {m.id | some m in input.mixes; m.flammable} | {m.id | some m in input.mixes; m.isocyanate}

verdict contains v if {
	some l in input.lays
	l.do == "spray"
	l.mix in dangerous
	not l.where in extracted
	v := lib.verdict(
		lib.at_step(l),
		lib.plain("fails"),
		sprintf("%s is sprayed in the place called %s, which is neither a booth nor a prep bay", [l.name, l.where]),
		[lib.set_key(l.step, "where", "booth")],
	)
}

verdict contains v if {
	some l in input.lays
	l.do == "spray"
	l.mix in dangerous
	l.where in extracted
	c := l.metalwork_near
	c != null
	v := lib.verdict(
		lib.at_step(l),
		lib.judged("fails", c),
		sprintf("%s is sprayed %s after metalwork in the same %s; sparks need %s to die", [l.name, c.measured.text, l.where, c.limit.text]),
		[lib.insert_before(l.step, {"do": "wait", "for": c.limit.text})],
	)
}
