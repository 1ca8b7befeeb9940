# METADATA
# title: a film goes on in the dead time of the one beneath
# description: |
#   Some films, enamels above all, harden from the air inward. For the first hours they are soft
#   through and through, and take another coat. Then comes a stretch in which the skin is tight and what
#   lies below it is still jelly. Fresh solvent swells the skin, it grows wider than its ground and has
#   nowhere to go but up. Later it is hard enough to bear it. You see wrinkles like crepe within minutes,
#   or edges that curl. In the shop: lay a drop of the reducer on a hidden spot, cover it, and look
#   after some minutes; if the film crinkles, it is in its dead time. Sanding does not help while it lasts.
# custom:
#   grade: fails
#   defect: lifting, wrinkling
#   remedy: Recoat before the dead time begins, or wait until it is over and then scuff. A film that has lifted is left to harden for as long as it takes, or stripped; another coat lifts as well.
#   safety:
#     signal: CAUTION
#     text: A film that has lifted stays soft and holds solvent; sanding or stripping it needs the protection its safety data sheet names. Follow that sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - grace
#   needs:
#     - {in: contacts, gap_applies: true, dead_start: true, dead_end: true}
#   covers:
#     - recoated-too-soon
#     - window-missed
#     - strong-solvent-on-enamel
package guidecoat.clock["recoated-in-dead-time"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.gap_applies
	s := c.dead_start
	e := c.dead_end
	s != null
	e != null
	sure := inside(s, e)
	v := lib.verdict(
		lib.at_contact(c),
		{
			"grade": lib.capped(eased(s, e), certainty(sure, e)),
			"certainty": certainty(sure, e),
			"leaned": e.leaned,
			"measured": e.measured.shown,
			"limit": {"lo": s.limit.shown.lo, "hi": e.limit.shown.hi, "unit": e.limit.shown.unit},
		},
		sprintf("%s goes on %s after %s; from %s to %s it lifts if it is recoated%s", [
			c.upper_name,
			c.lower_name,
			c.gap.text,
			s.limit.text,
			e.limit.text,
			lib.typical(e),
		]),
		array.concat(sooner(c), lib.waited(c.lower, e.limit.text)),
	)
}

# Inside at every length the gap may have; or at some, where neither end of it need be.
inside(s, e) := "will" if {
	surely(s, e)
} else := "may" if {
	not s.open
	not e.open
	e.over.lo < 1
	begun(s.over)
}

surely(s, e) if {
	not s.open
	not e.open
	s.over.lo > 1
	e.over.hi != null
	e.over.hi < 1
}

begun(over) if over.lo > 1

begun(over) if {
	over.hi != null
	over.hi > 1
}

certainty(_, e) := "may" if count(e.leaned) > 0

certainty(sure, e) := sure if count(e.leaned) == 0

# Within the grace of either end of the dead time.
eased(s, e) := "risk" if {
	by_card(e)
	e.over.lo >= input.limits.grace.low
} else := "risk" if {
	by_card(s)
	s.over.hi != null
	s.over.hi <= input.limits.grace.high
} else := "fails"

by_card(c) if {
	c.graced
	c.source == "card"
}

# The end of the window, where that comes before the dead time.
sooner(c) := [e |
	c.recoat_most != null
	c.recoat_most.limit.hi <= c.dead_start.limit.lo
	some e in lib.waited(c.lower, c.recoat_most.limit.text)
]
