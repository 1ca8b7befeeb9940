# METADATA
# title: rust is left under the first film
# description: |
#   Rust is loose, porous, and full of water and salt. It goes on growing under paint, because the
#   salt in it draws damp through the film. Every new grain needs more room than the steel it came
#   from. A wire wheel polishes the top and leaves the root; soda and plastic media are too soft to
#   reach it. Light rust sits in the scratch and can be sanded or dissolved; in pits it sits where
#   paper does not touch, and needs blasting, or sanding and chemistry together. It looks like
#   blisters with a brown core that come back in the same place. In the shop: look into the pits
#   with a loupe; black in the bottom is rust that was only polished.
# custom:
#   grade: fails
#   defect: rust creep, blisters
#   remedy: Take light rust off with P80 or coarser, grit blast, acid wash or a converter before anything is laid. Pitted steel wants blasting, or P80 or coarser and then acid wash or converter.
#   safety:
#     signal: WARNING
#     text: Blasting and grinding dust harms the lungs, and rust acids burn; wear blast hood or respirator, gloves and eye protection fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - rust_sanded
#   needs:
#     - {in: contacts, rust: true, rust.blasted: false}
package guidecoat.substrate["rust-left-in-place"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.rust != null
	not dealt_with(c.rust)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s is the first film over %s rust: %s", [c.upper_name, named[c.rust.rust], lacks(c.rust)]),
		mend(c),
	)
}

named := {"light": "light", "pitted": "pitted", "holes": "rotted-through"}

# Light rust is dealt with by any one of them, deep rust by blasting or by two together.
dealt_with(r) if r.blasted

dealt_with(r) if {
	r.rust == "light"
	r.sanded
}

dealt_with(r) if {
	r.rust == "light"
	chemistry(r)
}

dealt_with(r) if {
	r.sanded
	chemistry(r)
}

chemistry(r) if r.acid_wash

chemistry(r) if r.converter

lacks(r) := sprintf("no blasting, no sanding with %s or coarser, no acid wash and no converter before it", [
	input.limits.rust_sanded.measure.text,
]) if {
	not r.sanded
	not chemistry(r)
}

lacks(r) := sprintf("acid or converter alone does not reach into pits; sanding with %s or coarser, or blasting, goes with it", [
	input.limits.rust_sanded.measure.text,
]) if {
	not r.sanded
	chemistry(r)
}

lacks(r) := "sanding alone does not reach into pits; acid wash or converter goes with it, or blasting instead" if {
	r.sanded
	not chemistry(r)
}

mend(c) := lib.abraded_before(c, {"do": "sand", "grit": input.limits.rust_sanded.measure.text}) if not c.rust.sanded

mend(c) := [lib.insert_after(c.prep.last_abraded_step, s) |
	c.prep != null
	c.prep.last_abraded_step > 0
	some s in lib.steps_around(c.zone, {"do": "treat", "with_kind": "acid wash"})
] if {
	c.rust.sanded
}
