# METADATA
# title: a film goes on after the window of the one beneath has shut
# description: |
#   For some hours after it is laid, a curing film still has free ends at its surface, and the
#   next coat ties onto them. When they are used up the surface is a closed plate; from then on
#   paint can only hang on to scratches. Wiping makes the plate clean, it does not make scratches.
#   It shows as paint that comes away in clean sheets, beginning at a stone chip or an edge. In the
#   shop: cut a grid through the paint and pull tape off it; if the back of what comes up is glossy
#   and so is the panel, the window was missed. Acid and wash primer and adhesion promoter are too
#   thin to scuff: past their window they are laid again. A clear, once its own coats are on, takes
#   another film only when it has hardened and was scuffed.
# custom:
#   grade: fails
#   defect: peeling between coats
#   remedy: Scuff all of it, edges and corners too, clean it, and lay the next film. Lay acid primer, wash primer and promoter again instead. If it is painted already, strip it down to the film that was left too long.
#   safety:
#     signal: CAUTION
#     text: Scuffing makes dust that harms the lungs; wear a respirator fit for it, or scuff wet where the film may be wetted. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#     - "MIL-HDBK-1110 11.4.2.3: epoxy or urethane cured too hard before the next coat delaminates (read)"
#   limits:
#     - grace
#   needs:
#     - {in: contacts, gap_applies: true, recoat_most: past}
#     - {in: contacts, gap_applies: true, window_shut: true}
#   covers:
#     - scratch-too-fine
package guidecoat.clock["window-missed"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.gap_applies
	bonds(c)
	not reopened(c)
	w := c.recoat_most
	w != null
	v := lib.verdict(
		lib.at_contact(c),
		lib.judged("fails", w),
		sprintf("%s goes on %s after %s; %s its window is %s%s", [
			c.upper_name,
			c.lower_name,
			c.gap.text,
			unhelped(c),
			w.limit.text,
			lib.typical(w),
		]),
		mend(c),
	)
}

# A film that unsanded takes its own coats alone has no window for this one at any time.
# What lies unleveled under a film has a rule of its own.
verdict contains v if {
	some c in input.contacts
	c.gap_applies
	c.window_shut
	not c.lower_pore
	bonds(c)
	not c.gap.open
	not reopened(c)
	v := lib.verdict(
		lib.at_contact(c),
		never(c),
		sprintf("%s goes on %s after %s; once its own coats are on, it takes no film unsanded%s", [
			c.upper_name,
			c.lower_name,
			c.gap.text,
			said(c),
		]),
		lib.scuffed(c),
	)
}

# Wax lies on a film and need not hold on to it.
bonds(c) if c.upper_kind != "cavity wax"

reopened(c) if {
	c.abraded
	not lib.relaid(c)
}

# Laying it again is what opens it.
reopened(c) if {
	lib.relaid(c)
	c.upper_kind == c.lower_kind
}

mend(c) := lib.scuffed(c) if not lib.relaid(c)

mend(c) := [lib.insert_before(c.step, s) |
	card := input.cards[c.lower_card]
	some s in lib.steps_at(c.zone, laying(card, {
		"do": "spray",
		"product": card.name,
		"then_wait": c.recoat_least.limit.text,
	}))
] if {
	lib.relaid(c)
}

laying(card, step) := step if card.use == ""

laying(card, step) := object.union(step, {"as": card.use}) if card.use != ""

unhelped(c) := "unsanded" if not lib.relaid(c)

unhelped(c) := "it is laid again and not scuffed, and" if lib.relaid(c)

by_card(c) if contains(object.get(input.cards[c.lower_card].card, "recoat", ""), "never")

never(c) := object.union(lib.plain("fails"), {"measured": c.gap.shown}) if by_card(c)

never(c) := object.union(lib.possible("fails"), {"measured": c.gap.shown, "leaned": [sprintf("%s.recoat", [c.lower_card])]}) if not by_card(c)

said(c) := "" if by_card(c)

said(c) := " (typical; copy the data sheet's)" if not by_card(c)
