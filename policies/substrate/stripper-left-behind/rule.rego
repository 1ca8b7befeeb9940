# METADATA
# title: chemical stripper is left behind
# description: |
#   Stripper is made to soften cured paint, and it does not know old paint from new. It hides in
#   seams, pinholes and the wax it carries so that it does not dry. The wax keeps new paint from
#   gripping, and what chemicals remain creep out later and undo the cure from below. It looks like
#   primer that stays soft, wrinkles along seams, or lifts days after it seemed dry. In the shop:
#   press a nail into the primer next to a seam after a day; feel for wax with a clean fingertip.
#   Water or cleaner takes off the chemicals, and paper takes off the wax; the one does not do the
#   work of the other.
# custom:
#   grade: fails
#   defect: lifting, no cure
#   remedy: Rinse or wipe stripper off as its label says, blow out every seam, and dry at once. Then sand the whole place and degrease it before the first film.
#   safety:
#     signal: DANGER
#     text: Stripper with methylene chloride can kill in a closed space, and caustic stripper burns to the bone. Work in moving air, with gloves, face shield and apron that stand up to it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts, stripper: true}
package guidecoat.substrate["stripper-left-behind"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.stripper != null
	missing := lacking(c.stripper)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain(missing.grade),
		sprintf("%s goes on a surface that met chemical stripper in step %d and %s", [c.upper_name, c.stripper.step, missing.words]),
		array.concat(rinse(c), sand(c)),
	)
}

lacking(s) := {"grade": "fails", "words": "was neither rinsed or wiped nor abraded since"} if {
	not washed(s)
	not s.abraded
}

lacking(s) := {"grade": "risk", "words": "was not abraded since"} if {
	washed(s)
	not s.abraded
}

lacking(s) := {"grade": "risk", "words": "was neither rinsed nor wiped since"} if {
	not washed(s)
	s.abraded
}

washed(s) if s.rinsed

washed(s) if s.wiped

rinse(c) := [lib.insert_after(c.stripper.step, s) |
	not washed(c.stripper)
	some s in lib.steps_around(c.zone, lib.rinse)
]

sand(c) := [e |
	not c.stripper.abraded
	some act in abrasions(c)
	some e in lib.abraded_before(c, act)
]

# A thin old film is only scuffed, so that it is not gone through.
abrasions(c) := [{"do": "sand", "grit": "P180"}] if c.lower_traits.metal

abrasions(c) := [{"do": "sand", "grit": "P180"}, {"do": "scuff", "pad": "fine pad"}] if not c.lower_traits.metal
