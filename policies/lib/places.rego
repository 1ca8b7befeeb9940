package guidecoat.lib

# Where an offered step can be sent, and the steps that several rules offer.

# The kinds that fill: spread thick, and porous. Body solder is metal, seam sealer is not porous.
fillers := {
	"body filler", "fiber filler", "finishing putty", "one-part putty", "plastic repair filler",
}

# The zone each zone was cut from, or "".
parents := {z.name: z.parent | some z in input.zones}

# named is the word that sends a step to zone z alone; undefined for a cut that has no name of its own.
named(z) := z if object.get(parents, z, "") == ""

named(z) := split(z, " (")[0] if {
	object.get(parents, z, "") != ""
	not contains(z, " cut to ")
}

# around is the word for z, or else for the nearest zone it was cut from that has one.
around(z) := named(z) if {
	named(z)
} else := named(parents[z]) if {
	named(parents[z])
} else := named(parents[parents[z]])

# sent_to gives a step the key that brings it to the zone a word names; a panel that is one zone needs none.
sent_to(_, step) := step if count(parents) < 2

sent_to(word, step) := object.union(step, {"on": [word]}) if count(parents) > 1

# steps_at is one step brought to zone z alone, as a list; empty where it cannot be told to.
steps_at(z, step) := [sent_to(word, step) | word := named(z)]

# steps_around is one step brought to z and perhaps what lies about it, as a list.
steps_around(z, step) := [sent_to(word, step) | word := around(z)]

# rinse is a water rinse that is dried in time; wipe a clean with a helper of some kind that is left to dry.
rinse := {"do": "rinse", "dried_within": input.limits.rinse_dry.measure.text}

wipe(kind) := {"do": "clean", "with_kind": kind, "then_wait": input.limits.water_flash.measure.text}

# wiped_before offers a wipe of the place of a contact just before its film.
wiped_before(c, kind) := [insert_before(c.step, s) |
	some s in steps_around(c.zone, {"do": "clean", "with_kind": kind, "then_wait": drying(c)})
]

# drying is long enough for a wipe to leave what it may have reached: porous films want the longer wait.
drying(c) := input.limits.porous_dry_out.measure.text if porous_near(c)

drying(c) := input.limits.water_flash.measure.text if not porous_near(c)

porous_near(c) if c.lower_pore

porous_near(c) if object.get(parents, c.zone, "") != ""

# abraded_before offers an abrasion of the place of a contact: before the last wipe it has, and just before its film.
abraded_before(c, step) := [insert_before(n, s) |
	some n in array.concat([w.step | some w in array.slice(c.wipes, count(c.wipes) - 1, count(c.wipes))], [c.step])
	some s in steps_at(c.zone, step)
]

# degreased says whether metal was wiped with what takes oil off it since it was last abraded or handled.
# A water-borne cleaner counts where the metal does not rust; an acid wash only after a solvent wipe.
degreased(c) if c.prep.solvent

degreased(c) if c.prep.thinner

degreased(c) if {
	c.prep.water_cleaner
	not c.lower_traits.steel
}

degreased(c) if c.prep.acid_after_solvent

# metal_fine is the finest abrasive that still grips for the upper film of a contact with bare metal.
metal_fine(c) := input.limits.metal_steel_acid_fine.measure if {
	c.lower_traits.steel
	c.upper_traits.acid
}

metal_fine(c) := input.limits.metal_filler_fine.measure if {
	c.lower_traits.steel
	c.upper_kind in fillers
}

metal_fine(c) := input.limits.metal_steel_fine.measure if {
	c.lower_traits.steel
	not c.upper_traits.acid
	not c.upper_kind in fillers
}

metal_fine(c) := input.limits.metal_stainless_fine.measure if c.lower_kind == "stainless steel"

metal_fine(c) := input.limits.metal_aluminum_fine.measure if c.lower_kind == "aluminum"

metal_fine(c) := input.limits.metal_galvanized_fine.measure if c.lower_traits.zinc

# metal_grit is a grade that a bare metal may be sanded with for the upper film: the card's own, else the table's.
metal_grit(c) := c.tooth.fine_card.limit.text if c.tooth.fine_card != null

metal_grit(c) := metal_fine(c).text if c.tooth.fine_card == null
