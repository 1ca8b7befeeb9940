package sheet

import (
	"slices"
	"strings"
)

// names are the names that a sheet gives away and refers to: zones, calls,
// cuts, and the kinds that lie on its panel so far. What can be told without
// carrying the sheet out is told here; what needs its films is the stack's to
// tell.
type names struct {
	rd    *reading
	zones map[string]*Node // by name, with the node of the name
	rest  bool             // there is a zone `panel`
	calls map[string]*call
	order []string // of calls, as they are written
	cuts  []cutMade

	substrates map[string]bool
	present    map[string]bool // kinds carried or laid so far
	// unsure: some card could not be read, so what is laid is not all known.
	unsure bool
}

// call is the name of a step, or of a zone that a step cuts.
type call struct {
	step  int
	cut   bool // it names the cut itself, not the step
	zone  bool // it names a zone: a cut, or a step with one cut that has no name of its own
	lays  bool // the step lays a film
	kind  string
	first *Node
}

// cutMade is one entry of a cuts_to that has no call of its own, by what it
// goes down to.
type cutMade struct {
	step      int
	to        []string // every way its end may be named
	kind      string   // of what it comes to; "" for the substrate
	substrate bool
	call      string // the step's call, which names the zone; "" if it has none
}

func newNames(rd *reading) *names {
	return &names{rd: rd, zones: map[string]*Node{}, calls: map[string]*call{}, substrates: map[string]bool{}, present: map[string]bool{}}
}

func (n *names) carried(substrate string, films []Carried) {
	if substrate != "" {
		n.substrates[substrate] = true
	}
	for _, f := range films {
		n.present[f.Kind] = true
	}
}

// zone takes a zone's name into the book.
func (n *names) zone(name string, at *Node) {
	d := n.rd.d
	if name == RestZone {
		d.say(at.Value, at.Path(), "%s is what is left of the panel beside its zones; give this zone another name", quoted(name))
		return
	}
	if first, twice := n.zones[name]; twice {
		line, _ := d.x.Position(first.Value.Start)
		d.say(at.Value, at.Path(), "two zones are called %s; the first is on line %d", quoted(name), line)
		return
	}
	n.zones[name] = at
}

// called takes the call of a step or a cut into the book.
func (n *names) called(name string, at *Node, c call) {
	d := n.rd.d
	c.first = at
	switch first, twice := n.calls[name]; {
	case name == RestZone:
		d.say(at.Value, at.Path(), "%s is a zone, what is left of the panel beside its zones; give this another call", quoted(name))
	case n.zones[name] != nil:
		line, _ := d.x.Position(n.zones[name].Value.Start)
		d.say(at.Value, at.Path(), "%s is a zone already, on line %d; give this another call", quoted(name), line)
	case twice:
		line, _ := d.x.Position(first.first.Value.Start)
		d.say(at.Value, at.Path(), "two calls are %s; the first is on line %d", quoted(name), line)
	default:
		n.calls[name] = &c
		n.order = append(n.order, name)
	}
}

func (n *names) stepCalls() []string {
	var all []string
	for _, name := range n.order {
		if !n.calls[name].cut {
			all = append(all, name)
		}
	}
	return all
}

// endOfTime is a step after every other.
const endOfTime = 1 << 30

// known tells whether a name is a zone's, from which step on it is one, and
// the name as the stack knows it.
func (n *names) known(name string) (zone string, from int, ok bool) {
	// A name that goes on for ever is taken apart for ever.
	const longest = 1000
	if len(name) > longest {
		return "", 0, false
	}
	if n.zones[name] != nil || name == RestZone && n.rest {
		return name, 1, true
	}
	if c := n.calls[name]; c != nil && c.zone {
		return name, c.step + 1, true
	}
	// A cut without a name of its own: `ZONE cut to KIND`.
	if i := strings.LastIndex(name, " cut to "); i > 0 {
		if zone, from, ok := n.known(name[:i]); ok {
			for _, c := range n.cuts {
				switch {
				case !slices.Contains(c.to, name[i+len(" cut to "):]):
				case c.call != "":
					return c.call, max(from, c.step+1), true
				case c.substrate:
					return zone + " cut to " + n.substrateOf(zone), max(from, c.step+1), true
				default:
					return zone + " cut to " + c.kind, max(from, c.step+1), true
				}
			}
		}
	}
	// A cut that reached several zones: `CALL (ZONE)`.
	if i := strings.Index(name, " ("); i > 0 && strings.HasSuffix(name, ")") {
		if c := n.calls[name[:i]]; c != nil && c.zone {
			if zone, from, ok := n.known(name[i+2 : len(name)-1]); ok {
				return name[:i] + " (" + zone + ")", max(from, c.step+1), true
			}
		}
	}
	return "", 0, false
}

// substrateOf is the substrate of a zone, or of the zone that a cut one is of.
func (n *names) substrateOf(zone string) string {
	for _, z := range n.rd.s.Zones {
		if z.Substrate.Written && (z.Name == zone || strings.HasPrefix(zone, z.Name+" cut to ") || strings.HasSuffix(zone, " ("+z.Name+")")) {
			return z.Substrate.Value
		}
	}
	return n.rd.s.Panel.Substrate.Value
}

// at is the zone of a name at a step, as the stack knows it, or notes what is
// wrong with the name.
func (n *names) at(name string, at Span, key string, step int) (string, bool) {
	d := n.rd.d
	zone, from, ok := n.known(name)
	switch c := n.calls[name]; {
	case ok && from <= step:
		return zone, true
	case ok:
		d.say(at, key, "%s is cut only at step %d, and this is step %d; name it in a later step", quoted(name), from-1, step)
	case name == RestZone:
		d.say(at, key, "there is no zone %s here: the areas of the zones add up to the panel's, so nothing is left over", quoted(name))
	case c != nil:
		d.say(at, key, "%s is what step %d is called, and that step cuts no zone; %s", quoted(name), c.step, n.zonesAt(name, step))
	default:
		d.say(at, key, "there is no zone %s; %s", quoted(name), n.zonesAt(name, step))
	}
	return "", false
}

// zonesAt says which zones there are at a step, those like a name first.
func (n *names) zonesAt(name string, step int) string {
	var all []string
	for _, z := range n.rd.s.Zones {
		all = append(all, z.Name)
	}
	if n.rest {
		all = append(all, RestZone)
	}
	for _, c := range n.order {
		if n.calls[c].zone && n.calls[c].step < step {
			all = append(all, c)
		}
	}
	return among(name, all, 6, "the sheet has none")
}

// anyZone is the zone of a name that any step may have made.
func (n *names) anyZone(name string, at *Node) string {
	zone, _ := n.at(name, at.Value, at.Path(), endOfTime)
	return zone
}

// lays takes a film that a step lays into the book.
func (n *names) lays(c string, kind string) {
	n.present[kind] = true
	if call := n.calls[c]; call != nil && !call.cut {
		call.kind = kind
	}
}
