# METADATA
# title: acid primer is left on the metal too long before it is stripped off again
# description: |
#   Acid and wash primer are used to hold bare metal for a while: the acid bites in, and rust has a hard
#   time beginning. But the film is thin and open. It slows rust, it stops no water, and what damp it takes up
#   lies on the steel under it. After some two weeks, a night of fog or a day in a damp shop, rust is on
#   its way where you cannot see it. Stripping the primer then bares metal that is no longer clean.
#   You see brown points or a gray bloom when the primer comes off. In the shop: wipe the bared
#   metal with a white rag and cleaner; brown on it means to abrade again, to bright metal.
# custom:
#   grade: risk
#   defect: rust
#   remedy: Hold metal for longer, or outdoors, under epoxy. If acid primer was left too long, take it off, abrade dry to bright metal, degrease, and prime the same shift.
#   safety:
#     signal: WARNING
#     text: Acid primer may hold chromate, and its dust harms the lungs; wear a respirator fit for it when it comes off. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "US Air Force coatings manual 6.12.9: wash primer at about 70 % RH and more may blush (read)"
#   limits:
#     - acid_hold
#     - acid_hold_damp
#     - damp_acid
#   needs:
#     - {in: exposures, traits.acid: true, ended_by: strip}
package guidecoat.clock["hold-primer-kept-too-long"]

import data.guidecoat.lib

verdict contains v if {
	some x in input.exposures
	x.traits.acid
	x.ended_by == "strip"
	k := kept(x)
	v := lib.verdict(lib.at_surface(x), k.judgement, k.message, [])
}

kept(x) := {
	"judgement": lib.judged("risk", x.acid_hold),
	"message": sprintf("%s stands as the top film for %s before it is stripped off; it holds rust back for %s at most", [
		x.name,
		x.acid_hold.measured.text,
		x.acid_hold.limit.text,
	]),
} if {
	lib.broken(x.acid_hold) == "will"
} else := {
	"judgement": lib.plain("risk"),
	"message": sprintf("%s stands outdoors as the top film before it is stripped off, and it stops no water", [x.name]),
} if {
	x.outdoors
} else := {
	"judgement": lib.judged("risk", x.acid_damp),
	"message": sprintf("%s stands in air of %s humidity for %s before it is stripped off; over %s it holds rust back for %s at most", [
		x.name,
		x.humidity.text,
		x.acid_damp.measured.text,
		input.limits.damp_acid.measure.text,
		x.acid_damp.limit.text,
	]),
} if {
	lib.broken(x.acid_damp)
} else := {
	"judgement": lib.judged("risk", x.acid_hold),
	"message": sprintf("%s may stand as the top film for %s before it is stripped off; it holds rust back for %s at most", [
		x.name,
		x.acid_hold.measured.text,
		x.acid_hold.limit.text,
	]),
} if {
	lib.broken(x.acid_hold)
}
