# METADATA
# title: acid or stripper is handled with bare hands or eyes
# description: |
#   Metal acids, neutralizers and strippers burn what they touch. Skin may not hurt for
#   minutes, and by then the burn is deep; an acid with fluoride goes on to the bone. A
#   splash in the eye can take the sight. It looks like white or red skin and slow
#   wounds. In the shop: read the pictures on the can; a hand that is eaten away means
#   gloves and goggles before the cap comes off.
# custom:
#   grade: fails
#   defect: "burns"
#   remedy: "Write gloves and eye protection on the step, of the sort the safety data sheet names, with an apron beside them. Have water within reach."
#   safety:
#     signal: WARNING
#     text: "Rinse splashes with plenty of water at once and see a doctor, for fluoride without delay. Stripper with methylene chloride in a closed space can kill. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#   limits: []
#   needs:
#     - {in: steps, tool: chemical stripper}
#     - {in: steps, do: [treat, neutralize]}
#     - {in: steps, do: clean, hazards: [acid, caustic, fluoride]}
#     - {in: mixes, traits.acid: true}
package guidecoat.people["acid-without-protection"]

import data.guidecoat.lib

eyes := {"eye protection", "face shield", "blast hood"}

verdict contains v if {
	some s in input.steps
	what := burning(s)
	missing := lacking(s.wear)
	count(missing) > 0
	v := lib.verdict(
		{"on": s.id, "zone": null, "step": s.n, "rests": {"step": s.id}, "place": s.place},
		lib.plain(grade(s.tool, s.hazards)),
		sprintf("%s is handled, and the step writes no %s", [what, concat(", no ", missing)]),
		[],
	)
}

verdict contains v if {
	some m in input.mixes
	m.traits.acid
	missing := lacking(m.wear)
	count(missing) > 0
	v := lib.verdict(
		lib.at_step(m),
		lib.plain(grade("", m.hazards)),
		sprintf("%s is laid, and the step writes no %s", [m.name, concat(", no ", missing)]),
		[],
	)
}

burning(s) := "chemical stripper" if {
	s.do == "strip"
	s.tool == "chemical stripper"
}

burning(s) := s.with if {
	s.do in {"treat", "neutralize"}
	s.with_kind in {"acid wash", "neutralizer"}
}

burning(s) := s.with if {
	s.do in {"treat", "neutralize", "clean"}
	not s.with_kind in {"acid wash", "neutralizer"}
	some h in s.hazards
	h in {"acid", "caustic", "fluoride"}
}

grade("chemical stripper", _) := "fails"

grade(tool, hazards) := "fails" if {
	tool != "chemical stripper"
	"fluoride" in hazards
}

grade(tool, hazards) := "risk" if {
	tool != "chemical stripper"
	not "fluoride" in hazards
}

lacking(wear) := [what |
	some what in ["gloves", "eye protection"]
	not worn(what, wear)
]

worn("gloves", wear) if "gloves" in wear

worn("eye protection", wear) if {
	some e in wear
	e in eyes
}
