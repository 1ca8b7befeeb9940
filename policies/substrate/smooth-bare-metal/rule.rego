# METADATA
# title: a film goes on metal that has no tooth
# description: |
#   Paint does not glue itself to metal; it hooks into scratches and hardens there. Metal that was
#   only bared is smooth: stripper, razor and soft blast media leave it as the mill rolled it, and a
#   wire wheel even polishes it. Primer on such metal lies like a sheet of foil. It looks perfect
#   until a stone chip or a door edge lifts it, and then it comes away clean, with a shiny back. In
#   the shop: look for a dull even grey; where you can see your lamp mirrored, there is no tooth.
#   Schools differ on the strip disc: some prime straight on it and save an hour, others sand after
#   it because the disc polishes as it wears. Wash primer and conversion coating grip by chemistry
#   and are used on clean unsanded metal, yet on a scratch they hold better.
# custom:
#   grade: fails
#   defect: peeling
#   remedy: Abrade the metal after it was bared, steel with P80 to P180, aluminum and zinc finer, or blast it with grit. Then wipe it with solvent cleaner and prime it.
#   safety:
#     signal: CAUTION
#     text: Grinding and sanding metal throw sparks and dust; wear a respirator, eye protection and gloves fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts_on_metal, tooth.by: [strip disc, none]}
#   covers:
#     - dust-left-under-film
#     - tooth-too-fine
package guidecoat.substrate["smooth-bare-metal"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_on_metal
	not needs_none(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain(grade(c)),
		sprintf("%s goes on %s that has no tooth: %s", [c.upper_name, c.lower_name, because(c)]),
		lib.abraded_before(c, {"do": "sand", "grit": lib.metal_grit(c)}),
	)
}

# Solder alloys with the metal, cavity wax never hardens, and a rust converter bites into the rust itself.
needs_none(c) if c.upper_kind in {"body solder", "cavity wax"}

needs_none(c) if {
	c.upper_kind == "rust converter"
	c.zone_facts.rust != "none"
}

grade(c) := "risk" if c.tooth.by == "strip disc"

grade(c) := "risk" if {
	c.tooth.by == "none"
	grips_by_chemistry(c)
	lib.degreased(c)
}

grade(c) := "fails" if {
	c.tooth.by == "none"
	not chemistry_on_clean(c)
}

chemistry_on_clean(c) if {
	grips_by_chemistry(c)
	lib.degreased(c)
}

grips_by_chemistry(c) if c.upper_kind == "two-part wash primer"

grips_by_chemistry(c) if c.prep.conversion

because(c) := "nothing roughened it" if not c.tooth.bared in object.keys(bared_by)

because(c) := sprintf("%s bared it, and nothing roughened it since", [bared_by[c.tooth.bared]])

bared_by := {
	"strip disc": "the strip disc",
	"wire wheel": "the wire wheel",
	"razor": "the razor",
	"chemical stripper": "chemical stripper",
	"glass bead": "blasting with glass bead",
	"soda": "blasting with soda",
	"plastic": "blasting with plastic",
}
