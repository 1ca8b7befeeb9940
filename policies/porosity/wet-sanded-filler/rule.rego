# METADATA
# title: filler is sanded wet
# description: |
#   Filler and putty hold thousands of air pockets, and wet paper fills them. The top dries in
#   minutes, what went down does not. Under paint it sits until the first hot day, turns to vapor,
#   and pushes a blister up; and it reaches the steel at the filler's edge, where rust begins.
#   Polyester surfacer, lacquer primer and one-part putty drink less and give it back, given a warm
#   day or a bake. Cutting through to filler with wet paper does the same harm in a smaller place.
#   It looks like small blisters in clusters, and a rust stain along the edge of the repair. In the
#   shop: prick a blister with a needle; damp inside tells it from solvent.
# custom:
#   grade: fails
#   defect: blisters, rust
#   remedy: Sand filler dry, always. Where it was sanded wet, take it off or open it with dry paper, dry it with heat, and seal it. Polyester surfacer, lacquer primer and one-part putty may stay if they dry out for a day in a warm room or are baked dry.
#   safety:
#     signal: CAUTION
#     text: Dry filler dust harms the lungs; use a respirator and extraction. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - "common practice; no document found"
#   limits:
#     - dry_out_time
#     - dry_out_warm
#     - dry_bake_metal
#     - dry_bake_time
#   needs:
#     - {in: abrasions, wet: true, surface_traits.class: filler}
#     - {in: abrasions, wet: true, surface_kind: [polyester surfacer, lacquer primer]}
package guidecoat.porosity["wet-sanded-filler"]

import data.guidecoat.lib

keeps := {"body filler", "fiber filler", "finishing putty", "plastic repair filler"}

gives_back := {"polyester surfacer", "lacquer primer", "one-part putty"}

verdict contains v if {
	some a in input.abrasions
	a.wet
	a.surface_kind in keeps
	not a.surface_traits.wet_sandable
	v := lib.verdict(
		lib.at_surface(a),
		lib.plain("fails"),
		sprintf("wet abrasive %s %s", [act(a), a.surface_name]),
		[lib.set_key(a.step, "wet", false)],
	)
}

verdict contains v if {
	some a in input.abrasions
	a.wet
	a.surface_kind in gives_back
	not a.surface_traits.wet_sandable
	not a.baked_dry
	v := lib.verdict(
		lib.at_surface(a),
		judgement(a),
		sprintf("wet abrasive %s %s, and %s", [act(a), a.surface_name, drying(a)]),
		[lib.set_key(a.step, "wet", false)],
	)
}

act(a) := "cuts through to" if a.cut

act(a) := "works on" if not a.cut

told(a) if {
	a.dried_out != null
	not a.dried_out.open
}

# A time to dry that nobody wrote excuses nothing.
judgement(a) := lib.possible("risk") if not told(a)

judgement(a) := lib.judged("risk", a.dried_out) if told(a)

drying(a) := sprintf("the sheet gives it no time to dry out before the next film (%s at %s, or a bake)", [
	input.limits.dry_out_time.measure.text,
	input.limits.dry_out_warm.measure.text,
]) if {
	not told(a)
}

drying(a) := sprintf("it has %s at %s or warmer to dry out before the next film; it needs %s, or a bake", [
	a.dried_out.measured.text,
	input.limits.dry_out_warm.measure.text,
	a.dried_out.limit.text,
]) if {
	told(a)
}
