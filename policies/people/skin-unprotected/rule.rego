# METADATA
# title: a two-part product is laid with bare skin or eyes
# description: |
#   The hardener half of a two-part product is made to react, and it reacts with skin and eyes as
#   well. Epoxy hardener and isocyanate, the hardener of urethanes, get in through the skin. The
#   body may answer with a rash each time from then on. Peroxide, which is what hardens filler, can
#   blind an eye. It looks like red, cracked fingers and a rash at the wrists and collar. In the
#   shop: cured specks on your forearms after a day tell that the sleeves were too short.
# custom:
#   grade: fails
#   defect: "sensitisation, eye burns"
#   remedy: "Write gloves, eye protection and a coverall on the step, of the sort the safety data sheet names. Have them there before the can is opened."
#   safety:
#     signal: WARNING
#     text: "Wash splashes off skin at once, rinse eyes for 15 minutes and see a doctor. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "NIOSH 96-111 (read) for isocyanates"
#   limits: []
#   needs:
#     - {in: mixes, wear: {not: gloves}}
#     - {in: mixes, wear: {not: [eye protection, face shield, blast hood]}}
#     - {in: mixes, wear: {not: coverall}}
package guidecoat.people["skin-unprotected"]

import data.guidecoat.lib

eyes := {"eye protection", "face shield", "blast hood"}

verdict contains v if {
	some m in input.mixes
	reactive(m)
	missing := lacking(m)
	count(missing) > 0
	v := lib.verdict(
		lib.at_step(m),
		lib.plain(grade(m)),
		sprintf("%s is laid, and the step writes no %s", [m.name, concat(", no ", missing)]),
		[],
	)
}

reactive(m) if m.two_part

reactive(m) if m.isocyanate

reactive(m) if m.epoxy_hardener

grade(m) := "fails" if m.isocyanate

grade(m) := "fails" if m.epoxy_hardener

grade(m) := "risk" if {
	not m.isocyanate
	not m.epoxy_hardener
}

lacking(m) := [what |
	some what in ["gloves", "eye protection", "coverall"]
	not worn(what, m.wear)
]

worn(what, wear) if what in wear

worn("eye protection", wear) if {
	some e in wear
	e in eyes
}
