# METADATA
# title: a bake falls short of its schedule, and a later step relies on it
# description: |
#   A bake stands in for days of hardening only if the panel itself has the heat, for the whole
#   time. Heavy metal takes long to come up; the half hour begins when the panel is hot and not when
#   the oven is on. A film baked short is hard on top and soft beneath. The next step treats it as
#   done: paper gums in it, tape prints, fresh solvent swells it. You see scratches that come back,
#   dull bands where tape lay, wrinkles at the edges. In the shop: a probe on the thickest part of
#   the panel, and the clock started when it reads the heat.
# custom:
#   grade: risk
#   defect: under-cure
#   remedy: Bake at the heat and for the time that the data sheet gives, counted at the panel. Or leave the bake out of it, and wait as long as an unbaked film needs.
#   safety:
#     signal: CAUTION
#     text: A half-baked film still gives off solvent and hardener; handle and sand it as an uncured one. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - bake_metal_typical
#     - bake_time_typical
#   needs:
#     - {in: bakes, films.hot_enough: past}
#     - {in: bakes, films.long_enough: past}
package guidecoat.clock["bake-too-short"]

import data.guidecoat.lib

verdict contains v if {
	some b in input.bakes
	some f in b.films
	f.relied_on
	s := short(f)
	v := lib.verdict(
		lib.at_baked(b, f),
		lib.judged("risk", s.compared),
		sprintf("%s is baked %s %s; it wants %s, and step %d comes as if it had had it%s", [
			f.name,
			s.how,
			s.compared.measured.text,
			s.compared.limit.text,
			f.relied_step,
			lib.typical(s.compared),
		]),
		[lib.set_key(b.step, s.key, s.compared.limit.text)],
	)
}

# The heat is spoken of first: without it the time counts for nothing.
short(f) := {"how": "at", "key": "metal", "compared": f.hot_enough} if {
	lib.broken(f.hot_enough) == "will"
} else := {"how": "for", "key": "for", "compared": f.long_enough} if {
	lib.broken(f.long_enough) == "will"
} else := {"how": "at", "key": "metal", "compared": f.hot_enough} if {
	lib.broken(f.hot_enough)
} else := {"how": "for", "key": "for", "compared": f.long_enough} if {
	lib.broken(f.long_enough)
}
