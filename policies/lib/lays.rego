package guidecoat.lib

# What rules of laying, of weather and of the clock share.

# laid are the contacts that a lay makes: one for each zone it reaches.
laid(l) := [c |
	some c in input.contacts_by_upper[l.layer]
	c.id in l.contacts
]

# at_laying is where a verdict stands about how the upper film of a contact was laid in one step.
at_laying(l, c) := {
	"on": c.id,
	"zone": c.zone,
	"step": l.step,
	"rests": {"upper": c.upper, "lower": c.lower},
	"place": l.place,
}

# laid_last is the step that laid the last coat of a layer; undefined for what was there before the sheet.
laid_last(id) := max(input.layers_by_id[id].steps)

# waited offers to write the wait after a layer's last coat.
waited(id, text) := [set_key(n, "then_wait", text) | n := laid_last(id)]

# coated offers one coat more of a layer that one step lays.
coated(id) := [set_key(y.step, "coats", y.coats_more) |
	some y in input.lays
	y.layer == id
	y.coats_enough > 0
]

# worse picks, of several comparisons of which any may be null or hold, the one to speak of: the first that is
# surely broken, else the first that may be; undefined where none is.
worse(list) := c if {
	sure := [x | some x in list; broken(x) == "will"]
	c := sure[0]
} else := c if {
	maybe := [x | some x in list; broken(x) == "may"]
	c := maybe[0]
}

# relaid: a film so thin that it is laid again and never scuffed.
relaid(c) if c.lower_traits.acid

relaid(c) if c.lower_traits.class == "promoter"

# scuffed offers to scuff what lies under a contact: wet, which makes no dust, where the film may be
# wetted, and dry. Filler wants a deeper scratch than a pad makes.
scuffed(c) := [] if relaid(c)

scuffed(c) := array.concat(
	[e |
		wettable(c)
		some e in abraded_before(c, object.union(grip_for(c), {"wet": true}))
	],
	abraded_before(c, grip_for(c)),
) if {
	not relaid(c)
}

wettable(c) if {
	c.lower_traits.wet_sandable
	not c.lower_pore
}

# A light scuff for filler, so that a thin primer is not cut through.
grip_for(c) := {"do": "scuff", "grit": "P180", "takes_off": "0.3 mil"} if {
	c.upper_kind in fillers
} else := {"do": "scuff", "pad": "very fine pad"} if {
	c.upper_traits.class in {"color", "clear"}
} else := {"do": "scuff", "pad": "fine pad"}

# at_baked is where a verdict stands about one film in a bake: on the film, at the step that bakes it.
at_baked(b, f) := {
	"on": concat("/", [f.zone, f.layer]),
	"zone": f.zone,
	"step": b.step,
	"rests": {"lower": f.layer, "step": b.id},
	"place": b.place,
}

# done says what an abrading step does to a film.
done := {"sand": "sanded", "block": "blocked", "scuff": "scuffed"}
