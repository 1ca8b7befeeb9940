package picture

import (
	"strings"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/stack"
)

// Marks finds where in the section each finding of fails and risk is about:
// the contact of the film it speaks of, else the contact that covered the
// surface it speaks of, else that surface where nothing covers it, else the
// film that its step lays. What is about no film in particular (what is worn,
// where it is sprayed, what is not on paper) comes back as elsewhere.
func Marks(d *stack.Document, findings []rulebook.Finding) (marks []Mark, elsewhere []rulebook.Finding) {
	p := placing{
		d: d, covered: map[string][]stack.Contact{}, contacts: map[string]bool{},
		exposures: map[string]stack.Exposure{}, lays: map[string]stack.Lay{},
	}
	for _, c := range d.Contacts {
		key := c.Zone + "/" + c.Lower
		p.covered[key] = append(p.covered[key], c)
		p.contacts[c.ID] = true
	}
	for _, e := range d.Exposures {
		p.exposures[e.ID] = e
	}
	for _, l := range d.Lays {
		p.lays[l.ID] = l
	}
	for _, f := range findings {
		if f.Grade == "advice" {
			continue
		}
		places := p.of(f)
		if len(places) == 0 {
			elsewhere = append(elsewhere, f)
		}
		for _, m := range places {
			m.Finding, m.Rule, m.Grade, m.Will = f.ID, f.Rule, f.Grade, f.Certainty == "will"
			if f.Step != nil {
				m.Step = *f.Step
			}
			m.Label = strings.ToUpper(f.Grade) + ": " + f.Message + " [" + f.Rule + "]"
			marks = append(marks, m)
		}
	}
	return marks, elsewhere
}

// AsOf is what of the marks of a whole sheet can be seen once a step is done:
// those of the steps so far. What is wrong with a surface that a later film
// will cover stands on its open face.
func AsOf(marks []Mark, whole *stack.Document, step int) []Mark {
	contacts := map[string]stack.Contact{}
	for _, c := range whole.Contacts {
		contacts[c.ID] = c
	}
	var out []Mark
	for _, m := range marks {
		if m.Step > step {
			continue
		}
		if c, ok := contacts[m.Contact]; ok && c.Step > step {
			m.Contact, m.Surface = "", c.Zone+"/"+c.Lower
		}
		out = append(out, m)
	}
	return out
}

type placing struct {
	d         *stack.Document
	covered   map[string][]stack.Contact // by zone and lower layer, in the order of steps
	contacts  map[string]bool
	exposures map[string]stack.Exposure
	lays      map[string]stack.Lay
}

// of is every place of one finding; none where it is about no film.
func (p *placing) of(f rulebook.Finding) []Mark {
	if f.People {
		return nil
	}
	var out []Mark
	for _, z := range f.Zones {
		if m, ok := p.inZone(f, z); ok {
			out = append(out, m)
		}
	}
	if len(out) > 0 {
		return out
	}
	if p.contacts[f.On] {
		return []Mark{{Contact: f.On}}
	}
	layer, zones := f.On, f.Zones
	if l, ok := p.lays[f.On]; ok {
		layer = l.Layer
		if len(zones) == 0 {
			zones = l.Zones
		}
	}
	l, ok := p.d.LayersByID[layer]
	if !ok {
		return nil
	}
	if len(zones) == 0 {
		zones = l.Zones
	}
	for _, z := range zones {
		out = append(out, Mark{Film: z + "/" + layer})
	}
	return out
}

// inZone is the place of a finding in one of its zones.
func (p *placing) inZone(f rulebook.Finding, zone string) (Mark, bool) {
	if f.Upper != "" && p.contacts[zone+"/"+f.Upper] {
		return Mark{Contact: zone + "/" + f.Upper}, true
	}
	if f.Lower != "" {
		surface := zone + "/" + f.Lower
		for _, c := range p.covered[surface] {
			if f.Step == nil || c.Step >= *f.Step {
				return Mark{Contact: c.ID}, true
			}
		}
		return Mark{Surface: surface}, true
	}
	// What is found of several zones is named by the first.
	if e, ok := p.exposures[zone+strings.TrimPrefix(f.On, f.Zones[0])]; ok {
		if e.Contact != "" {
			return Mark{Contact: e.Contact}, true
		}
		return Mark{Surface: zone + "/" + e.Layer}, true
	}
	return Mark{}, false
}
