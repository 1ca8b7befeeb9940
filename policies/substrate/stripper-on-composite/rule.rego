# METADATA
# title: chemical stripper is put on plastic, composite or filler
# description: |
#   Stripper attacks resin, and in fiberglass, gelcoat, plastic and filler the part itself is resin.
#   It soaks in, softens the resin between the layers of glass, and loosens the fibers. What soaks
#   in also comes out again, for weeks, and lifts whatever was painted over it. Filler and seam
#   sealer take it up like a sponge. It looks like a part that stays soft or tacky, fibers standing
#   up, blisters that smell of stripper, and filler edges that bleed through. In the shop: press
#   with a thumbnail a day later; sound gelcoat and plastic do not mark.
# custom:
#   grade: fails
#   defect: soft laminate, bleed-out
#   remedy: Take paint off composites and plastic with paper or a razor, and off filler by sanding. Where stripper has touched them, cut back to sound material and let it gas out before anything goes on.
#   safety:
#     signal: DANGER
#     text: Stripper with methylene chloride can kill in a closed space. Work in moving air with gloves, face shield and apron that stand up to it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - common practice
#   limits: []
#   needs:
#     - {in: strips, tool: chemical stripper}
package guidecoat.substrate["stripper-on-composite"]

import data.guidecoat.lib

verdict contains v if {
	some s in input.strips
	s.tool == "chemical stripper"
	what := touched(s)
	v := lib.verdict(
		{"on": s.id, "zone": s.zone, "step": s.step, "rests": {"step": s.id}, "place": s.place},
		lib.plain("fails"),
		sprintf("chemical stripper is put on %s", [what]),
		[lib.set_key(s.step, "tool", "sander")],
	)
}

touched(s) := s.substrate if {
	resin(s.substrate_traits)
} else := "gelcoat" if {
	has_gelcoat(s)
} else := "a place that carries filler or seam sealer" if {
	s.had_filler
}

resin(t) if t.composite

resin(t) if t.plastic

has_gelcoat(s) if s.top_kind == "gelcoat"

has_gelcoat(s) if {
	some w in s.took
	w.kind == "gelcoat"
}
