# METADATA
# title: "sanded basecoat is cleared with no base between"
# description: |
#   Basecoat is thin and soft, and its flakes lie as the gun left them. Abrasive tears and
#   tilts the flakes and cuts grooves into the color. Clear over it wets the grooves and
#   makes them plain: flakes that stand differently throw the light back differently. In a
#   solid color the scratch itself swells and shows.
#
#   It looks like dark streaks and blotches in a metallic that follow the sander, or fine
#   lines in a solid color. In the shop: wet the sanded base with a little cleaner in low
#   sun or a side light; what you see then is what the clear will show.
# custom:
#   grade: fails
#   defect: "scratches, dark streaks"
#   remedy: "After sanding a nib or a fault out of the base, lay another coat of the same base over the place and blend it. Let it flash, and then clear."
#   safety:
#     signal: CAUTION
#     text: "Base and clear are flammable, and an activated base carries isocyanate. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: contacts_under_color, upper_traits.class: clear, lower_kind: [solvent basecoat, waterborne basecoat, mid coat], abraded: true}
package guidecoat.adhesion["sanded-base-cleared"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_under_color
	c.upper_traits.class == "clear"
	c.lower_kind in {"solvent basecoat", "waterborne basecoat", "mid coat"}
	c.abraded
	effect := effect_of(c.lower_card)
	v := lib.verdict(
		lib.at_contact(c),
		lib.plain(grade(effect)),
		sprintf("%s goes over %s that was abraded, with no base between", [c.upper_name, c.lower_name]),
		[lib.insert_before(c.step, s) |
			name := input.cards[c.lower_card].name
			some s in lib.steps_at(c.zone, {"do": "spray", "product": name})
		],
	)
}

default effect_of(_) := ""

effect_of(card) := input.cards[card].effect

grade(effect) := "fails" if effect in {"metallic", "pearl"}

grade(effect) := "risk" if not effect in {"metallic", "pearl"}
