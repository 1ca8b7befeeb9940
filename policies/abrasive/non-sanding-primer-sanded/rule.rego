# METADATA
# title: "a film that is not for sanding is sanded"
# description: |
#   Some primers and sealers are made to be covered as they lie. They stay a little soft and
#   rubbery until they are cured right through, and paper does not cut them: it rolls them
#   up, clogs, and drags crumbs of the film across the surface. What is left is torn, with
#   bare places and deep furrows. Once an epoxy has cured past its sanding time it cuts to
#   powder like any other film. Scuffing lightly for grip is let pass.
#
#   It looks like balls of primer on the paper and streaks of it smeared over the panel. In
#   the shop: rub a corner with a fresh piece of P400; dust means go on, balls mean wait.
# custom:
#   grade: risk
#   defect: "gummed paper, torn film"
#   remedy: "Cover it unsanded inside its window, or wait until the time its card gives for sanding; if it has torn, let it cure, sand it out and lay it again."
#   safety:
#     signal: CAUTION
#     text: "Film that is not cured still holds free hardener, and its dust too. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: abrasions, do: [sand, block], surface_traits.sandable: false, surface_traits.acid: false, existing: false}
package guidecoat.abrasive["non-sanding-primer-sanded"]

import data.guidecoat.lib

verdict contains v if {
	some a in input.abrasions
	a.do in {"sand", "block"}
	made_to_be_left(a)
	[judgement, words] := found(a)
	v := lib.verdict(
		lib.at_surface(a),
		judgement,
		sprintf("%s is sanded with %s and is no film for sanding%s", [a.surface_name, a.grit.name, words]),
		[e |
			a.sand_after != null
			some e in lib.longer_wait(input.layers_by_id[a.layer].step, a.sand_after.limit.text)
		],
	)
}

# A film of this sheet, not sandable by its card or kind. Acid primer and promoter have a rule of their own.
made_to_be_left(a) if {
	not a.surface_traits.sandable
	not a.surface_traits.acid
	not a.surface_traits.class in {"promoter", "substrate"}
	not a.existing
}

found(a) := [lib.judged("risk", a.sand_after), sprintf(" before %s; it is %s old%s", [
	a.sand_after.limit.text,
	a.sand_after.measured.text,
	lib.typical(a.sand_after),
])] if {
	a.sand_after != null
	not a.sand_after_baked
	lib.broken(a.sand_after)
}

# No time at all is given after which it could be.
found(a) := [lib.plain("risk"), ""] if a.sand_after == null
