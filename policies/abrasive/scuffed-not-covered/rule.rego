# METADATA
# title: "a scuffed place is left as it is"
# description: |
#   A sheet ends, and somewhere color or clear still has the scratch that was put there for
#   the next coat. A blend that faded out short of the scuffing does that, or masking pulled
#   a hand too far back. A scratch finer than about P1500 polishes out; a coarser one, or a
#   pad, has cut the skin that keeps weather out, and dirt and sun get to work on it.
#
#   It looks like a dull ring round the repair, and an edge of clear that starts to lift
#   along it. In the shop: wipe the masking line with cleaner and look along it against a
#   lamp; matt is unfinished.
# custom:
#   grade: fails
#   defect: "dull ring, peeling edge"
#   remedy: "Carry the clear over everything that was scuffed; where only a fine scratch is left, refine it to P1500 or finer and polish it."
#   safety:
#     signal: WARNING
#     text: "Two-part clear carries isocyanate: supplied air and covered skin when it is sprayed. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - scuff_left
#   needs:
#     - {in: endings, scratch: true}
package guidecoat.abrasive["scuffed-not-covered"]

import data.guidecoat.lib

verdict contains v if {
	input.sheet.ends_as == "finished"
	some e in input.endings
	e.scratch != null
	shows(e)
	judgement := judged(e)
	v := lib.verdict(
		object.union(lib.at_surface(e), {"step": e.scratch_step, "place": places[e.scratch_step]}),
		judgement,
		sprintf("%s is left scratched with %s, and neither film nor polish follows", [e.name, e.scratch.name]),
		array.concat(
			[lib.insert_after(e.scratch_step, s) |
				not e.scratch.pad
				some s in lib.steps_at(e.zone, {"do": "polish"})
			],
			[lib.insert_after(e.scratch_step, s) |
				some s in lib.steps_at(e.zone, {"do": "spray", "product_kind": ["urethane clear", "one-part clear"]})
			],
		),
	)
}

places := {s.n: s.place | some s in input.steps}

# Color and clear, laid here or there before.
shows(e) if e.traits.class in {"color", "clear"}

shows(e) if e.kind in {
	"factory finish", "two-part refinish", "aged enamel", "aged lacquer", "powder coat", "gelcoat", "unknown finish",
}

judged(e) := lib.plain("fails") if e.scratch.pad

judged(e) := lib.measured_against("fails", sure, e.scratch.microns, limit) if {
	not e.scratch.pad
	limit := input.limits.scuff_left.measure
	sure := lib.above(e.scratch.microns, limit)
}
