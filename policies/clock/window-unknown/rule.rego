# METADATA
# title: nobody knows the window of the film beneath
# description: |
#   Whether a film still takes the next one unsanded is decided by its chemistry, and only its data
#   sheet knows. Where neither card nor trade gives a window, an unsanded film is a bet. If it is
#   lost, the bond is missing from edge to edge. It looks right until the paint is knocked: then it
#   comes away in sheets. In the shop: lay a test patch, let it harden, cut a grid and pull tape; or
#   take the question away with a scuffing pad, which gives scratches to hold on to.
# custom:
#   grade: advice
#   defect: peeling between coats
#   remedy: Copy the window from the data sheet onto the card, or scuff the film before the next one.
#   safety:
#     signal: NOTICE
#     text: Scuffing makes dust; wear a respirator fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: contacts, gap_applies: true, window_given: none, abraded: false}
package guidecoat.clock["window-unknown"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.gap_applies
	c.window_given == "none"
	not c.abraded
	not c.window_shut
	not c.lower_kind in never_cures
	c.upper_kind != "cavity wax"
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("advice"),
		sprintf("%s goes on %s unsanded, and nobody says how long that film takes another", [c.upper_name, c.lower_name]),
		lib.scuffed(c),
	)
}

# Solder is metal, and wax takes no paint at any time.
never_cures := {"body solder", "cavity wax"}
