# METADATA
# title: bare steel is sanded wet
# description: |
#   Wet paper on bare steel does two things at once: it opens fresh metal, and it floods it. Fresh
#   scratches are the most eager place there is for rust, and the sludge holds water in the bottom
#   of each one. The same happens when wet paper goes through the primer at an edge, where nobody
#   looks. It looks like a tan or orange haze in the scratch pattern, and later like rust lines and
#   blisters along edges and high spots. In the shop: after wet work look along every edge and
#   crown under a lamp; metal that is not bright silver has begun to rust.
# custom:
#   grade: fails
#   defect: flash rust
#   remedy: Sand steel dry. Where wet paper has reached metal, dry the place, and sand it dry with P180 or coarser until it is bright. Wipe it with solvent cleaner, and prime it in the same shift.
#   safety:
#     signal: CAUTION
#     text: Dry sanding makes dust that harms the lungs, and a power sander with water near can shock. Wear a respirator fit for the dust. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - dry_abrasive
#   needs:
#     - {in: abrasions, wet: true, bare_steel: true, dry_again: false}
#   covers:
#     - water-on-bare-steel
package guidecoat.substrate["wet-sanding-bare-steel"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	a.wet
	a.bare_steel
	not a.dry_again
	v := lib.verdict(
		lib.at_surface(a),
		lib.plain("fails"),
		sprintf("%s%s, and it is not sanded dry (%s or coarser) before the next film", [
			act(a),
			a.surface_name,
			input.limits.dry_abrasive.measure.text,
		]),
		mend(a),
	)
}

act(a) := "wet abrasive cuts through to bare " if a.cut

act(a) := "wet abrasive works on bare " if not a.cut

mend(a) := array.concat(
	[lib.set_key(a.step, "wet", false)],
	[lib.insert_after(a.step, s) |
		some s in lib.steps_at(a.zone, {"do": "sand", "grit": input.limits.dry_abrasive.measure.text})
	],
)
