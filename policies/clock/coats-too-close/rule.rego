# METADATA
# title: coats follow each other too closely
# description: |
#   Each coat needs its flash: the time in which the first rush of solvent leaves and the surface goes
#   from wet to dull. Coats laid wet in wet add up to one thick layer that skins over on top; what is
#   caught below breaks out later through the skin, or stays and keeps the layer soft. Laying it
#   thinner does not make up for it, for the next coat's solvent soaks down into the last. You see
#   craters as fine as pins, above all on warm edges, sags, a gloss that goes milky. In the shop: touch
#   the masking paper beside the panel; when it is tacky and pulls no string, the coat has flashed.
# custom:
#   grade: fails
#   defect: solvent pop
#   remedy: Write the wait between coats as the data sheet gives it and keep to it, longer when it is cool or damp. Pops are left to harden, sanded out to sound film, and laid again.
#   safety:
#     signal: NOTICE
#     text: The rush of solvent in the flash is what burns and what is breathed; keep the exhaust on while you wait. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "MIL-HDBK-1110 11.4.2.4: trapped solvent gives blisters between coats (read)"
#   limits:
#     - flash_half
#   needs:
#     - {in: lays, between: past}
#     - {in: lays, coats: {over: 1}, between_written: false}
#     - {in: lays, joins: past}
#     - {in: lays, joins.open: true, joins_written: false}
package guidecoat.clock["coats-too-close"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.lays
	l.coats > 1
	l.between_written
	f := l.between
	f != null
	v := lib.verdict(
		lib.at_step(l),
		lib.judged(grade(f), f),
		sprintf("coats of %s follow each other after %s; they want %s to flash%s", [
			l.name,
			f.measured.text,
			f.limit.text,
			lib.typical(f),
		]),
		[lib.set_key(l.step, "between", f.limit.text)],
	)
}

verdict contains v if {
	some l in input.lays
	l.coats > 1
	not l.between_written
	v := lib.verdict(
		lib.at_step(l),
		lib.plain("risk"),
		sprintf("%d coats of %s are laid, and no step says how long to wait between them%s", [l.coats, l.name, wants(l)]),
		[lib.set_key(l.step, "between", text) | some text in flash(l)],
	)
}

verdict contains v if {
	some l in input.lays
	f := l.joins
	f != null
	v := lib.verdict(
		lib.at_step(l),
		lib.judged(grade(f), f),
		sprintf("%s goes on %s after its coat of step %d; it wants %s to flash%s", [
			l.name,
			f.measured.text,
			l.joins_step,
			f.limit.text,
			lib.typical(f),
		]),
		[lib.set_key(l.joins_step, "then_wait", f.limit.text)],
	)
}

# Two steps of one layer are two coats of it; a condition such as 'until matte' is a wait that is written.
verdict contains v if {
	some l in input.lays
	f := l.joins
	f != null
	f.open
	not l.joins_written
	v := lib.verdict(
		lib.at_step(l),
		lib.plain("risk"),
		sprintf("%s goes on over its coat of step %d, and no step says how long to wait between them%s", [
			l.name,
			l.joins_step,
			wants(l),
		]),
		[lib.set_key(l.joins_step, "then_wait", text) | some text in flash(l)],
	)
}

# Surely under half the flash fails; a threshold inside the row has no grace.
grade(f) := "fails" if {
	f.over.hi != null
	f.over.hi < input.limits.flash_half.measure.lo
} else := "risk"

# The flash as the card or else its kind writes it, as a list.
flash(l) := [text |
	facts := input.cards[l.card]
	text := object.get(facts.card, "flash", object.get(facts.typical, "flash", ""))
	text != ""
]

wants(l) := sprintf("; the flash is %s", [text]) if {
	some text in flash(l)
} else := ""
