# METADATA
# title: color lies on a patchwork of different films
# description: |
#   Every film takes up the solvent and resin of the color at its own rate. Where one color coat
#   runs over primer here, old finish there and putty in between, it dries at three speeds. It looks
#   like a duller patch, or a ring where the repair ends. Lacquer, acid and waterborne primers and
#   one-part putty drink the most. In the shop: wipe the panel with cleaner and look along it in low
#   light; each patch wets and dries in its own time. A sealer over the whole gives the color one
#   ground to lie on. Where the patches are all cured two-part films, some painters go without and
#   get away with it.
# custom:
#   grade: risk
#   defect: "blotching, ringing"
#   remedy: "Lay one sealer over everything the color will cover, inside its own window, and color on that."
#   safety:
#     signal: WARNING
#     text: "Most sealers carry isocyanate or epoxy hardener: supplied air and covered skin when they are sprayed. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: layers, traits.class: color, rests_on: {over: 1}}
package guidecoat.finish["patchwork-under-color"]

import data.guidecoat.lib

thirsty := {"lacquer primer", "one-part acid primer", "two-part wash primer", "waterborne primer", "one-part putty"}

verdict contains v if {
	some l in input.layers
	l.traits.class == "color"
	kinds := {r.kind | some r in l.rests_on}
	count(kinds) > 1
	c := odd_one(l)
	v := lib.verdict(
		object.union(lib.at_contact(c), {"zone": null}),
		lib.plain(grade(kinds)),
		sprintf("%s runs over %s with no common sealer beneath it", [l.name, concat(" and ", sort(kinds))]),
		[lib.insert_before(l.step, {"do": "spray", "product_kind": ["urethane sealer", "epoxy sealer"]})],
	)
}

grade(kinds) := "risk" if count(kinds & thirsty) > 0

grade(kinds) := "advice" if count(kinds & thirsty) == 0

# The verdict stands on the place that is worst, so that a nearer cause there speaks alone.
odd_one(l) := c if {
	ranked := sort([[rank(c), c.id] |
		some c in input.contacts_by_upper[l.id]
		c.zone_facts.role != "blend"
	])
	some c in input.contacts_by_upper[l.id]
	c.id == ranked[0][1]
}

rank(c) := 0 if c.lower_pore

rank(c) := 1 if {
	not c.lower_pore
	c.lower_kind in thirsty
}

rank(c) := 2 if {
	not c.lower_pore
	not c.lower_kind in thirsty
}
