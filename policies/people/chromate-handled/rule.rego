# METADATA
# title: chromate is sprayed or sanded with nothing against breathing it
# description: |
#   Some primers stop rust with chromate, a salt of chromium. Breathed in as mist or dust it can
#   cause cancer years later. It looks like any other primer: you cannot see it in the can or in the
#   dust. In the shop: look for strontium, zinc or barium chromate, or chromium(VI), on the safety
#   data sheet; old aircraft and truck primers are the usual ones.
# custom:
#   grade: fails
#   defect: "cancer"
#   remedy: "Use a primer without chromate where one will do. Where it must be, spray it in supplied air, and sand it only with a respirator fit for it. Keep the dust wet or drawn off."
#   safety:
#     signal: WARNING
#     text: "Chromate mist and dust can cause cancer. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "29 CFR 1910.1026: limit 5 µg/m³, action level 2.5 µg/m³ (second)"
#   limits: []
#   needs:
#     - {in: mixes, chromate: true, sprayed: true, wear: {not: supplied-air respirator}}
#     - {in: steps, worked.hazards: chromate}
package guidecoat.people["chromate-handled"]

import data.guidecoat.lib

breathing := {"particulate respirator", "cartridge respirator", "supplied-air respirator", "blast hood"}

verdict contains v if {
	some m in input.mixes
	m.chromate
	m.sprayed
	not "supplied-air respirator" in m.wear
	v := lib.verdict(
		lib.at_step(m),
		lib.plain("fails"),
		sprintf("%s holds chromate and is sprayed, and no supplied-air respirator is written for the step", [m.name]),
		[],
	)
}

verdict contains v if {
	some s in input.steps
	s.do in {"sand", "block", "scuff", "strip"}
	not s.tool in {"chemical stripper", "razor"}
	not breathed(s)
	names := sort({w.name | some w in s.worked; "chromate" in w.hazards})
	count(names) > 0
	v := lib.verdict(
		{"on": s.id, "zone": null, "step": s.n, "rests": {"step": s.id}, "place": s.place},
		lib.plain("fails"),
		sprintf("%s holds chromate and is abraded, and the step writes no respirator", [concat(" and ", names)]),
		[],
	)
}

breathed(s) if {
	some w in s.wear
	w in breathing
}
