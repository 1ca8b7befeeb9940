# METADATA
# description: |
#   Gathers the verdicts of every rule, and lets the nearest cause speak alone:
#   a finding is dropped when one that covers its rule stands on the same place
#   at the same or a graver grade. Whoever evaluates with a stock OPA asks for
#   data.guidecoat.findings.
package guidecoat

import data.guidecoat.lib

findings contains f if {
	some f in raised
	not covered(f)
}

raised contains object.union(v, {"rule": rule, "family": "substrate"}) if {
	some rule
	some v in data.guidecoat.substrate[rule].verdict
}

raised contains object.union(v, {"rule": rule, "family": "adhesion"}) if {
	some rule
	some v in data.guidecoat.adhesion[rule].verdict
}

raised contains object.union(v, {"rule": rule, "family": "porosity"}) if {
	some rule
	some v in data.guidecoat.porosity[rule].verdict
}

raised contains object.union(v, {"rule": rule, "family": "clock"}) if {
	some rule
	some v in data.guidecoat.clock[rule].verdict
}

raised contains object.union(v, {"rule": rule, "family": "abrasive"}) if {
	some rule
	some v in data.guidecoat.abrasive[rule].verdict
}

raised contains object.union(v, {"rule": rule, "family": "film"}) if {
	some rule
	some v in data.guidecoat.film[rule].verdict
}

raised contains object.union(v, {"rule": rule, "family": "weather"}) if {
	some rule
	some v in data.guidecoat.weather[rule].verdict
}

raised contains object.union(v, {"rule": rule, "family": "mix"}) if {
	some rule
	some v in data.guidecoat.mix[rule].verdict
}

raised contains object.union(v, {"rule": rule, "family": "finish"}) if {
	some rule
	some v in data.guidecoat.finish[rule].verdict
}

raised contains object.union(v, {"rule": rule, "family": "people"}) if {
	some rule
	some v in data.guidecoat.people[rule].verdict
}

raised contains object.union(v, {"rule": rule, "family": "paper"}) if {
	some rule
	some v in data.guidecoat.paper[rule].verdict
}

standing := {[f.rule, f.on, lib.order[f.grade]] | some f in raised}

covered_by[rule] contains cover if {
	some cover, rules in data.covers
	some rule in rules
}

covered(f) if {
	some cover in covered_by[f.rule]
	some rank in [1, 2, 3]
	rank >= lib.order[f.grade]
	[cover, f.on, rank] in standing
}
