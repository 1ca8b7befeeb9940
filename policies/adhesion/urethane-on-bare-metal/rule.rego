# METADATA
# title: "urethane surfacer or sealer lies on bare metal"
# description: |
#   Urethane surfacers and sealers are built to stick to primer and sanded paint. Most of them do
#   not bite bare metal nor flow into its scratch, and they let moisture through. So rust starts
#   beneath a film that only lies there. Some are made for metal; their data sheet says so, or names
#   a largest bare spot they may cover. A rub-through the size of a stamp is often let pass in the
#   trade; a whole panel is not.
#
#   It looks like chips that grow, with bright or rusty metal and a clean back on the flake. In the
#   shop: when the film has cured, cut a grid over the bare place and pull tape off it.
# custom:
#   grade: fails
#   defect: "peeling"
#   remedy: "Prime the bare metal first: epoxy, or a thin acid primer followed by the surfacer inside its window. If the data sheet allows bare metal or a bare spot of some size, copy that onto the card."
#   safety:
#     signal: WARNING
#     text: "Urethane surfacers and sealers carry isocyanate: supplied air and covered skin when they are sprayed. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - spot_metal_typical
#   needs:
#     - {in: contacts_on_metal, upper_kind: [urethane surfacer, urethane sealer]}
package guidecoat.adhesion["urethane-on-bare-metal"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_on_metal
	c.upper_kind in {"urethane surfacer", "urethane sealer"}
	not lib.let_in(c)
	[judgement, words] := found(c)
	v := lib.verdict(
		lib.at_contact(c),
		judgement,
		sprintf("%s goes straight on %s, and its card does not say that it may%s", [c.upper_name, c.lower_name, words]),
		lib.sprayed_between(c, ["epoxy primer", "one-part acid primer", "two-part wash primer"]),
	)
}

# Beyond a spot: nothing eases it.
found(c) := [lib.plain("fails"), ""] if not spot(c)

# A spot against the most that the card lets it cover.
found(c) := [eased("advice", c.spot_metal), words(c.spot_metal, "the card's", c.spot_metal.limit.text)] if {
	spot(c)
	c.spot_metal != null
}

# A spot of which the card is silent.
found(c) := [eased("risk", c.spot_typical), words(c.spot_typical, "the usual", input.limits.spot_metal_typical.measure.text)] if {
	spot(c)
	c.spot_metal == null
}

# Only where a cut went through, and only if the card does not forbid metal outright. A strip
# counts as a cut, but not where it bared more than a spot, or nobody says how much.
spot(c) if {
	c.card_says != "forbids"
	size(c) != null
	taken_down(c)
}

taken_down(c) if c.zone_facts.cut

taken_down(c) if {
	c.tooth.bared != ""
	most := size(c)
	not most.open
	not past(most)
}

past(size) if lib.broken(size) == "will"

size(c) := c.spot_metal if c.spot_metal != null

size(c) := c.spot_typical if c.spot_metal == null

# A spot surely within the size has the lighter grade; one that nobody measured may be larger.
eased(light, size) := lib.measured_against(light, "will", size.measured, size.limit) if {
	not size.open
	not lib.broken(size)
}

eased(_, size) := lib.judged("fails", size) if lib.broken(size)

eased(_, size) := lib.possible("fails") if size.open

words(size, whose, most) := sprintf("; the bare spot is %s, and %s limit is %s", [size.measured.text, whose, most]) if {
	not size.open
}

words(size, whose, most) := sprintf("; nobody says how large the bare spot is, and %s limit is %s", [whose, most]) if {
	size.open
}
