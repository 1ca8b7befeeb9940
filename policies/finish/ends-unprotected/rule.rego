# METADATA
# title: a part of the panel is left without a finish
# description: |
#   A primer, filler, sealer or basecoat is made to be covered. Sun breaks its resin
#   down, rain soaks through it, and the metal under it rusts. Bare steel needs no more
#   than damp air. It looks fine when the car leaves: then the primer turns to chalk you
#   can rub off with a thumb, the base goes dull, and brown spots come through. In the
#   shop: walk round the panel, inside edges too, and ask of each place which can was
#   the last one there.
# custom:
#   grade: fails
#   defect: "rust, chalking"
#   remedy: "Carry the finish over every part the weather reaches: sealer or color where the process wants it, and clear over base. If the sheet is meant to end in primer, say so with ends_as."
#   safety:
#     signal: NOTICE
#     text: "Laying more paint means the same care as the coats before it. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: endings, traits.weatherproof: false}
#     - {in: endings, existing: true, kind: [e-coat, factory primer, unknown finish]}
package guidecoat.finish["ends-unprotected"]

import data.guidecoat.lib

unfinished := {"e-coat", "factory primer", "unknown finish"}

sheltered := {"inside", "underside", "cavity"}

verdict contains v if {
	some e in input.endings
	input.sheet.ends_as == "finished"
	open_to_weather(e)
	v := lib.verdict(
		lib.at_surface(e),
		lib.plain("fails"),
		sprintf("a finished sheet leaves %s as the last thing here", [e.name]),
		[],
	)
}

verdict contains v if {
	some e in input.endings
	input.sheet.ends_as in {"primed", "sealed"}
	bare_or_porous(e)
	v := lib.verdict(
		lib.at_surface(e),
		lib.plain("fails"),
		sprintf("a sheet that ends %s leaves %s as the last thing here", [input.sheet.ends_as, e.name]),
		[],
	)
}

open_to_weather(e) if bare(e)

open_to_weather(e) if porous(e)

open_to_weather(e) if {
	not e.substrate
	e.existing
	e.kind in unfinished
}

open_to_weather(e) if {
	not e.substrate
	not e.kind in unfinished
	not e.traits.weatherproof
	not end_when_sheltered(e)
}

end_when_sheltered(e) if {
	e.faces in sheltered
	e.traits.epoxy
}

end_when_sheltered(e) if {
	e.faces in sheltered
	e.traits.class == "coating"
}

bare_or_porous(e) if bare(e)

bare_or_porous(e) if porous(e)

# Stainless steel and bare plastic need no paint to last.
bare(e) if {
	e.substrate
	e.traits.metal
	e.kind != "stainless steel"
}

porous(e) if {
	e.pore
	not e.traits.weatherproof
}
