# METADATA
# title: filler bridges a rust hole
# description: |
#   Filler drinks. Over a hole its back is open to whatever runs down inside the panel: rain, road
#   spray, condensation. It swells a little and carries the water to the steel round the hole. The
#   rust that ate the hole goes on eating behind a smooth face. Primer under the filler does not
#   help, because nothing closes the back. It looks like a ring of small blisters in the shape of
#   the repair, after the first wet winter. In the shop: look at the panel from behind; if you see
#   filler, so does the water. A magnet that does not hold finds the place from the front.
# custom:
#   grade: fails
#   defect: moisture from behind, blisters
#   remedy: Cut back to sound steel, weld or bond in a metal patch, and protect its back. Dress it, prime it, and use filler only to level what is left.
#   safety:
#     signal: WARNING
#     text: Cutting and welding start fires behind panels, and hot coatings give off poison; strip the place, watch for fire, and leave welding to those trained for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts, upper_traits.class: filler, zone_facts.rust: holes, metalwork_before: false}
#   covers:
#     - rust-left-in-place
package guidecoat.substrate["hole-bridged-with-filler"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_kind in lib.fillers
	c.zone_facts.rust == "holes"
	not c.metalwork_before
	first_filler(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s goes over steel with rust holes in it, and no metalwork closes them first", [c.upper_name]),
		[lib.insert_before(before_all(c), s) |
			some s in lib.steps_around(c.zone, {"do": "metalwork", "for": "2 h", "welding": true})
		],
	)
}

# What is spread over this sheet's own filler bridges nothing anew.
first_filler(c) if {
	beneath := {id |
		some id in c.films
		layer := input.layers_by_id[id]
		layer.kind in lib.fillers
		not layer.existing
	}
	count(beneath) == 0
}

# The metal is closed before it is abraded for its first film.
before_all(c) := c.tooth.step if {
	c.tooth != null
	c.tooth.step > 0
} else := c.step
