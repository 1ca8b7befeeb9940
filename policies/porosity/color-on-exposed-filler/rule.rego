# METADATA
# title: color lies on filler
# description: |
#   Filler, putty and polyester surfacer are full of fine holes. They drink solvent and resin out of
#   wet color at another rate than the sealed paint beside them. So the color sinks in, dries short
#   of resin, and shrinks along the edge between the two. A rub-through the size of a coin is
#   enough, and so is a skin of primer thin enough to see through: it drinks as the filler under it
#   does. It looks like a dull or blotchy patch, with a ring round it in the shape of the repair,
#   that shows more each week. In the shop: wet the panel with solvent cleaner and look along it;
#   where the filler is open the wet look goes dull first. No later clear makes it go away.
# custom:
#   grade: fails
#   defect: sinking, blotching, ringing
#   remedy: Cover every inch of filler, cut edges too, with primer surfacer or sealer, sand it as its card says, and color over that. If color is already on it, let it harden, sand, seal, and color again.
#   safety:
#     signal: CAUTION
#     text: Sealing and coloring again means sanding dust, and hardeners with isocyanate; wear what each label asks for. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - "common practice; no document found"
#   limits:
#     - left_thin
#   needs:
#     - {in: contacts, upper_traits.class: [color, clear], lower_traits.class: filler}
#     - {in: contacts, upper_traits.class: [color, clear], lower_kind: polyester surfacer}
#     - {in: contacts, upper_traits.class: [color, clear], under_kind: [body filler, fiber filler, finishing putty, one-part putty, plastic repair filler, polyester surfacer], left_thin: past}
#   covers:
#     - scratch-too-coarse
#     - patchwork-under-color
#     - surfacer-not-sanded
package guidecoat.porosity["color-on-exposed-filler"]

import data.guidecoat.lib

drinks := lib.fillers | {"polyester surfacer"}

shows := {"color", "clear"}

verdict contains v if {
	some c in input.contacts
	c.upper_traits.class in shows
	c.lower_kind in drinks
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s lies on %s", [c.upper_name, c.lower_name]),
		seal(c),
	)
}

# A film this thin over filler counts as cut through.
verdict contains v if {
	some c in input.contacts
	c.upper_traits.class in shows
	not c.lower_kind in drinks
	not c.lower_traits.class in shows
	c.under_kind in drinks
	c.left_thin != null
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged("fails", c.left_thin),
		sprintf("%s lies on %s of %s left over %s; less than %s counts as cut through%s", [
			c.upper_name,
			c.left_thin.measured.text,
			c.lower_name,
			c.under_kind,
			c.left_thin.limit.text,
			lib.typical(c.left_thin),
		]),
		seal(c),
	)
}

seal(c) := [lib.insert_before(c.step, s) |
	some s in lib.steps_around(c.zone, {
		"do": "spray",
		"product_kind": ["urethane sealer", "epoxy sealer", "epoxy primer"],
		"then_wait": "1 h",
	})
]
