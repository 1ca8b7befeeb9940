# METADATA
# title: the sanding may go through the film, and the sheet does not say so
# description: |
#   Every abrasive takes film off with each pass, and most at edges and high spots. When what
#   the paper takes is about as much as is there, it will be through in places, and what lies
#   beneath is bare there: filler that drinks, steel that rusts, old paint that lifts. A sheet that
#   says 'cut to' there can seal the spot; a sheet that is silent paints right over it. You see
#   rings and dull spots along body lines, rust freckles at edges. In the shop: watch for
#   a change of color under the paper, and stop there; a gauge before and after tells what a pass takes.
# custom:
#   grade: risk
#   defect: bare spots that nobody planned
#   remedy: Lay enough film to sand, or use a finer paper or fewer passes. Else write what the sanding cuts to, and treat that place as bare before anything goes over it.
#   safety:
#     signal: CAUTION
#     text: Sanding through reaches what lies beneath, and that may be old paint with lead or chromate in it; have it tested first. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: abrasions, through_middle: true, cuts_written: false}
package guidecoat.film["sanded-through-unsaid"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	not a.cuts_written
	t := a.through_middle
	t != null
	reaches(t)
	v := lib.verdict(
		lib.at_surface(a),
		{
			"grade": "risk",
			"certainty": certainty(t),
			"leaned": t.leaned,
			"measured": a.removed.shown,
			"limit": a.left_before.shown,
		},
		sprintf("%s takes off %s of %s, which has %s left: it goes through in places, and no step says to what%s", [
			how(a),
			a.removed.text,
			a.surface_name,
			a.left_before.text,
			lib.typical(t),
		]),
		[],
	)
}

# What is taken off reaches what is left: as much is enough.
reaches(t) if {
	not t.open
	t.over.lo >= 1
}

certainty(t) := "will" if count(t.leaned) == 0

certainty(t) := "may" if count(t.leaned) > 0

how(a) := acts[a.do] if a.grit.name == ""

how(a) := sprintf("%s with %s", [acts[a.do], a.grit.name]) if a.grit.name != ""

acts := {"sand": "sanding", "block": "blocking", "scuff": "scuffing"}
