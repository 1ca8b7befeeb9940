# METADATA
# title: hardener goes into a one-part product
# description: |
#   A one-part film has nothing for a hardener to take hold of unless its maker put it there. In
#   most it stays in as a foreigner: it draws water, clouds the film, or sets it off in part. The
#   film then swells under the next coat, because half of it hardened and half did not. Basecoat and
#   enamel are the exception. Many of their data sheets let in some hardener, to bind the color or
#   to dry the enamel through. Painters gain chip strength by it; the price is a shorter window and
#   a cup that is now as hazardous as its hardener. It looks like wrinkled recoats and milky
#   patches. In the shop: look for the word 'activated' on the data sheet, not in the talk.
# custom:
#   grade: risk
#   defect: wrinkling, clouding, a cup more hazardous than it looks
#   remedy: Leave the hardener out, or use only the one that the data sheet names, at its share. Then keep to the windows and the protection that go with it.
#   safety:
#     signal: WARNING
#     text: Most paint hardeners are isocyanates, which can bring on asthma for life; a cup with hardener in it is handled as one. Follow the safety data sheets of both, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: mixes, two_part: false, hardener_parts: true}
#     - {in: mixes, two_part: false, hardener_name: true}
#     - {in: mixes, two_part: false, paste: true}
#     - {in: mixes, two_part: false, additive_kind: hardener}
package guidecoat.mix["hardener-in-one-part"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.mixes
	not m.two_part
	hardened(m)
	v := lib.verdict(
		lib.at_step(m),
		lib.plain(grade(m)),
		sprintf("%s is one-part, and %s goes into its cup%s%s", [m.name, what(m), allowed(m), carries(m)]),
		array.concat(left_out(m), poured_without(m)),
	)
}

hardened(m) if m.hardener_parts > 0

hardened(m) if m.hardener_name != ""

hardened(m) if m.paste != null

hardened(m) if m.additive_kind == "hardener"

often := {"solvent basecoat", "waterborne basecoat", "single-stage enamel"}

let_in(m) if {
	count(m.card_hardeners) > 0
	m.hardener_known != "foreign"
}

grade(m) := "advice" if m.kind in often

grade(m) := "advice" if let_in(m)

grade(m) := "risk" if {
	not m.kind in often
	not let_in(m)
}

what(m) := m.hardener_name if m.hardener_name != ""

what(m) := m.additive_name if {
	m.hardener_name == ""
	m.additive_kind == "hardener"
}

what(m) := "hardener" if {
	m.hardener_name == ""
	m.additive_kind != "hardener"
}

allowed(m) := ", as its card lets in" if let_in(m)

allowed(m) := "" if not let_in(m)

carries(m) := "; the cup is isocyanate work then" if m.isocyanate

carries(m) := "" if not m.isocyanate

# The card's own mix leaves it out where the share is all that brings it in.
left_out(m) := [lib.set_key(m.step, "mix", m.card_mix) |
	m.written == "step"
	m.card_mix != ""
	m.card_mix != m.step_mix
	m.hardener_name == ""
	m.additive_kind != "hardener"
]

# What the step names is left out of the cup.
poured_without(m) := array.concat(
	[lib.unset_key(m.step, "hardener") | m.hardener_name != ""],
	[lib.unset_key(m.step, "additive") | m.additive_kind == "hardener"],
)
