# METADATA
# title: water reaches an open pore
# description: |
#   A film with open pores takes water in like a biscuit. Filler, putty, polyester surfacer, lacquer
#   primer and sanded fiberglass all do it. Wash it or wipe it with a water-borne cleaner and the
#   top looks dry again at once. The water sits below, and will not leave by waiting over lunch.
#   Shut in by paint it comes back as vapor, or rusts the metal from the filler's side. It looks
#   like blisters in clusters after the first hot days, the size of a pinhead. In the shop: lay a
#   sheet of clear film over the spot, taped round, in the sun for an hour; fog on its inside is
#   water coming out.
# custom:
#   grade: fails
#   defect: blisters
#   remedy: Keep water off until the pores are sealed. Blow filler off, and if it must be wiped use solvent cleaner and give it half an hour. If it got wet, dry it with heat and sand it dry before it is sealed.
#   safety:
#     signal: CAUTION
#     text: Solvent cleaner burns and its vapor makes dizzy; work in moving air with no flame near. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: touches, water: true, pore: true}
package guidecoat.porosity["water-on-filler"]

import data.guidecoat.lib

verdict contains v if {
	some t in input.touches
	t.water
	t.pore
	v := lib.verdict(
		lib.at_surface(t),
		lib.plain("fails"),
		sprintf("%s wets %s, which is porous and open", [agent(t), t.surface_name]),
		mend(t),
	)
}

agent(t) := "a rinse" if t.do == "rinse"

agent(t) := t.agent if t.do != "rinse"

mend(t) := [lib.drop(t.step)] if {
	t.do == "rinse"
	not t.follows_wet
}

mend(t) := [lib.set_key(t.step, "with_kind", "wax and grease remover")] if t.do == "clean"

mend(t) := [] if {
	t.do != "clean"
	must_stay(t)
}

# A rinse that washes chemistry off is not for dropping.
must_stay(t) if t.do != "rinse"

must_stay(t) if t.follows_wet
