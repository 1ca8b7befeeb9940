# METADATA
# title: dry dust is made with nothing against breathing it
# description: |
#   Dry sanding and stripping throw dust too fine to see, and it floats for hours. It
#   reaches the bottom of the lungs and stays. Filler dust holds glass and talc, old
#   paint may hold lead, some primers hold chromate, and blasting breaks every grain
#   smaller. It looks like a grey film on the bench the next morning. In the shop: wipe
#   a shelf in the evening and look at the rag; what is there was in your lungs too.
#   Extraction at the tool takes most of it away, but not enough when the dust is lead
#   or chromate or comes from a blast nozzle.
# custom:
#   grade: fails
#   defect: "lung disease"
#   remedy: "Write a respirator fit for the dust, or a sander with extraction; for lead, chromate and blasting a respirator in every case, and for blasting a hood or a cabinet."
#   safety:
#     signal: WARNING
#     text: "Dust of old paint, primer and filler can cause lasting lung disease. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "29 CFR 1910.1026 for chromate (second) and 1910.1025 for lead (from memory)"
#   limits: []
#   needs:
#     - {in: steps, do: [strip, sand, block], dusty: true, wear: {not: [particulate respirator, cartridge respirator, supplied-air respirator, blast hood]}}
#     - {in: steps, tool: blast, dusty: true, wear: {not: blast hood}}
package guidecoat.people["dust-without-respirator"]

import data.guidecoat.lib

breathing := {"particulate respirator", "cartridge respirator", "supplied-air respirator", "blast hood"}

suspects := {"aged enamel", "aged lacquer", "unknown finish", "body solder"}

verdict contains v if {
	some s in input.steps
	s.do in {"strip", "sand", "block"}
	s.dusty
	blasting(s)
	v := lib.verdict(
		at(s),
		lib.plain("fails"),
		"the panel is blasted with neither a blast hood nor a cabinet",
		[],
	)
}

verdict contains v if {
	some s in input.steps
	s.do in {"strip", "sand", "block"}
	s.dusty
	not s.tool == "blast"
	not breathed(s)
	poison := poisons(s)
	count(poison) > 0
	v := lib.verdict(
		at(s),
		lib.plain("fails"),
		sprintf("dry dust that may hold %s is made, and the step writes no respirator", [concat(" and ", poison)]),
		[],
	)
}

verdict contains v if {
	some s in input.steps
	s.do in {"strip", "sand", "block"}
	s.dusty
	not s.tool == "blast"
	not breathed(s)
	not s.extraction
	count(poisons(s)) == 0
	v := lib.verdict(
		at(s),
		lib.plain("risk"),
		"dry dust is made, and the step writes neither a respirator nor extraction",
		[],
	)
}

at(s) := {"on": s.id, "zone": null, "step": s.n, "rests": {"step": s.id}, "place": s.place}

blasting(s) if {
	s.tool == "blast"
	not "blast hood" in s.wear
	not s.where == "cabinet"
}

breathed(s) if {
	some w in s.wear
	w in breathing
}

poisons(s) := sort({p | some p in found(s)})

found(s) := {"chromate" | some w in s.worked; "chromate" in w.hazards} | leaded(s)

leaded(s) := {"lead" | some w in s.worked; "lead" in w.hazards} | {"lead" |
	some w in s.worked
	w.kind in suspects
	not "lead" in s.inspected
}
