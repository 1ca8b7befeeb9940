# METADATA
# title: "another product’s reducer is in the cup"
# description: |
#   A reducer does more than thin. How fast it leaves, in what order, and what else is in it
#   decide how the film lies down and whether it can cure. A stranger may leave too fast and
#   trap a haze, too slowly and hold the film soft, or carry something that uses up the
#   hardener.
#
#   It looks like dry spray, haze, runs, or a gloss that goes back overnight. In the shop:
#   look into the cup; strings, cloud or a skin mean that the two do not mix.
# custom:
#   grade: risk
#   defect: "slow cure, haze"
#   remedy: "Use a reducer that the product’s data sheet names, of the speed for the day’s temperature; if another is allowed, add it to the card."
#   safety:
#     signal: CAUTION
#     text: "Reducers are flammable and harm lungs and skin. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: mixes, reducer_known: foreign}
package guidecoat.adhesion["foreign-reducer"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.mixes
	m.reducer_known == "foreign"
	v := lib.verdict(
		lib.at_step(m),
		lib.plain("risk"),
		sprintf("%s is reduced with %s; its card names %s", [
			m.name,
			m.reducer_name,
			concat(" or ", m.card_reducers),
		]),
		[lib.set_key(m.step, "reducer", r) | some r in m.card_reducers],
	)
}
