# METADATA
# title: mold release is left on the part
# description: |
#   So that a part lets go of its mold, the maker coats the mold with wax, soap or silicone. Some of
#   it comes out on the part. One kind washes off with water and soap, the other only with solvent;
#   a part may carry both. Paper drives it into the surface, where nothing reaches it any more.
#   Paint then lies on a release agent, which does for paint what it did for the mold. It looks like
#   craters that no second coat closes, or a whole coat that peels like a sticker. In the shop:
#   rinse the clean part; water should run off as an even sheet and not draw into beads.
# custom:
#   grade: fails
#   defect: fisheyes, sheet peeling
#   remedy: Before the first scratch wash with soap and warm water and rinse, then wipe with plastic cleaner until water sheets off. Only then scuff. If it was sanded dirty, clean with both again, sand off the top, and clean again.
#   safety:
#     signal: CAUTION
#     text: Plastic cleaner burns and builds a static charge on plastic that can spark; wipe slowly, in moving air. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: beginnings, soap: false}
#     - {in: beginnings, cleaner: false}
package guidecoat.substrate["mold-release-left"]

import data.guidecoat.lib

verdict contains v if {
	some b in input.beginnings
	missing := lacking(b)
	count(missing) > 0
	v := lib.verdict(
		lib.at_surface(b),
		lib.plain(grades[count(missing)]),
		sprintf("%s takes its first %s with no %s before it", [b.name, b.act, concat(" and no ", [m.words | some m in missing])]),
		[lib.insert_before(b.step, s) |
			some m in missing
			some s in lib.steps_around(b.zone, m.step)
		],
	)
}

# One of the two left out is a risk, both fail.
grades := [null, "risk", "fails"]

lacking(b) := array.concat(
	[{
		"words": "wash with soap and water",
		"step": {"do": "clean", "with": "soap and water", "then_wait": "1 h"},
	} |
		not b.soap
	],
	[{
		"words": "wipe with plastic cleaner or wax and grease remover",
		"step": lib.wipe("plastic cleaner"),
	} |
		not b.cleaner
	],
)
