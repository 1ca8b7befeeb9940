# METADATA
# title: the wipe before a film is too old, or was spoiled
# description: |
#   A wiped surface starts to get dirty the moment the rag leaves it. Dust settles, mist from the
#   next bay drifts over, hands test it, masking paper and tape bring fibers and glue. After a night
#   it carries a thin film of everything the shop's air holds, and color shows that sooner than
#   primer does. It looks like scattered craters, seeds, or peeling along a tape line, with nothing
#   wrong in the rest of the panel. In the shop: wipe a corner with a white rag and cleaner just
#   before spraying; grey on it means the last wipe has gone.
# custom:
#   grade: risk
#   defect: fisheyes, peeling
#   remedy: Wipe again right before the film, after masking, metalwork, moving or a break, with a fresh rag, and tack it before color. A tack cloth alone does not replace the wipe.
#   safety:
#     signal: CAUTION
#     text: Cleaner vapor burns; let it leave before the gun is triggered, and keep the air moving. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - "TM 55-1500-345-23 (read): after a break overnight or longer clean again"
#     - "MIL-STD-186F 5.5.3.2.4 (read): clean again after a break overnight"
#     - common practice
#   limits:
#     - wipe_good_for
#     - wipe_before_color
#   needs:
#     - {in: contacts, last_wipe: true}
package guidecoat.substrate["clean-again-after-break"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.wipe_broken != null
	c.last_wipe != null
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s was wiped, then came step %d (%s), and it is not wiped again before %s", [
			c.lower_name,
			c.wipe_broken.step,
			c.wipe_broken.do,
			c.upper_name,
		]),
		lib.wiped_before(c, "wax and grease remover"),
	)
}

verdict contains v if {
	some c in input.contacts
	is_null(c.wipe_broken)
	c.last_wipe != null
	limit := good_for(c)
	sure := lib.above(c.last_wipe.age, limit)
	v := lib.verdict(
		lib.at_contact(c),
		lib.measured_against("risk", sure, c.last_wipe.age, limit),
		sprintf("%s was wiped in step %d, %s before %s; before this film a wipe is good for %s", [
			c.lower_name,
			c.last_wipe.step,
			c.last_wipe.age.text,
			c.upper_name,
			limit.text,
		]),
		lib.wiped_before(c, "wax and grease remover"),
	)
}

good_for(c) := input.limits.wipe_before_color.measure if shows(c)

good_for(c) := input.limits.wipe_good_for.measure if not shows(c)

shows(c) if c.upper_traits.class in {"color", "clear"}
