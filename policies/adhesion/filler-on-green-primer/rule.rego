# METADATA
# title: "filler goes on primer that is still green"
# description: |
#   A two-part primer is dry to the touch long before it is hard through. Filler laid on it then
#   does two things: its solvent, styrene, soaks into the soft primer, and the solvent still in the
#   primer comes up into the filler while that sets. The filler stays soft at its root and the
#   primer never gets its strength.
#
#   It looks like pinholes as the solvent pushes out, and filler that sands gummy at the feather
#   edge. Later the repair sinks and shows its outline. In the shop: press a thumbnail into the
#   primer; if it marks, it is green: not hard yet. A surfacer wants sanding first as well, so that
#   its skin is open and the filler has a scratch to hold.
# custom:
#   grade: fails
#   defect: "soft filler, pinholes, sinking"
#   remedy: "Wait as long as the primer’s data sheet asks before filler, or bake it to its schedule and let it cool; sand it where its card wants that; then spread the filler."
#   safety:
#     signal: WARNING
#     text: "Green primer still gives off solvent and may hold unreacted hardener: fresh air and gloves when you sand or fill it. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - dry_abrasive
#   needs:
#     - {in: contacts, fill_after: past, baked_full: false}
#     - {in: contacts, fill_after: true, fill_sanded: true, abraded: false}
package guidecoat.adhesion["filler-on-green-primer"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	fills(c.upper_kind)
	carries_filler(c.lower_traits)
	c.fill_after != null
	not c.baked_full
	judgement := lib.judged("fails", c.fill_after)
	v := lib.verdict(
		lib.at_contact(c),
		judgement,
		sprintf("%s goes on %s after %s; that wants %s before filler%s", [
			c.upper_name,
			c.lower_name,
			c.fill_after.measured.text,
			c.fill_after.limit.text,
			lib.typical(c.fill_after),
		]),
		lib.longer_wait(c.lower_step, c.fill_after.limit.text),
	)
}

# The kind's habit is to be sanded before it is filled, however long it has stood.
verdict contains v if {
	some c in input.contacts
	fills(c.upper_kind)
	carries_filler(c.lower_traits)
	c.fill_after != null
	c.fill_sanded
	not c.abraded
	not green(c)
	v := lib.verdict(
		lib.at_contact(c),
		object.union(lib.possible("fails"), {"leaned": c.fill_after.leaned}),
		sprintf("%s goes on %s that nothing has sanded; it is usually sanded before filler%s", [
			c.upper_name,
			c.lower_name,
			lib.typical(c.fill_after),
		]),
		lib.abraded_before(c, {"do": "sand", "grit": input.limits.dry_abrasive.measure.text}),
	)
}

green(c) if {
	not c.baked_full
	lib.broken(c.fill_after)
}

fills(kind) if kind in lib.fillers

fills("polyester surfacer")

carries_filler(t) if t.epoxy

carries_filler(t) if t.urethane
