# METADATA
# title: clear fades out in the middle of a panel
# description: |
#   Clear that is blown out to nothing ends in a feather edge thinner than paper. Sun
#   and washing lift that edge, and it cannot be polished without going through. At a
#   seam, a body line or a panel break the edge is hidden and sheltered. It looks fine
#   when polished; in a year there is a ring of dull skin and then it peels. In the
#   shop: run a fingernail over it, and look along it against a lamp. Some painters do
#   it with a melting thinner on small jobs; it does not last.
# custom:
#   grade: risk
#   defect: "halo, edge peels"
#   remedy: "Carry clear and single stage to the next panel break, or to tape at a body line; let only the color fade."
#   safety:
#     signal: WARNING
#     text: "Clearing a larger area is longer isocyanate work: supplied air, booth, covered skin. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
package guidecoat.film["clear-faded-in-open-panel"]

import data.guidecoat.lib

single_stage := {"single-stage urethane", "single-stage enamel"}

verdict contains v if {
	some c in input.contacts_under_color
	ends_here(c)
	c.fades
	c.zone_facts.edge != "panel break"
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain("risk"),
		sprintf("%s fades out where no panel break hides its edge", [c.upper_name]),
		[],
	)
}

ends_here(c) if c.upper_traits.class == "clear"

ends_here(c) if c.upper_kind in single_stage
