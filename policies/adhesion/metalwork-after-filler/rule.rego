# METADATA
# title: "metal is worked under filler or primer"
# description: |
#   Hammer and dolly move the metal by more than filler or primer can follow. The bond breaks in a
#   star of fine cracks you cannot see, and the filler rings loose later. Welding heat runs along
#   the steel: filler chars and gives off gas, and primer burns to a powder a hand's width from the
#   weld. The soot under the next film is nothing to hold to.
#
#   It looks like a crack or a hollow place round a dent that was worked after filling;
#   blisters and rust beside a weld. In the shop: tap all round, and scratch the primer near
#   the weld; if it comes off as dust, it is dead.
# custom:
#   grade: fails
#   defect: "cracking, burnt edge"
#   remedy: "Do all metalwork and welding first. Where it has to be done late, take the place and a hand round it to bare metal afterwards, and build it up again."
#   safety:
#     signal: WARNING
#     text: "Heating or grinding filler and primer gives off harmful fumes and dust, and welding near solvent starts fires. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: metalworks, carrying: true, cut_to_metal_after: false}
package guidecoat.adhesion["metalwork-after-filler"]

import data.guidecoat.lib

verdict contains v if {
	some m in input.metalworks
	not m.cut_to_metal_after
	hurt := [w | some w in m.carrying; breaks(w)]
	count(hurt) > 0
	v := lib.verdict(
		object.union(lib.at_surface(m), {"rests": {"lower": hurt[count(hurt) - 1].layer}}),
		judgement(m),
		sprintf("the metal is %s under %s, and %s", [
			act(m),
			concat(" and ", [w.name | some w in hurt]),
			left(m),
		]),
		[],
	)
}

# Body solder is worked like metal, and weld-through primer is there to be welded.
breaks(w) if {
	input.layers_by_id[w.layer].traits.class in {"filler", "primer", "surfacer", "sealer"}
	not w.kind in {"body solder", "weld-through primer"}
}

# A cut takes to metal what it cuts out, and the films beside it stay on.
judgement(m) := object.union(lib.plain("risk"), {"certainty": "may"}) if m.perhaps_cut_after

judgement(m) := lib.plain("fails") if {
	m.welding
	not m.perhaps_cut_after
}

judgement(m) := lib.plain("risk") if {
	not m.welding
	not m.perhaps_cut_after
}

left(m) := "nothing says that the cut afterwards takes all of the place to metal" if m.perhaps_cut_after

left(m) := "the place is not cut back to metal afterwards" if not m.perhaps_cut_after

act(m) := "welded" if m.welding

act(m) := "worked" if not m.welding
