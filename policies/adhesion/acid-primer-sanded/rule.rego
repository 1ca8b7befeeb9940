# METADATA
# title: "acid primer or promoter is sanded"
# description: |
#   An acid primer is laid a third to half a mil thin, an adhesion promoter thinner still.
#   That is less than one pass of fine paper takes off. Wherever abrasive has touched it you
#   have to reckon that the metal or plastic is bare again, even if you still see its tint:
#   what is left of it in the hollows bonds nothing.
#
#   It looks like primer that rusts in stripes along the sanding marks, or paint that peels
#   off a bumper where it was scuffed. In the shop: wipe the sanded place with thinner on a
#   white rag and look at it against the light; bright spots are bare. These films are laid
#   again when their time has run out, not scuffed.
# custom:
#   grade: risk
#   defect: "bare, unprotected metal"
#   remedy: "Leave it unsanded and put the next film on inside its window. If it has been touched, wipe it clean and lay it again over every sanded place."
#   safety:
#     signal: WARNING
#     text: "Dust of acid primer harms the lungs and may hold chromate. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: abrasions, surface_traits.acid: true}
#     - {in: abrasions, surface_traits.class: promoter}
package guidecoat.adhesion["acid-primer-sanded"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	too_thin_to_sand(a.surface_traits)
	not laid_again(a)
	v := lib.verdict(
		lib.at_surface(a),
		lib.plain("risk"),
		sprintf("%s is abraded with %s; so thin a film counts as gone, and it is not laid again", [
			a.surface_name,
			a.grit.name,
		]),
		[lib.insert_after(a.step, s) |
			some s in lib.steps_at(a.zone, {"do": "spray", "product_kind": [a.surface_kind]})
		],
	)
}

too_thin_to_sand(t) if t.acid

too_thin_to_sand(t) if t.class == "promoter"

laid_again(a) if {
	a.surface_traits.acid
	a.next_kind in {"one-part acid primer", "two-part wash primer"}
}

laid_again(a) if {
	a.surface_traits.class == "promoter"
	a.next_kind == "adhesion promoter"
}
