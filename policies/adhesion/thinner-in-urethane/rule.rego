# METADATA
# title: "thinner, alcohol or cleaner is in a cup with isocyanate"
# description: |
#   The hardener of a urethane is isocyanate. It ties onto anything with the right loose end: the
#   resin, but also water and alcohol. Lacquer thinner, wipes and cleaners hold alcohol, water or
#   both. What the hardener spends on them it no longer has for the resin, and it makes gas as well.
#   The cup thins nicely and sprays well; the film never gets hard.
#
#   It looks like paint that still prints after a week, dulls and peels, or goes milky. In
#   the shop: thumbnail it after two days; wipe it with a little thinner, an uncured film
#   comes off on the rag.
# custom:
#   grade: fails
#   defect: "never cures, soft, dull"
#   remedy: "Reduce it with the urethane reducer that its data sheet names, within the share it allows. Film that was sprayed with thinner in it is stripped."
#   safety:
#     signal: WARNING
#     text: "Uncured film keeps isocyanate free: do not sand it without supplied air and covered skin. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: mixes, isocyanate: true, reducer_kind: [lacquer thinner, alcohol wipe, wax and grease remover, waterborne cleaner, plastic cleaner, soap and water]}
#   covers:
#     - foreign-reducer
package guidecoat.adhesion["thinner-in-urethane"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.mixes
	m.isocyanate
	m.reducer_kind in wrong
	v := lib.verdict(
		lib.at_step(m),
		lib.plain("fails"),
		sprintf("%s has isocyanate in the cup and is reduced with %s", [m.name, called(m)]),
		[lib.set_key(m.step, "reducer", r) | some r in m.card_reducers; r != m.reducer_name],
	)
}

wrong := {
	"lacquer thinner", "alcohol wipe", "wax and grease remover", "waterborne cleaner", "plastic cleaner",
	"soap and water",
}

called(m) := sprintf("%s (%s)", [m.reducer_name, m.reducer_kind]) if {
	m.reducer_name != ""
	m.reducer_name != m.reducer_kind
}

called(m) := m.reducer_kind if m.reducer_name in {"", m.reducer_kind}
