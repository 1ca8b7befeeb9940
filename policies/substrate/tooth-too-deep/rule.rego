# METADATA
# title: the scratch on the metal is deeper than the film
# description: |
#   A coarse scratch is a furrow with a ridge on each side. Primer runs off the ridge and into the
#   furrow, so that the peaks stand almost bare while the valleys look well filled. Rust starts at
#   the peaks, as a fine dusting of orange dots, and the furrows show through the color once the
#   film has shrunk. A blasted surface does the same when its peaks (the profile) are taller than
#   the primer. It looks like pinpoint rust in lines, or straight grooves under gloss. In the shop:
#   lay a rule across and look against the light; measure film over the peaks and not only the
#   average. On thin zinc and soft aluminum coarse paper also tears away what you meant to keep.
# custom:
#   grade: risk
#   defect: peaks through the primer, pinpoint rust
#   remedy: Take the furrow down with the next finer grades before anything is laid, or lay enough film over it before the first sanding. Use P36 at the coarsest on steel, P80 on aluminum and stainless steel, P180 on zinc.
#   safety:
#     signal: CAUTION
#     text: Coarse grinding throws sparks and hot grit and can set fire to rags and vapor. Wear eye, hand and lung protection fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - "MIL-HDBK-1110 11.4.2.5 (read): a thin film over a deep profile gives pinpoint rust"
#     - "MIL-DTL-53072E 3.2 (read): profile 1.0 mil, give or take 0.5, for a thin urethane system"
#     - common practice
#   limits:
#     - metal_steel_coarse
#     - metal_filler_coarse
#     - metal_aluminum_coarse
#     - metal_galvanized_coarse
#     - depth_sander
#     - depth_other
#     - blast_peak
#   needs:
#     - {in: contacts_on_metal, stripped: false, tooth.coarse_card: past}
#     - {in: contacts_on_metal, stripped: false, tooth.coarse_card: false, tooth.grit: true, tooth.blast: false}
#     - {in: contacts_on_metal, stripped: false, tooth.depth: past}
package guidecoat.substrate["tooth-too-deep"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_on_metal
	judged_here(c)
	g := too_coarse(c)
	v := lib.verdict(
		lib.at_contact(c),
		g.judgement,
		sprintf("%s goes on %s scratched with %s; %s is the coarsest it wants there%s", [
			c.upper_name,
			c.lower_name,
			c.tooth.grit.name,
			g.limit,
			g.says,
		]),
		[e | some e in sanded(c, coarsest(c, g.most))],
	)
}

# The films may also be too thin for a grade that is let in.
verdict contains v if {
	some c in input.contacts_on_metal
	judged_here(c)
	not too_coarse(c)
	d := c.tooth.depth
	d != null
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged("risk", d),
		sprintf("the films on %s come to %s before anything is sanded; the %s wants %s%s", [
			c.lower_name,
			d.measured.text,
			furrow(c.tooth),
			d.limit.text,
			lib.typical(d),
		]),
		[e | some e in finer(c)],
	)
}

# Nothing is judged where those films are stripped off again.
judged_here(c) if {
	c.upper_kind != "body solder"
	not c.stripped
}

too_coarse(c) := {
	"judgement": lib.judged("risk", c.tooth.coarse_card),
	"limit": c.tooth.coarse_card.limit.text,
	"says": ", as its card says",
	"most": c.tooth.coarse_card.limit,
} if {
	c.tooth.coarse_card != null
	not c.tooth.blast
}

too_coarse(c) := {
	"judgement": lib.measured_against("risk", sure, c.tooth.grit.microns, limit),
	"limit": limit.text,
	"says": "",
	"most": limit,
} if {
	c.tooth.coarse_card == null
	not c.tooth.blast
	c.tooth.grit != null
	limit := metal_coarse(c)
	sure := lib.above(c.tooth.grit.microns, limit)
}

metal_coarse(c) := input.limits.metal_filler_coarse.measure if {
	c.lower_traits.steel
	c.upper_kind in lib.fillers
}

metal_coarse(c) := input.limits.metal_steel_coarse.measure if {
	c.lower_traits.steel
	not c.upper_kind in lib.fillers
}

metal_coarse(c) := input.limits.metal_aluminum_coarse.measure if c.lower_kind in {"aluminum", "stainless steel"}

metal_coarse(c) := input.limits.metal_galvanized_coarse.measure if c.lower_traits.zinc

furrow(t) := "blast profile" if t.blast

furrow(t) := "scratch" if {
	not t.blast
	t.grit == null
}

furrow(t) := sprintf("%s scratch", [t.grit.name]) if {
	not t.blast
	t.grit != null
}

# A blast profile is not sanded down again; it wants more film.
finer(c) := [] if c.tooth.blast

finer(c) := sanded(c, finest(c)) if not c.tooth.blast

# Of the grades that take the scratch away: the coarsest that is let in, else the finest there is, for a start.
coarsest(c, limit) := [g.name | some g in c.refine; not lib.above(g.microns, limit)][0]

coarsest(c, limit) := c.refine[count(c.refine) - 1].name if {
	every g in c.refine {
		lib.above(g.microns, limit)
	}
}

# The finest that still grips; where the scratch is to be sanded down so far in more than one step, the first of them.
finest(c) := grits[count(grits) - 1] if {
	grits := [g.name | some g in c.refine; not lib.below(g.microns, least(c))]
}

least(c) := c.tooth.fine_card.limit if c.tooth.fine_card != null

least(c) := lib.metal_fine(c) if c.tooth.fine_card == null

# The paper itself may be a finer one; what is stripped is sanded after.
sanded(c, grit) := array.concat(
	[lib.set_key(c.tooth.grit.step, "grit", grit) |
		c.tooth.by == "abrasion"
		c.tooth.grit.do in {"sand", "block"}
	],
	lib.abraded_before(c, {"do": "sand", "grit": grit}),
)
