# METADATA
# title: nobody says how long to wait between two films
# description: |
#   Between two films there is a least wait, in which solvent leaves. For most there is a longest
#   one too, after which the next film no longer bonds. If the sheet is silent, each painter fills
#   the hole in his own way: one goes on after ten minutes, the other after the weekend. Neither can
#   be told from the paper, and this sheet cannot be checked there. What comes of it looks like
#   pinholes and wrinkles in one panel and peeling in the next, with the same cans and the same gun.
#   In the shop: ask two people how long they would wait; if they differ, the sheet is not done.
#   Words such as 'until matte' help the one who sprays and still leave the clock open.
# custom:
#   grade: advice
#   defect: a wait that is anyone's guess
#   remedy: Write the wait after the lower film, as its data sheet gives it, with the least and the longest in one.
#   safety:
#     signal: NOTICE
#     text: Film times are a matter of the data sheet; those that protect people, such as when a booth may be entered without a mask, are not. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: waits}
package guidecoat.clock["wait-not-written"]

import data.guidecoat.lib

contacts := {c.id: c | some c in input.contacts}

verdict contains v if {
	some w in input.waits
	v := lib.verdict(
		lib.at_contact(w),
		lib.plain("advice"),
		sprintf("no step says how long to wait between %s and %s%s", [w.lower_name, w.upper_name, instead(w)]),
		least(w),
	)
}

instead(w) := "" if w.condition == ""

instead(w) := sprintf(": '%s' leaves the clock open", [w.condition]) if w.condition != ""

least(w) := [e |
	c := contacts[w.id]
	c.recoat_least != null
	some e in lib.waited(w.lower, c.recoat_least.limit.text)
]
