# METADATA
# title: acid is left on the metal
# description: |
#   Acid wash and conversion coating work by eating into the metal. What is not rinsed away dries as
#   salts that stay acid and draw water through the film on top. Epoxy, polyester and filler suffer
#   most: the acid uses up its hardener where the two touch, and leaves a soft layer that lets go.
#   It looks like blisters in seams and low spots, with a sour or salty liquid in them. Or primer
#   stays soft at the metal. In the shop: wet the dry metal with a little clean water and lay a pH
#   strip on it; it should read as the water does. Schools differ on whether a plain rinse is
#   enough: some rinse and save a step, some always neutralize, because a seam keeps what the hose
#   can't reach.
# custom:
#   grade: fails
#   defect: peeling, blisters
#   remedy: Rinse after every treatment and dry at once. Before epoxy, polyester, filler or putty also neutralize and rinse, or turn the surface with conversion coating, or sand it back to bright metal.
#   safety:
#     signal: WARNING
#     text: Metal acids burn skin and eyes, and some hold fluoride; wear gloves, eye protection and an apron fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts_on_metal, prep.last_step: true, prep.rinsed_since: false, prep.abraded_since: false}
#     - {in: contacts_on_metal, prep.acid_wash_since_abraded: true, prep.neutralized: false}
package guidecoat.substrate["acid-left-on-metal"]

import data.guidecoat.lib

# Films whose cure acid upsets; every epoxy too.
upset := {
	"body filler", "fiber filler", "finishing putty", "one-part putty", "plastic repair filler",
	"polyester surfacer",
}

verdict contains v if {
	some c in input.contacts_on_metal
	unrinsed(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("fails"),
		sprintf("%s goes on %s treated in step %d, with no rinse and no abrasion since", [
			c.upper_name,
			c.lower_name,
			c.prep.last_step,
		]),
		[lib.insert_after(c.prep.last_step, s) |
			some s in lib.steps_around(c.zone, lib.rinse)
		],
	)
}

verdict contains v if {
	some c in input.contacts_on_metal
	not unrinsed(c)
	is_upset(c)
	c.prep.acid_wash_since_abraded
	c.prep.rinsed_since
	not c.prep.neutralized
	not c.prep.conversion_since_abraded
	not c.prep.abraded_since
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s goes on %s that was acid-washed and rinsed, but neither neutralized, converted nor abraded since", [
			c.upper_name,
			c.lower_name,
		]),
		[lib.insert_after(c.prep.treat_step, s) |
			some s in lib.steps_around(c.zone, {"do": "neutralize", "with_kind": "neutralizer"})
		],
	)
}

unrinsed(c) if {
	c.prep.last_step > 0
	not c.prep.rinsed_since
	not c.prep.abraded_since
}

is_upset(c) if c.upper_traits.epoxy

is_upset(c) if c.upper_kind in upset
