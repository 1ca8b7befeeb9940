# METADATA
# title: the weather of a film is not written
# description: |
#   Whether a panel is dry enough to paint hangs on three readings taken together: the air, its
#   humidity, and the panel itself. The first two give the dew point, the third says how far the
#   panel stands above it. With one missing nobody can tell, on paper or in the booth. What comes
#   of it looks like every fault that damp makes: haze, blisters, rust under the film, some days
#   and not on others. In the shop: look for a meter and a surface thermometer beside the booth
#   door, and for the readings on the job; if they are not there, the weather was guessed.
# custom:
#   grade: advice
#   defect: a dew point that nobody can tell
#   remedy: Write air, panel and humidity once under the booth, or on the step where they differ, and measure them before the first coat.
#   safety:
#     signal: NOTICE
#     text: Readings say when a film may be laid, not when the work is fit for people; for that follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "FHWA-RD-98-084 app. A: surface and dew point are checked before starting and every 4 h (read)"
#   limits: []
#   needs:
#     - {in: lays, air: false}
#     - {in: lays, panel: false}
#     - {in: lays, humidity: false}
package guidecoat.weather["weather-not-written"]

import data.guidecoat.lib

# One finding for each set of readings that is missing, at the first film laid without them.
verdict contains v if {
	some unsaid in {lacking(l) | some l in input.lays}
	count(unsaid) > 0
	without := [l | some l in input.lays; lacking(l) == unsaid]
	v := lib.verdict(
		lib.at_step(without[0]),
		lib.plain("advice"),
		sprintf("nobody says %s when %s is laid%s, so the dew point cannot be told", [
			listed(unsaid),
			without[0].name,
			others(count(without)),
		]),
		[],
	)
}

lacking(l) := [what |
	some what in ["air", "panel", "humidity"]
	l[what] == null
]

names := {
	"air": "how warm the air is",
	"panel": "how warm the panel is",
	"humidity": "how damp the air is",
}

listed(unsaid) := concat(" or ", [names[what] | some what in unsaid])

others(1) := ""

others(n) := " (and in later steps)" if n > 1
