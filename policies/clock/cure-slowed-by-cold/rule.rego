# METADATA
# title: the cold makes a wait that is long enough by the clock too short
# description: |
#   The times on a data sheet hold at its temperature, about that of a warm room. Each ten degrees
#   Celsius below it, drying and hardening take roughly twice as long: an hour in the warm is two in
#   the cool. Where the clock alone decides, the film is still soft inside when the next one shuts
#   it in, or paper or tape goes on. It is a rule of thumb, and data sheets that give times for
#   several temperatures go before it. You see what comes of any haste: pinholes, wrinkles, soft
#   film, scratches that come back, in winter and not in summer. In the shop: read the panel's
#   temperature, not the room's, and go by the thumbnail and not by the clock. Waterborne films dry
#   by air and damp, and are left out of it.
# custom:
#   grade: risk
#   defect: trapped solvent, soft film
#   remedy: Warm the panel to what the data sheet's times are for, or wait longer; half as long again some five degrees Celsius below it, twice as long ten below.
#   safety:
#     signal: CAUTION
#     text: A film that is late to dry is late to stop giving off solvent and hardener; keep the exhaust on and the protection with it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - "doubling per 10 °C, rule of thumb, x2-3 in several texts (read); factor at 20 °C reference: 15 °C 1.41, 10 °C 2.00 (calc)"
#     - common practice
#   limits:
#     - cold_factor
#   needs:
#     - {in: contacts, recoat_least_warm: past}
#     - {in: contacts, fill_slowed.compared: past}
#     - {in: abrasions, sand_slowed.compared: past}
#     - {in: abrasions, settling.slowed.compared: past}
#     - {in: polishes, polish_slowed.compared: past}
#     - {in: masks, tape_slowed.compared: past}
#     - {in: lays, between_slowed.compared: past}
#     - {in: lays, joins_slowed.compared: past}
package guidecoat.clock["cure-slowed-by-cold"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	s := waited(c)
	v := lib.verdict(
		lib.at_contact(c),
		judged(s.slowed),
		sprintf("%s goes on %s after %s; on a panel this cold that counts as %s, and it wants %s%s", [
			c.upper_name,
			c.lower_name,
			c.gap.text,
			s.slowed.compared.measured.text,
			s.slowed.compared.limit.text,
			lib.typical(s.slowed.compared),
		]),
		lib.waited(c.lower, s.slowed.enough.text),
	)
}

verdict contains v if {
	some a in input.abrasions
	s := aged(a)
	v := lib.verdict(
		lib.at_surface(a),
		judged(s),
		sprintf("%s is %s %s after it was laid; on a panel this cold that counts as %s, and it wants %s%s", [
			a.surface_name,
			lib.done[a.do],
			a.age.text,
			s.compared.measured.text,
			s.compared.limit.text,
			lib.typical(s.compared),
		]),
		lib.waited(a.layer, s.enough.text),
	)
}

verdict contains v if {
	some p in input.polishes
	late(p.polish_after, p.polish_slowed)
	v := lib.verdict(
		lib.at_surface(p),
		judged(p.polish_slowed),
		sprintf("%s is polished %s after it was laid; on a panel this cold that counts as %s, and it wants %s%s", [
			p.name,
			p.polish_after.measured.text,
			p.polish_slowed.compared.measured.text,
			p.polish_slowed.compared.limit.text,
			lib.typical(p.polish_slowed.compared),
		]),
		lib.waited(p.layer, p.polish_slowed.enough.text),
	)
}

verdict contains v if {
	some m in input.masks
	late(m.tape_after, m.tape_slowed)
	v := lib.verdict(
		lib.at_surface(m),
		judged(m.tape_slowed),
		sprintf("tape goes on %s %s after it was laid; on a panel this cold that counts as %s, and it wants %s%s", [
			m.name,
			m.tape_after.measured.text,
			m.tape_slowed.compared.measured.text,
			m.tape_slowed.compared.limit.text,
			lib.typical(m.tape_slowed.compared),
		]),
		lib.waited(m.layer, m.tape_slowed.enough.text),
	)
}

verdict contains v if {
	some l in input.lays
	f := flashed(l)
	some c in lib.laid(l)
	v := lib.verdict(
		lib.at_laying(l, c),
		judged(f.slowed),
		sprintf("coats of %s follow each other after %s; on a panel this cold that counts as %s, and they want %s to flash%s", [
			l.name,
			f.written.measured.text,
			f.slowed.compared.measured.text,
			f.slowed.compared.limit.text,
			lib.typical(f.slowed.compared),
		]),
		longer_flash(l, f.slowed.enough.text),
	)
}

# late: long enough by the clock, and not as the cold counts it.
late(written, slowed) if {
	slowed != null
	not lib.broken(written)
	lib.broken(slowed.compared)
	lib.above(slowed.factor, input.limits.cold_factor.measure)
}

# A window first, then the wait before filler.
waited(c) := {"slowed": {"compared": c.recoat_least_warm, "factor": c.factor, "enough": c.recoat_enough}} if {
	c.gap_applies
	not c.baked_full
	not c.lower_traits.waterborne
	c.recoat_least_warm != null
	late(c.recoat_least, {"compared": c.recoat_least_warm, "factor": c.factor})
} else := {"slowed": c.fill_slowed} if {
	c.gap_applies
	not c.baked_full
	late(c.fill_after, c.fill_slowed)
}

# What may be sanded at all first, then what has settled.
aged(a) := a.sand_slowed if {
	not a.sand_after_baked
	a.surface_traits.sandable
	late(a.sand_after, a.sand_slowed)
} else := a.settling.slowed if {
	a.last
	not a.settling.baked
	late(a.settling.age, a.settling.slowed)
}

flashed(l) := {"written": l.between, "slowed": l.between_slowed} if {
	l.between_written
	late(l.between, l.between_slowed)
} else := {"written": l.joins, "slowed": l.joins_slowed} if {
	late(l.joins, l.joins_slowed)
}

longer_flash(l, text) := [lib.set_key(l.step, "between", text)] if {
	l.between_written
	late(l.between, l.between_slowed)
} else := [lib.set_key(n, "then_wait", text) | n := l.joins_step]

# Sure only where the wait is surely short and the cold surely slows it so much.
judged(s) := object.union(lib.judged("risk", s.compared), {"certainty": certainty(s)})

certainty(s) := "will" if {
	lib.certainty(s.compared) == "will"
	lib.above(s.factor, input.limits.cold_factor.measure) == "will"
} else := "may"
