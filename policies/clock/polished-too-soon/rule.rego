# METADATA
# title: a film is polished before it is hard
# description: |
#   Polishing presses and warms the film. While solvent is still in it, the shine you rub up is rubbed on a
#   cushion: the film goes on shrinking afterwards, every fine mark of the compound opens again, and
#   the gloss dies back to a haze. A film that comes hot from the oven is soft as well, though it is cured;
#   it has to cool to the core first. You see swirls that come back, a gray look, edges burnt
#   through in a moment. In the shop: press a nail in a hidden spot, and work one hand's breadth
#   first; look at it again the next day.
# custom:
#   grade: risk
#   defect: dieback
#   remedy: Wait as the data sheet says, or bake to its schedule and let the panel cool for an hour. A film that died back is left to harden, then cut and polished again, if there is enough of it.
#   safety:
#     signal: CAUTION
#     text: Compound slings off the wheel, and dust of clear that is not cured holds hardener; wear eye protection and gloves. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - polish_after_bake
#   needs:
#     - {in: polishes, since_bake: past}
#     - {in: polishes, polish_after: past}
package guidecoat.clock["polished-too-soon"]

import data.guidecoat.lib

verdict contains v if {
	some p in input.polishes
	a := early(p)
	v := lib.verdict(
		lib.at_surface(p),
		lib.judged("risk", a.compared),
		sprintf("%s is polished %s after %s; it wants %s%s", [
			p.name,
			a.compared.measured.text,
			a.since,
			a.compared.limit.text,
			lib.typical(a.compared),
		]),
		a.mend,
	)
}

# What it is still hot from is spoken of before what it is still green from.
early(p) := {
	"compared": p.since_bake,
	"since": "its bake",
	"mend": [lib.set_key(n, "then_wait", p.since_bake.limit.text) | n := last_bake(p)],
} if {
	lib.broken(p.since_bake)
} else := {
	"compared": p.polish_after,
	"since": "it was laid",
	"mend": lib.waited(p.layer, p.polish_after.limit.text),
} if {
	lib.broken(p.polish_after)
}

last_bake(p) := max([b.step |
	some b in input.bakes
	b.step < p.step
	p.zone in b.zones
])
