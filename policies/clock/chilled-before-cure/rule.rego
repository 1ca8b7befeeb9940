# METADATA
# title: a two-part film is chilled on its first day
# description: |
#   A two-part film does most of its hardening on the first day. Let the panel go cold in it, or roll it
#   out into the night, and the reaction stands still half way. The molecules that were to meet get stuck
#   in a stiff film, and warming up later does not set all of them going again. Dew on such a film also
#   takes hardener out of its top. You see a finish that stays soft or dull, water spots that are etched in, a film
#   that scratches with a nail a week later. In the shop: keep a thermometer that shows the lowest of the
#   night on the panel. What was baked to its schedule has its cure behind it.
# custom:
#   grade: risk
#   defect: stuck cure, dull film
#   remedy: Keep the panel inside and warm for the first day, or bake it to its schedule. A film that got stuck may come round with a long mild bake; if it stays soft, it is stripped.
#   safety:
#     signal: CAUTION
#     text: A heater left on over night beside fresh paint must be one that is made for it. A film that is not cured still gives off hardener. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "US Army PS Magazine 668: urethane best at 60-90 °F, full cure about a week at 70 °F (read)"
#   limits:
#     - chill_below
#     - cure_day
#   needs:
#     - {in: layers, traits.two_part: true, baked_full: false, first_day.outdoors: true}
#     - {in: layers, traits.two_part: true, baked_full: false, first_day.cold: past}
package guidecoat.clock["chilled-before-cure"]

import data.guidecoat.lib

places := {s.n: s.place | some s in input.steps}

verdict contains v if {
	some l in input.layers
	l.traits.two_part
	not l.baked_full
	k := worst(l.first_day)
	some c in input.contacts_by_upper[l.id]
	v := lib.verdict(
		object.union(lib.at_contact(c), {"step": k.step, "place": places[k.step]}),
		unless_baked(l, k.judgement),
		sprintf("%s %s, %s, and needs %s to cure", [
			l.name,
			k.what,
			since(k.after),
			input.limits.cure_day.measure.text,
		]),
		lib.waited(l.id, input.limits.cure_day.measure.text),
	)
}

# What a bake may have cured is only perhaps chilled.
unless_baked(l, judgement) := object.union(judgement, {"certainty": "may"}) if {
	l.baked_perhaps
} else := judgement

# The first piece of the day that surely chills it, else the first that may.
worst(day) := k if {
	some k in chills(day, "will")
} else := k if {
	some k in chills(day, "may")
}

chills(day, sure) := array.slice(
	[k |
		some p in day
		k := chill(p)
		k.judgement.certainty == sure
	],
	0, 1,
)

chill(p) := {"step": p.step, "after": p.after, "what": "stands outdoors", "judgement": outdoors(within(p.after))} if {
	p.outdoors
	within(p.after)
} else := {
	"step": p.step,
	"after": p.after,
	"what": sprintf("stands at %s, under %s", [p.cold.measured.text, p.cold.limit.text]),
	"judgement": cold(p.cold, within(p.after)),
} if {
	p.cold != null
	lib.broken(p.cold)
	within(p.after)
}

# A step that follows with no wait written between may come at once.
within(after) := "may" if {
	after.open
} else := lib.below(after, input.limits.cure_day.measure)

since(after) := "how long after its last coat no step says" if {
	after.open
} else := sprintf("%s after its last coat", [after.text])

outdoors("will") := lib.plain("risk")

outdoors("may") := lib.possible("risk")

cold(c, "will") := lib.judged("risk", c)

cold(c, "may") := object.union(lib.judged("risk", c), {"certainty": "may"})
