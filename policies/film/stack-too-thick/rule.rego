# METADATA
# title: too much paint lies on one place
# description: |
#   Every film shrinks a little for as long as it lives, and swells and shrinks with the
#   weather. The more of it, the harder it pulls. Old paint kept under a new stack
#   counts: it is the weakest page of the book. It looks deep and fine at first; after a
#   winter come cracks, often in straight lines or like a dried pond, and stones knock
#   out plates down to the metal. Lacquers crack sooner than two-part films. In the
#   shop: put the gauge on the old finish before you decide to keep it.
# custom:
#   grade: risk
#   defect: "cracking, chipping"
#   remedy: "Take old films off before building new ones, block the surfacer back, and lay no more coats than each data sheet asks for."
#   safety:
#     signal: CAUTION
#     text: "Old films may hold lead or chromate: test before sanding or stripping. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - stack_max
#     - lacquer_max
package guidecoat.film["stack-too-thick"]

import data.guidecoat.lib

verdict contains v if {
	some t in input.totals
	c := t.stack_max
	c != null
	v := lib.verdict(
		lib.at_surface(t),
		lib.judged("risk", c),
		sprintf("the paint adds up to %s at the end; over %s it cracks%s", [c.measured.text, c.limit.text, lib.typical(c)]),
		[],
	)
}

verdict contains v if {
	some t in input.totals
	not over_all(t)
	c := t.lacquer_max
	c != null
	v := lib.verdict(
		lib.at_surface(t),
		lib.judged("risk", c),
		sprintf("the lacquers add up to %s at the end; over %s they crack%s", [c.measured.text, c.limit.text, lib.typical(c)]),
		[],
	)
}

over_all(t) if {
	t.stack_max != null
	lib.broken(t.stack_max)
}
