# METADATA
# title: a film goes on before the one beneath is ready
# description: |
#   A film dries from the top down. When the next one closes it in too early, solvent is still on
#   its way out below. It pushes through the skin and leaves holes, or it stays inside and keeps
#   both films soft. The fresh solvent from above can also swell a film that is only half dry, and
#   then it crawls up into folds. You see craters the size of a pin, wrinkles, or a gloss that
#   goes dull within weeks. In the shop: under a loupe each hole has a raised ring, and days later
#   a thumbnail still leaves a mark in the paint. A bake to the schedule drives the solvent out
#   and does instead of the wait.
# custom:
#   grade: fails
#   defect: solvent pop, wrinkling
#   remedy: Wait as long as the data sheet of the film beneath says, or bake it to its schedule first. If it is painted already, let it harden, sand past the holes to sound film, and lay it again in thinner coats with longer flashes.
#   safety:
#     signal: CAUTION
#     text: Sanding a film that is still soft inside sets free the solvent and hardener it holds. Wear the protection that its safety data sheet asks for, and follow the local code and licensed practice.
#   source:
#     - common practice
#     - "MIL-HDBK-1110 11.4.2.4: trapped solvent gives blisters between coats (read); recoating too early as its cause from memory"
#   limits:
#     - grace
#   needs:
#     - {in: contacts, gap_applies: true, baked_full: false, recoat_least: past}
package guidecoat.clock["recoated-too-soon"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.gap_applies
	not c.baked_full
	w := c.recoat_least
	w != null
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged("fails", w),
		sprintf("%s goes on %s after %s; it wants at least %s first%s", [
			c.upper_name,
			c.lower_name,
			c.gap.text,
			w.limit.text,
			lib.typical(w),
		]),
		lib.waited(c.lower, w.limit.text),
	)
}
