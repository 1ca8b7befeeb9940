# METADATA
# description: What every rule shares - how a comparison is broken, how a grade is found, how a verdict is put together.
package guidecoat.lib

# How sure a breach is. A comparison whose measured end is open breaks nothing at that end.
broken(c) := short(c.over) if {
	c.sense == "least"
	not c.open
} else := beyond(c.over) if {
	c.sense == "most"
	not c.open
}

# How sure it is that a ratio lies below one; its upper end is null where it is open.
short(over) := "will" if {
	over.hi != null
	over.hi < 1
} else := "may" if over.lo < 1

# How sure it is that a ratio lies above one.
beyond(over) := "will" if {
	over.lo > 1
	over.hi != null
} else := "may" if {
	some end in [over.lo, over.hi] # null is less than any number
	end > 1
}

# How sure it is that measured m lies below limit l (both measures): "will" at
# every pairing of their ends, "may" at some; undefined when at none. Exactly
# at the limit is not below it. An open end of m breaks nothing, an open end of
# l is no limit.
below(m, l) := "will" if {
	ends_below(m, l)
	m.hi != null
	m.hi < l.lo
} else := "may" if ends_below(m, l)

ends_below(m, l) if {
	not m.open
	not l.open
	m.lo < top(l)
}

# The upper end of a measure; its lower where that end is open.
top(l) := l.hi if {
	l.hi != null
} else := l.lo

# How sure it is that measured m lies above limit l, in the same way.
above(m, l) := "will" if {
	ends_above(m, l)
	m.hi != null
	m.lo > top(l)
} else := "may" if ends_above(m, l)

ends_above(m, l) if {
	not m.open
	not l.open
	top(m) > l.lo
}

order := {"advice": 1, "risk": 2, "fails": 3}

# The graver of nothing: a possible breach and one that leans on a typical number are a risk at most.
capped(table, sure) := "risk" if {
	table == "fails"
	sure == "may"
} else := table

# A card's number missed by no more than the grace, at the worse end.
graced(c) if {
	c.graced
	c.source == "card"
	c.sense == "least"
	c.over.lo >= input.limits.grace.low
}

graced(c) if {
	c.graced
	c.source == "card"
	c.sense == "most"
	c.over.hi != null
	c.over.hi <= input.limits.grace.high
}

# Certainty of a breach once typical numbers are reckoned with.
certainty(c) := "may" if {
	count(c.leaned) > 0
} else := broken(c)

eased(table, c) := "risk" if {
	table == "fails"
	graced(c)
} else := table

# judged puts grade, certainty, numbers and what they lean on together for a broken comparison.
judged(table, c) := {
	"grade": capped(eased(table, c), sure),
	"certainty": sure,
	"leaned": c.leaned,
	"measured": c.measured.shown,
	"limit": c.limit.shown,
} if {
	broken(c)
	sure := certainty(c)
}

# plain is the same for a verdict without numbers.
plain(table) := {"grade": table, "certainty": "will", "leaned": [], "measured": null, "limit": null}

# possible is the same for a verdict that only may come true.
possible(table) := {"grade": capped(table, "may"), "certainty": "may", "leaned": [], "measured": null, "limit": null}

# measured_against is the same for measure m held to limit l with certainty s (from below or above).
measured_against(table, s, m, l) := {
	"grade": capped(table, s),
	"certainty": s,
	"leaned": [],
	"measured": m.shown,
	"limit": l.shown,
}

# typical says, for the end of a message, that a limit is not the card's own.
typical(c) := " (typical; copy the data sheet's)" if {
	count(c.leaned) > 0
} else := ""

# at_contact is where a verdict about a contact stands.
at_contact(c) := {
	"on": c.id,
	"zone": c.zone,
	"step": c.step,
	"rests": {"upper": c.upper, "lower": c.lower},
	"place": c.place,
}

# at_step is where a verdict about a step, lay, mix or bake stands.
at_step(s) := {
	"on": s.id,
	"zone": null,
	"step": object.get(s, "step", object.get(s, "n", null)),
	"rests": {"step": s.id},
	"place": s.place,
}

# at_surface is where a verdict about a touch, abrasion, strip, mask, polish,
# metalwork, exposure, total or ending stands: its step is the one that did it,
# that bared an exposure, or that topped a total.
at_surface(t) := {
	"on": t.id,
	"zone": t.zone,
	"step": object.get(t, "step", object.get(t, "from_step", object.get(t, "top_step", null))),
	"rests": resting(t),
	"place": t.place,
}

# Not everything that stands on a surface has one layer to rest on.
resting(t) := {"lower": layer |
	layer := object.get(t, "layer", null)
	layer != null
}

# Edits a rule may offer; one of them answers it. Go checks that they read back.
insert_before(n, step) := {"edit": "insert", "where": "before", "step": n, "set": step}

insert_after(n, step) := {"edit": "insert", "where": "after", "step": n, "set": step}

drop(n) := {"edit": "drop", "step": n}

unset_key(n, key) := {"edit": "unset", "step": n, "key": key}

set_key(n, key, value) := {"edit": "set", "step": n, "key": key, "value": value}

# verdict joins its place, its judgement, its words and its edits.
verdict(where, judgement, message, mend) := object.union(object.union(where, judgement), {
	"message": message,
	"mend": mend,
})
