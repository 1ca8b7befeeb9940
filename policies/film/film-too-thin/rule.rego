# METADATA
# title: the dry film comes out thinner than the card asks for
# description: |
#   Only the solids of a wet coat stay on the panel; the rest leaves as vapor. So a wet coat of four
#   mil can end as less than two, and reducer makes it less still. A primer that is too thin does
#   not cover the peaks of the scratch in the metal, and rust starts at each peak. A sealer too thin
#   lets the next film's solvent through, a clear too thin has no shield against the sun. A thin
#   color first of all hides badly. You see rust in points, a dull patch the shape of the repair, a
#   clear that chalks early. In the shop: put a wet-film comb into the coat, and work the dry film
#   out from the solids on the data sheet. Measure it with a gauge when it has dried.
# custom:
#   grade: fails
#   defect: poor hold-out, rust
#   remedy: Lay another coat inside the window, or a wetter one if the data sheet lets you, and reduce no further than it gives. A film found thin later is scuffed and laid again.
#   safety:
#     signal: NOTICE
#     text: Another coat is another cup with all its hazards, and the same protection. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "MIL-HDBK-1110 2.1.5: dry film is wet film times volume solids (read)"
#     - "MIL-HDBK-1110 11.4.2.5: thin film over deep profile rusts in points (read)"
#   limits:
#     - grace
#   needs:
#     - {in: layers, thin: past}
package guidecoat.film["film-too-thin"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.layers
	t := l.thin
	t != null
	lib.broken(t)
	some c in input.contacts_by_upper[l.id]
	not c.fades
	c.zone_facts.role != "blend"
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged(grade(c), t),
		sprintf("%s comes out at %s dry on %s; it wants %s at least%s", [
			l.name,
			t.measured.text,
			c.lower_name,
			t.limit.text,
			lib.typical(t),
		]),
		thickened(l),
	)
}

primers := {"primer", "surfacer", "sealer"}

grade(c) := "fails" if guards_metal(c)

grade(c) := "advice" if c.upper_traits.class == "color"

grade(c) := "risk" if {
	not guards_metal(c)
	c.upper_traits.class != "color"
}

guards_metal(c) if {
	c.upper_traits.class in primers
	c.lower_traits.metal
}

# The coats that would be enough, where one step lays them all.
thickened(l) := [lib.set_key(y.step, "coats", y.coats_enough) |
	some y in input.lays
	y.layer == l.id
	y.coats_enough > y.coats
]
