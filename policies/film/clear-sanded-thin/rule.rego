# METADATA
# title: the clear is cut too thin by sanding and polishing
# description: |
#   Clear carries what shields the color from the sun, and carries it in its thickness. Every cut for
#   a flat finish spends some, and each polish after that spends more, this one and those of the
#   owner. Under about two mil the shield runs out early; under one the sun reaches the base, the base
#   turns to powder there, and the clear lets go of it. You see white dull islands on roof and hood
#   in a few summers, then flakes. In the shop: know the film before you cut; a gauge over
#   metal shows the whole stack, so write down what it was before the clear.
# custom:
#   grade: fails
#   defect: early dulling, peeling
#   remedy: Lay one or two more coats of clear when it is to be cut flat, or cut finer and less. Clear that is cut too thin is scuffed all over and cleared again.
#   safety:
#     signal: CAUTION
#     text: Sanding and polishing throw dust and slurry of clear that may still hold hardener; wear gloves and eye protection. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - clear_min
#     - clear_least
#   needs:
#     - {in: abrasions, clear_left_low: past}
#     - {in: abrasions, clear_left_bad: past}
#     - {in: polishes, clear_left_low: past}
#     - {in: polishes, clear_left_bad: past}
package guidecoat.film["clear-sanded-thin"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	c := thin(a)
	v := lib.verdict(
		lib.at_surface(a),
		lib.judged(c.grade, c.film),
		sprintf("sanding leaves %s of %s; %s is the least that lasts%s", [
			c.film.measured.text,
			a.surface_name,
			a.clear_left_low.limit.text,
			lib.typical(c.film),
		]),
		lib.coated(a.layer),
	)
}

verdict contains v if {
	some p in input.polishes
	c := thin(p)
	v := lib.verdict(
		lib.at_surface(p),
		lib.judged(c.grade, c.film),
		sprintf("polishing leaves %s of %s; %s is the least that lasts%s", [
			c.film.measured.text,
			p.name,
			p.clear_left_low.limit.text,
			lib.typical(c.film),
		]),
		lib.coated(p.layer),
	)
}

# Surely under what has any life left; else under what lasts.
thin(x) := {"grade": "fails", "film": x.clear_left_bad} if {
	lib.broken(x.clear_left_bad) == "will"
} else := {"grade": "risk", "film": x.clear_left_low} if {
	lib.broken(x.clear_left_low)
}
