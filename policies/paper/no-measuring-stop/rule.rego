# METADATA
# title: a finished sheet never measures its film
# description: |
#   Film is the one thing you can measure before the panel leaves, and nobody can see it by eye. Too
#   little clear dies early, too much paint cracks. It looks right on the day, thin or thick.
#   Without a stop for the gauge the first reading is taken after the complaint. In the shop: a
#   gauge takes ten seconds a spot; five spots a panel, written down.
# custom:
#   grade: advice
#   defect: "an unknown film"
#   remedy: "Add a step that measures the film, before the panel is handed on."
#   safety:
#     signal: NOTICE
#     text: "A gauge reading tells the film, not whether the work is sound. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "SSPC-PA 2: spots averaged, each within 80-120 % of the range (second)"
#   limits: []
#   needs:
#     - {in: sheet, ends_as: finished, inspects: {not: film}}
package guidecoat.paper["no-measuring-stop"]

import data.guidecoat.lib

verdict contains v if {
	input.sheet.ends_as == "finished"
	not "film" in input.sheet.inspects
	v := lib.verdict(
		{"on": "sheet", "zone": null, "step": null, "rests": {"sheet": "sheet"}, "place": input.sheet.place},
		lib.plain("advice"),
		"the sheet ends finished and has no stop to measure the film",
		[lib.insert_after(count(input.steps), {"do": "inspect", "measure": ["film"]})],
	)
}
