# METADATA
# title: "another product’s hardener is in the cup"
# description: |
#   A hardener is half of the film. Each is made for one resin: how many live ends it
#   brings, how fast it goes, how much of it there is in a measure. A stranger, even of the
#   same family, leaves resin with nothing to tie to or hardener with nobody to take it up.
#   The mix may look and spray just right.
#
#   It looks like a film that stays soft, or goes hard and brittle, turns milky or smells for days.
#   In the shop: thumbnail it after the time the card gives; keep the rest of the cup overnight, it
#   should have set.
# custom:
#   grade: fails
#   defect: "no cure"
#   remedy: "Use the hardener that the product’s data sheet names; if another is allowed, add it to the card."
#   safety:
#     signal: WARNING
#     text: "Hardeners carry isocyanate, amines or peroxide, and a film that does not cure keeps them free. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: mixes, hardener_known: foreign}
package guidecoat.adhesion["foreign-hardener"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.mixes
	m.hardener_known == "foreign"
	v := lib.verdict(
		lib.at_step(m),
		lib.plain("fails"),
		sprintf("%s is mixed with %s; its card names %s", [
			m.name,
			m.hardener_name,
			concat(" or ", m.card_hardeners),
		]),
		[lib.set_key(m.step, "hardener", h) | some h in m.card_hardeners],
	)
}
