# METADATA
# title: "strong solvent goes over a film that softens again"
# description: |
#   Lacquer dries and never cures: nothing ties its molecules together, so the thinner that once
#   left it takes it apart again. A film full of strong solvent laid over it soaks in, the old film
#   swells, loses its hold on what is below and buckles. One-part clear behaves the same way.
#   Lacquer over old lacquer is how lacquer has always been repaired. Still it is a risk, because an
#   old film may be cracked or of another sort.
#
#   Epoxy in light, dry coats goes off before much solvent can sink in; that is why it
#   serves as a barrier after a test patch. Waterborne primer carries nothing that softens
#   lacquer.
#
#   It looks like crow's-feet at the feather edges within minutes, or wrinkles over the
#   whole patch. In the shop: lay a rag wet with thinner on the old film for two minutes;
#   color on the rag or a soft spot means that it softens again.
# custom:
#   grade: fails
#   defect: "lifting, wrinkling"
#   remedy: "Strip the soft film; or put a barrier between: waterborne primer, or epoxy in light coats that each flash dry, after a test patch. If its data sheet lets it onto this film, copy that onto the card."
#   safety:
#     signal: WARNING
#     text: "Thinner and solvent-borne films are flammable, and many carry isocyanate. Old lacquer may hold lead. Follow the safety data sheet, the local code and licensed practice."
#   source:
#     - "common practice"
#     - "TB 43-0209: urethane not over lacquer (read)"
#     - "MIL-HDBK-1110 2.4, 2.4.2: strong solvents over solvent-soluble old paint penetrate, lift and disbond it (read)"
#   limits:
#     - light_coat
#   needs:
#     - {in: contacts, lower_traits.reversible: true}
package guidecoat.adhesion["strong-solvent-on-reversible"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts
	c.lower_traits.reversible
	not lib.let_in(c)
	[judgement, words] := found(c)
	v := lib.verdict(
		lib.at_contact(c),
		judgement,
		sprintf("%s goes over %s, which solvent softens again%s", [c.upper_name, c.lower_name, words]),
		mend(c),
	)
}

found(c) := [lib.plain("risk"), ""] if {
	is_lacquer(c.upper_kind)
	c.lower_kind == "aged lacquer"
}

# A film over its own kind melts into it, as it is meant to.
found(c) := [lib.plain("fails"), ""] if {
	c.upper_kind in lib.strong_solvent
	c.upper_kind != c.lower_kind
	not lacquer_repair(c)
}

found(c) := [lib.plain("advice"), sprintf("; its coats are light (up to %s)", [light_coat])] if {
	c.upper_traits.epoxy
	not c.upper in wet
}

found(c) := [lib.plain("risk"), sprintf("; no coat should be wetter than %s", [light_coat])] if {
	c.upper_traits.epoxy
	c.upper in surely_wet
}

found(c) := [lib.possible("risk"), sprintf("; no coat should be wetter than %s", [light_coat])] if {
	c.upper_traits.epoxy
	c.upper in wet
	not c.upper in surely_wet
}

light_coat := input.limits.light_coat.measure.text

is_lacquer(kind) if kind in {"lacquer primer", "lacquer topcoat"}

lacquer_repair(c) if {
	is_lacquer(c.upper_kind)
	c.lower_kind == "aged lacquer"
}

# Epoxy layers of which some coat is not surely light, and those that surely are not: a wet film
# that nobody wrote is no light coat.
wet := {l.layer |
	some l in input.lays
	l.traits.epoxy
	not light(l)
}

surely_wet := {l.layer |
	some l in input.lays
	l.traits.epoxy
	not perhaps_light(l)
}

light(l) if {
	l.light_coat != null
	not l.light_coat.open
	not lib.broken(l.light_coat)
}

perhaps_light(l) if light(l)

perhaps_light(l) if lib.broken(l.light_coat) == "may"

mend(c) := lib.stripped_before(c) if c.upper_traits.epoxy

mend(c) := array.concat(lib.sprayed_between(c, ["waterborne primer", "epoxy primer"]), lib.stripped_before(c)) if {
	not c.upper_traits.epoxy
}
