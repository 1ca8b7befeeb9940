# METADATA
# title: bare metal is not degreased after its last abrasion
# description: |
#   Hands, compressor oil, wax and the drawing oil of new sheet sit on metal as a film you can't
#   see. Wet paint pulls back from oil, because oil lowers the tension that holds the surface flat,
#   and leaves a round crater; where it does lie down, it has grease to grip and not metal. Sanding
#   does not take oil away, it works it into the scratch. It looks like craters down to the metal,
#   or like primer that comes off in patches, with a clean back. In the shop: sprinkle clean water
#   where it does no harm, on a test piece of the same metal; if it draws into beads, there is oil.
#   Alcohol, soap and a tack cloth do not count: they leave oil behind. Freshly blasted metal has
#   nearly no oil on it, so some blow it off and prime within the hour; the compressor's oil is the risk.
# custom:
#   grade: fails
#   defect: fisheyes, peeling
#   remedy: After the last abrasion wipe the metal with wax and grease remover, one wet rag and one dry, before it dries by itself. On aluminum, zinc and stainless steel a water-borne cleaner will do. Repeat after every handling.
#   safety:
#     signal: WARNING
#     text: Cleaners and thinner burn, and their vapor finds a flame across the room; soaked rags can set themselves alight. Keep flame and sparks away, wear gloves and eye protection. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits:
#     - blast_fresh
#   needs:
#     - {in: contacts_on_metal, prep.solvent: false, prep.thinner: false, prep.acid_after_solvent: false}
#     - {in: contacts_on_metal, prep.solvent: false, prep.thinner: true}
#   covers:
#     - clean-again-after-break
#     - cleaner-not-flashed
package guidecoat.substrate["bare-metal-not-degreased"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_on_metal
	c.upper_kind != "body solder"
	not lib.degreased(c)
	v := lib.verdict(lib.at_contact(c), judgement(c), message(c), lib.wiped_before(c, "wax and grease remover"))
}

verdict contains v if {
	some c in input.contacts_on_metal
	c.upper_kind != "body solder"
	thinner_alone(c)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("advice"),
		sprintf("%s is wiped with lacquer thinner before %s: it takes oil off, but it burns and leaves a residue", [c.lower_name, c.upper_name]),
		lib.wiped_before(c, "wax and grease remover"),
	)
}

thinner_alone(c) if {
	c.prep.thinner
	not c.prep.solvent
}

# Blasted and blown off: within the hour of it a risk, past it the oil is back.
fresh_blast(c) if {
	c.prep.blasted
	c.prep.blown_off
	c.prep.blast_age != null
	not c.prep.last_abraded_step in hammered
}

ground_in(c) if {
	c.upper_kind in lib.fillers
	c.prep.before_abrasion
	not c.prep.last_abraded_step in hammered
}

# Steps that put hands and oil on the metal again, after whatever made it clean.
hammered := {s.n |
	some s in input.steps
	s.do == "metalwork"
}

judgement(c) := lib.plain("risk") if ground_in(c)

judgement(c) := lib.plain("risk") if {
	not ground_in(c)
	fresh_blast(c)
	not lib.broken(c.prep.blast_age)
}

judgement(c) := lib.judged("fails", c.prep.blast_age) if {
	not ground_in(c)
	fresh_blast(c)
	lib.broken(c.prep.blast_age)
}

judgement(c) := lib.plain("fails") if {
	not ground_in(c)
	not fresh_blast(c)
}

message(c) := sprintf("%s goes on %s that was degreased before it was ground, and not since", [c.upper_name, c.lower_name]) if ground_in(c)

message(c) := sprintf("%s goes on %s that was blasted and blown off, but not degreased", [c.upper_name, c.lower_name]) if {
	not ground_in(c)
	fresh_blast(c)
	not lib.broken(c.prep.blast_age)
}

message(c) := sprintf("%s goes on %s %s after blasting and is not degreased; blown off alone is let pass for %s", [
	c.upper_name,
	c.lower_name,
	c.prep.blast_age.measured.text,
	c.prep.blast_age.limit.text,
]) if {
	not ground_in(c)
	fresh_blast(c)
	lib.broken(c.prep.blast_age)
}

message(c) := sprintf("%s goes on %s, and nothing degreased it since it was last abraded or handled%s", [
	c.upper_name,
	c.lower_name,
	instead(c),
]) if {
	not ground_in(c)
	not fresh_blast(c)
}

# What was wiped on it since, where that does not count. A wipe before metalwork only came too early.
instead(c) := sprintf(" (%s does not count)", [concat(", ", since(c))]) if count(since(c)) > 0

instead(c) := "" if count(since(c)) == 0

since(c) := [w.agent |
	some w in c.wipes
	w.step > c.prep.last_abraded_step
]
