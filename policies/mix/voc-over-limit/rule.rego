# METADATA
# title: the mix as applied is over a published VOC figure
# description: |
#   VOC is the solvent that leaves the film and goes into the air. It is counted by weight in each
#   liter of paint as it stands in the gun. Water is not counted, nor the few solvents that the law
#   lets go. In sunlight it makes smog, and in the booth it is what you breathe. Every sort of
#   product has a published figure for it. A product can be under it in the can and over it in the
#   cup, because each part of reducer adds nearly its whole weight. It looks like any other coat:
#   nothing shows on the panel. In the shop: the data sheet gives the figure 'ready for use' for
#   each mix; look for the line with your reducer. Some figures hold for whoever makes and sells the
#   product, some for whoever sprays it.
# custom:
#   grade: fails
#   defect: over a published figure
#   remedy: Reduce less, take a reducer with less VOC or an exempt one, or a product made for the figure. Work it out for the mix in the cup and not for the can.
#   safety:
#     signal: NOTICE
#     text: What a mix may hold, and for whom, is a matter of the local code; this is a figure beside a figure and no finding of law. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - "40 CFR 59 subpart B table 1 (second)"
#     - "2004/42/EC annex II B (second)"
#     - "Quebec Clean Air Regulation Q-2 r. 4.1 s. 38 (read)"
#     - "40 CFR 59.104(a): VOC as mixed for use, less water and exempt compounds (words read, arrangement from memory)"
#   limits: []
#   needs:
#     - {in: vocs, compared: past}
package guidecoat.mix["voc-over-limit"]

import data.guidecoat.lib

verdict contains v if {
	some x in input.vocs
	c := x.compared
	v := lib.verdict(
		{"on": x.id, "zone": null, "step": x.steps[0], "rests": {"step": x.id}, "place": x.place},
		lib.judged(grade[x.binds], c),
		sprintf("%s as applied holds %s of VOC; the figure for '%s' is %s (%s)", [
			x.name,
			c.measured.text,
			x.category,
			c.limit.text,
			x.source,
		]),
		[],
	)
}

# A rule that binds who sprays it is broken by spraying it; one that binds the maker may be kept to by the can.
grade := {"user": "fails", "maker": "risk"}
