# METADATA
# title: a film is laid in the heat
# description: |
#   In heat the solvent leaves the drops while they are still in the air. What lands is half dry and
#   does not run together: a rough coat like fine sandpaper, with little bond. On a hot panel the
#   skin closes at once over solvent that then boils out through it. A two-part film also goes off
#   so fast that it cannot level, and its windows are over sooner than the clock says. It looks like
#   sandpaper, like the skin of an orange, or like pinholes with a ring. In the shop: pull a glove
#   lightly over the coat; it should slide and not rasp. A dark panel that stood in the sun is far
#   hotter than the air about it.
# custom:
#   grade: fails
#   defect: dry spray, solvent pop
#   remedy: Let the panel cool in the shade, and spray in the cool of the day. Use the slower reducer or hardener that the data sheet names for the heat. Dry spray is sanded flat and laid again.
#   safety:
#     signal: WARNING
#     text: Heat drives more vapor out of cans, cups and wet film, and vapor burns; keep the exhaust running and every spark away. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "US Army PS Magazine 668: urethane touch-up best at 60-90 °F (read)"
#   limits:
#     - temperature_high_typical
#   needs:
#     - {in: lays, hot_panel: past}
#     - {in: lays, hot_air: past}
package guidecoat.weather["too-hot"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.lays
	t := lib.worse([l.hot_panel, l.hot_air])
	some c in lib.laid(l)
	v := lib.verdict(
		lib.at_laying(l, c),
		lib.judged("fails", t),
		sprintf("%s is laid %s at %s; it lets in %s at most%s", [
			l.name,
			on_or_in(l, t),
			t.measured.text,
			t.limit.text,
			lib.typical(t),
		]),
		[],
	)
}

on_or_in(l, t) := "on a panel" if t == l.hot_panel

on_or_in(l, t) := "in air" if t != l.hot_panel
