# METADATA
# title: a film is laid in the cold
# description: |
#   Hardening is a reaction, and each ten degrees Celsius down about halves its pace. Below what the data
#   sheet names it all but stops: some two-part films then set only in part and never make it up,
#   even when they are warmed later. Solvent leaves slowly as well, so that the film sags, skins
#   over and keeps it in. A cold panel in warm air is as bad as cold air, for the film takes the
#   panel's temperature. You see runs, a film that stays soft and dull, water spots that will not
#   come out. In the shop: hold a thermometer to the metal itself; after the time on the data
#   sheet a thumbnail must not mark the film.
# custom:
#   grade: fails
#   defect: no cure, runs, dull soft film
#   remedy: Bring air and panel to what the data sheet asks for before the gun is loaded, and keep them there until the film has cured. Heavy metal takes hours to come up. A film that never set is stripped.
#   safety:
#     signal: CAUTION
#     text: Heaters with a flame or a glowing coil must not stand where solvent is sprayed or flashes off. Uncured paint goes on giving off hardener. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "TM 43-0139 3-6: 50 °F or more, paint and surface about the same (read)"
#     - "US Army PS Magazine 668: urethane touch-up best at 60-90 °F (read)"
#   limits:
#     - temperature_low_typical
#   needs:
#     - {in: lays, cold_panel: past}
#     - {in: lays, cold_air: past}
#   covers:
#     - cure-slowed-by-cold
package guidecoat.weather["too-cold"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.lays
	t := lib.worse([l.cold_panel, l.cold_air])
	some c in lib.laid(l)
	v := lib.verdict(
		lib.at_laying(l, c),
		lib.judged("fails", t),
		sprintf("%s is laid %s at %s; it wants %s at least%s", [
			l.name,
			on_or_in(l, t),
			t.measured.text,
			t.limit.text,
			lib.typical(t),
		]),
		[],
	)
}

on_or_in(l, t) := "on a panel" if t == l.cold_panel

on_or_in(l, t) := "in air" if t != l.cold_panel
