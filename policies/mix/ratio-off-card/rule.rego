# METADATA
# title: the mix is off the card's ratio
# description: |
#   The ratio is a head count: so many hooks in the base for so many eyes in the hardener. With too
#   little hardener, hooks are left over and the film stays soft and soaks up solvent. With too
#   much, loose hardener stays in the film and goes on working for weeks with the damp of the air.
#   The film turns brittle, yellow or cloudy. More hardener does not make it faster and better.
#   Filler goes by the same law: lean paste stays gummy, and a fat dose bleeds through as a stain
#   under light colors. You see soft tacky spots, cracks at edges, yellow halos. In the shop: mix by
#   a stick or scale, never by eye, and keep the rest of the cup to look at the next day.
# custom:
#   grade: fails
#   defect: no cure, brittle or soft film
#   remedy: Mix as the data sheet gives it, by volume or by weight as it says, and not the one for the other. A film mixed wrong is taken off; a coat over it only hides it.
#   safety:
#     signal: WARNING
#     text: Hardener that found no partner stays free in the film, and sanding sets it loose; skin and lungs can become sensitive to it for life. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - ratio_tolerance
#     - paste_low
#     - paste_high
#   needs:
#     - {in: mixes, ratio_off: past}
#     - {in: mixes, paste_low: past}
#     - {in: mixes, paste_high: past}
package guidecoat.mix["ratio-off-card"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.mixes
	r := m.ratio_off
	r != null
	v := lib.verdict(
		lib.at_step(m),
		lib.judged("fails", r),
		sprintf("%s is mixed %s where its card gives %s: the hardener is %s off, and %s is let pass", [
			m.name,
			m.step_mix,
			m.card_mix,
			r.measured.text,
			r.limit.text,
		]),
		[lib.set_key(m.step, "mix", m.card_mix)],
	)
}

verdict contains v if {
	some m in input.mixes
	p := lib.worse([m.paste_low, m.paste_high])
	v := lib.verdict(
		lib.at_step(m),
		lib.judged("risk", p),
		sprintf("%s gets %s of paste hardener by weight; it wants %s to %s", [
			m.name,
			p.measured.text,
			m.paste_low.limit.text,
			m.paste_high.limit.text,
		]),
		[lib.set_key(m.step, "mix", usual(m))],
	)
}

# What the card gives, where the step strayed from it; else the middle of the road.
usual(m) := m.card_mix if strayed(m)

usual(m) := "2 %" if not strayed(m)

strayed(m) if {
	m.written == "step"
	m.card_mix != ""
	m.card_mix != m.step_mix
}
