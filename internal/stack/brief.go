package stack

// Pair is what one finding rests on, by id: the film above, the film below and
// the zone it is told of. Each may be "".
type Pair struct{ Upper, Lower, Zone string }

// Brief is what a report reads of a document once its sheet is judged: the
// zones, what each step does and with what, the films that findings rest on and
// how thick they were laid, and what the lower ones lie on. It is a small part
// of the whole, so that a run over many sheets need not keep every stack it has
// built; no rule can judge it.
func (d *Document) Brief(pairs []Pair) *Document {
	out := &Document{
		Stack: d.Stack, Sheet: d.Sheet, Panel: d.Panel,
		Steps: make([]Step, len(d.Steps)), Zones: make([]Zone, len(d.Zones)),
		LayersByID: map[string]Layer{}, ContactsByUpper: map[string][]Contact{},
	}
	for i, z := range d.Zones {
		out.Zones[i] = Zone{Name: z.Name, Parent: z.Parent, Substrate: z.Substrate}
	}
	for i, s := range d.Steps {
		out.Steps[i] = Step{ID: s.ID, N: s.N, Do: s.Do, Call: s.Call, Name: s.Name, With: s.With, Place: s.Place}
	}
	laid := map[int]bool{}
	for _, l := range d.Lays {
		if !laid[l.Step] {
			laid[l.Step] = true
			out.Steps[l.Step-1].With = l.Card // as compare.Like has it
		}
	}
	for _, r := range pairs {
		for _, id := range []string{r.Upper, r.Lower} {
			l, ok := d.LayersByID[id]
			if _, have := out.LayersByID[id]; !ok || have {
				continue
			}
			out.LayersByID[id] = Layer{ID: l.ID, Kind: l.Kind, Name: l.Name, Card: l.Card, Step: l.Step, Call: l.Call,
				Existing: l.Existing, Substrate: l.Substrate, FilmLaid: l.FilmLaid, Place: l.Place}
		}
		out.lies(r, d.ContactsByUpper[r.Lower])
	}
	return out
}

// lies adds of what a film lies on, in each zone, what a finding's zone asks for.
func (d *Document) lies(r Pair, on []Contact) {
	have := d.ContactsByUpper[r.Lower]
	for _, c := range have {
		if c.Zone == r.Zone {
			return
		}
	}
	for _, c := range on {
		if c.Zone == r.Zone {
			d.ContactsByUpper[r.Lower] = append(have, Contact{ID: c.ID, Zone: c.Zone, Step: c.Step,
				Upper: c.Upper, Lower: c.Lower, UpperName: c.UpperName, LowerName: c.LowerName})
			return
		}
	}
}
