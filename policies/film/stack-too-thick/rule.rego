# METADATA
# title: the paint on one place is too thick altogether
# description: |
#   Metal and paint grow and shrink with the weather, the paint several times as much. A thin film
#   goes along with it; a thick one pulls against itself and its ground, and gives way by cracking. A
#   stone also knocks a bigger chip out of it. Lacquer is worse, for it never cures and goes on
#   shrinking: old lacquer built up coat on coat checks into fine squares. You see lines that
#   run like a dry creek bed, chips with steep sides, edges that lift. In the shop: run a film gauge over
#   the panel before the first step, old paint counts; what it shows is where the sheet begins and
#   not nothing.
# custom:
#   grade: risk
#   defect: cracking, chipping
#   remedy: Take off old paint before more goes on, feather it or strip the place, and keep the new films in their ranges. Cracked paint is stripped; painting over a crack only hides it until the next frost.
#   safety:
#     signal: CAUTION
#     text: Old paint that is sanded or stripped may hold lead or chromate; have it tested first. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "MIL-HDBK-1110 2.4.3, 11.4.1.10: rigid film over flexible cracks (read); the same of thick films from memory"
#   limits:
#     - stack_max
#     - lacquer_max
#   needs:
#     - {in: totals, stack_max: past}
#     - {in: totals, lacquer_max: past}
package guidecoat.film["stack-too-thick"]

import data.guidecoat.lib

verdict contains v if {
	some t in input.totals
	s := too_thick(t)
	v := lib.verdict(
		lib.at_surface(t),
		lib.judged("risk", s.film),
		sprintf("%s carries %s of %s in the end; %s is the most%s", [
			t.zone,
			s.film.measured.text,
			s.what,
			s.film.limit.text,
			lib.typical(s.film),
		]),
		[],
	)
}

too_thick(t) := {"what": "paint", "film": t.stack_max} if {
	lib.broken(t.stack_max)
} else := {"what": "lacquer", "film": t.lacquer_max} if {
	lib.broken(t.lacquer_max)
}
