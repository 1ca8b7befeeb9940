# METADATA
# title: a film is laid on a panel that is too near the dew point
# description: |
#   Air holds only so much water; on anything colder than the dew point the rest settles out. A
#   panel a degree or two above it is no better: solvent flashing off chills the wet film, and the
#   water comes down on it then, too thin to see. Paint over water turns milky or blisters, and bare
#   steel rusts under it before the film is dry. You see a milky haze, a rash of small blisters
#   after the first warm rain, or an orange tint under the primer. In the shop: measure the panel
#   itself, not the air; breathe on it, and if the mist stays, wait. It happens most on a panel
#   wheeled in cold on a mild damp morning.
# custom:
#   grade: fails
#   defect: blush, blisters, flash rust
#   remedy: Warm the panel, not just the air, or dry the air, until the panel is well above the dew point; measure before the first coat and every four hours. Steel that was damp is abraded dry and cleaned again.
#   safety:
#     signal: CAUTION
#     text: Warm a panel with heat made for the spray area; an open heater or flame near solvent can set the booth alight. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - "FHWA-RD-98-084 app. A: surface at least 3 °C above the dew point, before starting and every 4 h (read)"
#     - "MIL-HDBK-1110 9.6.6: 5 °F, and rising (read)"
#     - "WMO-No. 8, annex: the dew point by the Magnus form (second)"
#   limits:
#     - dew_margin
#   needs:
#     - {in: lays, dew_margin: past}
package guidecoat.weather["too-near-dew-point"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.lays
	m := l.dew_margin
	lib.broken(m)
	some c in lib.laid(l)
	v := lib.verdict(
		lib.at_laying(l, c),
		lib.judged("fails", m),
		sprintf("%s is laid on a panel at %s with the dew point at %s: %s, where %s is the least", [
			l.name,
			l.panel.text,
			l.dew_point.text,
			clearance(m.measured),
			m.limit.text,
		]),
		[],
	)
}

# Colder than the dew point, water is on the panel already.
clearance(m) := concat(" ", [trim_prefix(m.text, "-"), "below it"]) if {
	startswith(m.text, "-")
	m.hi == m.lo
} else := concat(" ", [m.text, "above it"])
