package guidecoat.lib

# Which film may lie on which: what the rules about pairs share.

# let_in: the upper film's card names what it rests on among what it may lie on.
let_in(c) if c.card_says == "allows"

# unsaid: the card neither lets the pair in nor forbids it.
unsaid(c) if c.card_says in {"silent", "unlisted"}

# Films whose solvent goes into a softer film beneath them.
strong_solvent := {
	"solvent basecoat", "mid coat", "single-stage urethane", "single-stage enamel", "urethane surfacer",
	"urethane sealer", "urethane clear", "one-part clear", "polyester surfacer", "lacquer primer", "lacquer topcoat",
}

# replaced_below offers another product for the film beneath, where this sheet lays it.
replaced_below(c, kinds) := replaced(c.lower_step, kinds)

# stripped_before offers to take the place of a contact to the metal before its film.
stripped_before(c) := abraded_before(c, {"do": "strip", "tool": "sander", "grit": "P80"})

# sprayed_between offers a film of one of some kinds, the likeliest first, between the two of a contact.
sprayed_between(c, kinds) := [insert_before(c.step, s) |
	some s in steps_at(c.zone, {"do": "spray", "product_kind": kinds})
]

# waited_between offers epoxy left overnight between bare metal and what fills.
waited_between(c) := [insert_before(c.step, s) |
	some s in steps_at(c.zone, {"do": "spray", "product_kind": ["epoxy primer"], "then_wait": "overnight"})
]

# longer_wait offers the wait that a film wants after it, where this sheet lays it.
longer_wait(step, wait) := [set_key(step, "then_wait", wait) | step > 0]

# replaced offers another product for what a step lays.
replaced(step, kinds) := [set_key(step, "product_kind", kinds) | step > 0]
