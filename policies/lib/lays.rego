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

# worse picks, of several comparisons of which any may be null or hold, the one to speak of: the first that is
# surely broken, else the first that may be; undefined where none is.
worse(list) := c if {
	sure := [x | some x in list; broken(x) == "will"]
	c := sure[0]
} else := c if {
	maybe := [x | some x in list; broken(x) == "may"]
	c := maybe[0]
}
