# METADATA
# title: the only water barrier over steel is sanded thin
# description: |
#   Most primers let some water through; epoxy and the hard two-part films hold it out, if they are
#   thick enough. When the one film that does this job over bare steel is blocked down for the looks, the
#   water finds the thin places first: the crown of the panel, edges, lines. There it reaches steel
#   under good paint. You see blisters and rust worms that begin on the high spots, long after
#   the job. In the shop: gauge the primer before and after blocking, on the crown and not in the
#   hollow; where the metal's color grins through, it is gone.
# custom:
#   grade: risk
#   defect: rust under the film
#   remedy: Lay the barrier thicker before it is blocked, or block another film over it, or lay another coat of it after blocking.
#   safety:
#     signal: CAUTION
#     text: Dust of epoxy that is not cured through can make skin and lungs sensitive; wear gloves and a respirator fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - barrier_min
#   needs:
#     - {in: abrasions, barrier_left: past}
package guidecoat.film["barrier-sanded-thin"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	b := a.barrier_left
	b != null
	not again(a)
	v := lib.verdict(
		lib.at_surface(a),
		lib.judged("risk", b),
		sprintf("%s is the only film here that holds water off the steel, and the sanding leaves %s of it; %s is the least%s", [
			a.surface_name,
			b.measured.text,
			b.limit.text,
			lib.typical(b),
		]),
		lib.coated(a.layer),
	)
}

barriers := [{"zone": a.zone, "layer": a.layer, "step": a.step} |
	some a in input.abrasions
	a.barrier_left != null
]

# A later abrasion of the same film in the same zone leaves less, and speaks for both.
again(a) if {
	some b in barriers
	b.zone == a.zone
	b.layer == a.layer
	b.step > a.step
}
