# METADATA
# title: "filler lies on an old finish"
# description: |
#   Filler pulls as it shrinks, and it holds no better than what it lies on. Styrene, the solvent in
#   filler, softens lacquers and one-part enamels, so that the filler sits on jelly; powder coat and
#   other smooth finishes give it nothing to grip; a seam sealer gives way beneath it. The edge of
#   the old paint then swells under the new and shows as a line.
#
#   Schools differ on one thing: many finishing putties are laid on well sanded factory or
#   two-part finish, for a chip or a scratch, and hold. It saves stripping; what it costs is
#   that the repair can be no better than the old paint.
#
#   It looks like the outline of the repair showing through, or filler that chips off with paint on
#   its back. In the shop: a thinner-wet rag held two minutes on the old paint; if that softens it,
#   nothing may be built on it.
# custom:
#   grade: fails
#   defect: "edge mapping, delamination"
#   remedy: "Take the old finish off to metal a hand wider than the repair, and feather its edge. Prime the metal as the work asks, and fill that."
#   safety:
#     signal: WARNING
#     text: "Old paint may hold lead or chromate: test before you sand or strip it, and wear a respirator fit for it. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts, upper_traits.class: filler, lower_traits.class: [finish, color, clear, seam, coating]}
#     - {in: contacts, upper_traits.class: filler, lower_kind: lacquer primer}
package guidecoat.adhesion["filler-on-old-finish"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.upper_kind in lib.fillers
	not lib.let_in(c)
	not at_home(c)
	judgement := judged(c)
	v := lib.verdict(
		lib.at_contact(c),
		judgement,
		sprintf("%s lies on %s; it holds no better than what is under it", [c.upper_name, c.lower_name]),
		lib.stripped_before(c),
	)
}

judged(c) := lib.plain("fails") if softens(c)

judged(c) := lib.possible("fails") if c.lower_kind == "unknown finish"

judged(c) := lib.plain("advice") if {
	hard(c)
	glazes(c)
}

judged(c) := lib.plain("risk") if {
	hard(c)
	not glazes(c)
}

judged(c) := lib.plain("risk") if c.lower_kind == "seam sealer"

# What solvent softens, what has no hardener, what is too smooth to hold filler.
softens(c) if c.lower_kind in {"powder coat", "lacquer primer"}

softens(c) if {
	topcoat(c)
	one_part(c.lower_traits)
}

one_part(t) if not t.two_part

one_part(t) if t.reversible

# Color and clear that cured with a hardener. Primers and gelcoat are no topcoat.
hard(c) if {
	topcoat(c)
	not one_part(c.lower_traits)
}

topcoat(c) if c.lower_kind in {
	"factory finish", "two-part refinish", "aged enamel", "aged lacquer", "underbody coating",
}

topcoat(c) if c.lower_traits.class in {"color", "clear"}

# Finishing putty on sanded paint.
glazes(c) if {
	c.upper_kind == "finishing putty"
	c.abraded
	c.lower_kind != "underbody coating"
}

# A one-part putty belongs to the lacquer that it dries like.
at_home(c) if {
	c.upper_kind == "one-part putty"
	c.lower_traits.reversible
}
