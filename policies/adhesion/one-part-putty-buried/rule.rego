# METADATA
# title: "one-part putty is buried"
# description: |
#   One-part putty, the sort from a tube, dries by losing solvent and never cures. In a thin wipe
#   over scratches it dries through. Under a two-part film it is sealed in: the hard film cures
#   above it, and the putty softens again in its solvent. It goes on shrinking for weeks, with no
#   way out but into the film over it. Laid thick it skins over and stays soft inside whatever
#   covers it.
#
#   It looks like a pit or a set of scratches that slowly comes back, or a crack round a
#   filled spot. In the shop: press a thumbnail into the putty after a day; if it dents, it
#   is not dry, and under two-part paint it never will be.
# custom:
#   grade: risk
#   defect: "sinking, cracking"
#   remedy: "Use a two-part finishing putty instead, and sand it dry. Where the whole system is lacquer, keep one-part putty to thin wipes, each left to dry."
#   safety:
#     signal: CAUTION
#     text: "Putty hardener irritates skin and eyes; putty solvent is flammable. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - one_part_putty_max
#   needs:
#     - {in: layers, kind: one-part putty}
#     - {in: totals, one_part_putty_max: past}
package guidecoat.adhesion["one-part-putty-buried"]

import data.guidecoat.lib

# Under the first two-part film that covers it in a zone, whatever lies between.
verdict contains v if {
	some c in input.contacts
	c.upper_traits.two_part
	putty := buried(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s buries %s, which can no longer dry", [c.upper_name, putty.name]),
		lib.replaced(putty.step, ["finishing putty"]),
	)
}

verdict contains v if {
	some t in input.totals
	t.one_part_putty_max != null
	v := lib.verdict(
		object.union(lib.at_surface(t), {"step": t.filler_step}),
		lib.judged("risk", t.one_part_putty_max),
		sprintf("one-part putty is %s thick; it dries through up to %s", [
			t.one_part_putty_max.measured.text,
			t.one_part_putty_max.limit.text,
		]),
		lib.replaced(t.filler_step, ["finishing putty"]),
	)
}

# The highest one-part putty beneath the upper film, if no two-part film lies over it yet.
buried(c) := layer if {
	beneath := [input.layers_by_id[id] | some id in c.films]
	putties := [i | some i, l in beneath; l.kind == "one-part putty"]
	count(putties) > 0
	last := max(putties)
	covers := [l | some i, l in beneath; i > last; l.traits.two_part]
	count(covers) == 0
	layer := beneath[last]
}
