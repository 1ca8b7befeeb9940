# METADATA
# title: old paint is worked before anyone tested it for lead
# description: |
#   Paint and body solder of old cars often hold lead. Grinding or stripping sets it
#   free as dust and mud. Lead goes in by mouth and lung, stays in the bones, and goes
#   home on clothes to children. It looks like any other dust: you cannot see it. In the
#   shop: a swab test from the safety counter takes a minute; a laboratory test of a
#   chip is surer.
# custom:
#   grade: fails
#   defect: "lead poisoning"
#   remedy: "Test every layer down to the metal before the first abrasion, and write the test as a stop on the sheet. If lead is there, follow the rules for lead work before going on."
#   safety:
#     signal: WARNING
#     text: "Treat old paint as lead paint until a test says otherwise: respirator, no dry sweeping, wash before eating, work clothes stay in the shop. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "29 CFR 1910.1025 (from memory)"
#   limits:
#     - lead_year
#   needs:
#     - {in: steps, worked.kind: [aged enamel, aged lacquer, unknown finish, body solder], inspected: {not: lead}}
package guidecoat.people["old-paint-lead-unproven"]

import data.guidecoat.lib

suspects := {"aged enamel", "aged lacquer", "unknown finish", "body solder"}

verdict contains v if {
	some s in input.steps
	frees_dust(s)
	not "lead" in s.inspected
	kinds := sort({w.kind | some w in s.worked; w.kind in suspects})
	count(kinds) > 0
	v := lib.verdict(
		{"on": s.id, "zone": null, "step": s.n, "rests": {"step": s.id}, "place": s.place},
		lib.plain(grade),
		sprintf("%s is worked before any stop to test it for lead", [concat(" and ", kinds)]),
		[lib.insert_before(s.n, {"do": "inspect", "measure": ["lead"]})],
	)
}

frees_dust(s) if s.do == "strip"

frees_dust(s) if {
	s.do in {"sand", "block", "scuff"}
	s.dusty
}

default grade := "fails"

grade := "advice" if input.panel.year > input.limits.lead_year.measure.lo
