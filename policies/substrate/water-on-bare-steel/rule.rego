# METADATA
# title: water reaches bare steel
# description: |
#   Bare steel starts to rust as soon as water lies on it, long before the eye sees brown. The first
#   skin of rust is thinner than a breath. A primer sprayed on it holds to the rust, not to the
#   steel. The rust goes on growing with the water and salt shut in beneath. It looks like an orange
#   cast at first, later like worms and small blisters that run out from chips. In the shop: wipe
#   the metal with a white rag and solvent cleaner; brown on the rag is rust that has begun. A rinse
#   after acid, neutralizer or stripper has to be; it is let pass when the metal is dried at once.
#   Sanding dry or blasting afterwards takes most of the bloom off, but not for certain what sits
#   deep in the scratch.
# custom:
#   grade: fails
#   defect: flash rust
#   remedy: Wipe bare steel with a solvent cleaner only. Where water must touch it, blow and wipe it dry within minutes. If it was wet, sand it dry with P180 or coarser, or blast it. Wipe it with solvent cleaner, and prime it in the same shift.
#   safety:
#     signal: CAUTION
#     text: Solvent cleaner burns and its vapor makes dizzy; work with air moving and no flame near. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - rinse_dry
#     - dry_abrasive
#   needs:
#     - {in: touches, water: true, bare_steel: true}
package guidecoat.substrate["water-on-bare-steel"]

import data.guidecoat.lib

verdict contains v if {
	some t in input.touches
	t.water
	t.bare_steel
	v := lib.verdict(lib.at_surface(t), judgement(t), message(t), mend(t))
}

# A rinse that washes acid or stripper off has to be; only how long the steel stays wet is judged.
has_to_be(t) if {
	t.do == "rinse"
	t.follows_wet
}

judgement(t) := lib.plain(grade(t)) if not has_to_be(t)

judgement(t) := lib.possible(grade(t)) if {
	has_to_be(t)
	t.dried == null
}

judgement(t) := lib.judged(grade(t), t.dried) if {
	has_to_be(t)
	t.dried != null
}

grade(t) := "risk" if taken_off(t)

grade(t) := "fails" if not taken_off(t)

# Most of the rust is gone again when the place was abraded dry or acid-washed before its next film.
taken_off(t) if {
	t.covered
	t.dry_abraded
}

taken_off(t) if {
	t.covered
	t.acid_washed
}

message(t) := sprintf("%s wets bare %s%s", [agent(t), t.surface_name, after(t)]) if not has_to_be(t)

message(t) := sprintf("the rinse wets bare %s, and the sheet does not say within what time it is dried (at most %s)", [
	t.surface_name,
	input.limits.rinse_dry.measure.text,
]) if {
	has_to_be(t)
	t.dried == null
}

message(t) := sprintf("the rinse leaves bare %s wet for %s; it must be dry within %s%s", [
	t.surface_name,
	t.dried.measured.text,
	t.dried.limit.text,
	after(t),
]) if {
	has_to_be(t)
	t.dried != null
}

agent(t) := t.agent if t.do != "rinse"

agent(t) := "a rinse" if t.do == "rinse"

after(t) := "; what is done to it before the next film takes off most of the rust, but perhaps not all" if taken_off(t)

after(t) := ", and nothing takes the rust off before the next film" if {
	not taken_off(t)
	t.covered
}

after(t) := ", and no film follows" if not t.covered

mend(t) := [lib.set_key(t.step, "with_kind", "wax and grease remover")] if t.do != "rinse"

mend(t) := [lib.set_key(t.step, "dried_within", input.limits.rinse_dry.measure.text)] if has_to_be(t)

mend(t) := [lib.drop(t.step)] if {
	t.do == "rinse"
	not t.follows_wet
}
