# METADATA
# title: bare metal stands open too long
# description: |
#   Clean metal never stays clean. On steel the damp of the room alone builds a first skin of rust
#   within hours, and faster where the air is humid or salty; blasted steel has many times the
#   surface, and turns sooner. Aluminum and zinc grow an oxide that is thick, soft and poorly tied
#   to the metal. Paint laid on either holds to the skin, and the skin lets go or goes on growing.
#   It looks like a faint orange or a dull grey cast, later like worms and blisters under sound
#   paint. In the shop: wipe with a white rag and cleaner; a brown or black rag means too late. The
#   clock starts at the last abrasion, so freshening the scratch dry, right before the primer, sets it back.
# custom:
#   grade: fails
#   defect: rust under the film, weak oxide
#   remedy: Prime in the same shift, blasted steel within about four hours. If it has stood longer, sand it dry with P180 or coarser or blast it again, degrease it, and prime at once. Keep bare metal indoors.
#   safety:
#     signal: CAUTION
#     text: Sanding again makes dust; wear a respirator, eye protection and gloves fit for it. Follow the safety data sheet, the local code and licensed practice.
#   source:
#     - "UFGS 09971 (read): primer within four hours of preparing the steel"
#     - "TT-C-490F 3.5.4 (read): paint within 24 h of pretreatment"
#     - "MIL-DTL-53072E 3.2 (read): blasted steel not coated at once is kept from flash rust and inspected again"
#     - common practice
#   limits:
#     - bare_steel_open
#     - bare_steel_most
#     - bare_blasted_open
#     - bare_aluminum_open
#     - bare_galvanized_open
#     - bare_converted_open
#     - damp_steel
#   needs:
#     - {in: contacts_on_metal, open_day: past}
#     - {in: contacts_on_metal, open_steel: past}
#     - {in: contacts_on_metal, open_outdoors: true}
package guidecoat.substrate["bare-metal-left-open"]

import data.guidecoat.lib

verdict contains v if {
	some c in input.contacts_on_metal
	c.lower_kind != "stainless steel"
	found := worst(c)
	v := lib.verdict(
		lib.at_contact(c),
		found.judgement,
		found.message,
		lib.abraded_before(c, {"do": "sand", "grit": lib.metal_grit(c)}),
	)
}

# The graver first: rusted for certain, then past its hours, then out in the weather.
worst(c) := {
	"judgement": lib.judged("fails", c.open_day),
	"message": sprintf("%s stands open for %s since it was last abraded, and %s goes on it; after %s it has begun to rust", [
		c.lower_name,
		c.open_day.measured.text,
		c.upper_name,
		c.open_day.limit.text,
	]),
} if {
	rusted(c)
} else := {
	"judgement": lib.judged("risk", c.open_steel),
	"message": sprintf("%s stands open for %s before %s goes on it; here it may stand for %s", [
		c.lower_name,
		c.open_steel.measured.text,
		c.upper_name,
		c.open_steel.limit.text,
	]),
} if {
	c.open_steel != null
	lib.broken(c.open_steel)
} else := {
	"judgement": lib.plain("risk"),
	"message": sprintf("bare %s stands outdoors before %s goes on it", [c.lower_name, c.upper_name]),
} if {
	c.open_outdoors
}

rusted(c) if {
	c.lower_traits.steel
	c.open_day != null
	lib.broken(c.open_day) == "will"
}
