# METADATA
# title: a primer stands outdoors too long
# description: |
#   Primers have no shield against sunlight. The sun breaks the resin at the top of the
#   film into a loose powder, and dew and rain soak in behind. A later coat then lies on
#   chalk and on moisture. Epoxy stands it for some days, urethane surfacer for about
#   one, polyester surfacer and lacquer primer not at all, because they drink. It looks
#   lighter and flat, and a thumb comes away white. In the shop: rub with a dark cloth;
#   powder on it means the top is gone.
# custom:
#   grade: risk
#   defect: "chalking, moisture"
#   remedy: "Keep primed panels inside. If one stood out too long, sand through the chalk to sound film, clean it, let it dry, and lay the primer again."
#   safety:
#     signal: CAUTION
#     text: "Sanding chalked primer makes fine dust: wear a respirator fit for it. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits:
#     - sun_epoxy
#     - sun_surfacer
#   needs:
#     - {in: exposures, traits.epoxy: true, sun_epoxy: past}
#     - {in: exposures, kind: urethane surfacer, sun_surfacer: past}
#     - {in: exposures, kind: [polyester surfacer, lacquer primer], outdoors: true}
package guidecoat.finish["epoxy-left-in-sun"]

import data.guidecoat.lib

drinks := {"polyester surfacer", "lacquer primer"}

verdict contains v if {
	some x in input.exposures
	x.traits.epoxy
	c := x.sun_epoxy
	c != null
	v := lib.verdict(
		where(x),
		lib.judged("risk", c),
		sprintf("%s stands outdoors as the top film for %s; sunlight is let at it for %s at most", [x.name, c.measured.text, c.limit.text]),
		[],
	)
}

verdict contains v if {
	some x in input.exposures
	x.kind == "urethane surfacer"
	c := x.sun_surfacer
	c != null
	v := lib.verdict(
		where(x),
		lib.judged("risk", c),
		sprintf("%s stands outdoors as the top film for %s; sunlight is let at it for %s at most", [x.name, c.measured.text, c.limit.text]),
		[],
	)
}

verdict contains v if {
	some x in input.exposures
	x.kind in drinks
	x.outdoors
	v := lib.verdict(
		where(x),
		lib.plain("risk"),
		sprintf("%s stands outdoors as the top film, and it drinks the damp", [x.name]),
		[],
	)
}

where(x) := {"on": x.id, "zone": x.zone, "step": x.from_step, "rests": {"lower": x.layer}, "place": x.place}
