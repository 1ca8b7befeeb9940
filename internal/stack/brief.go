package stack

// Brief is what a report reads of a document once its sheet is judged: the
// zones, what each step does, the films by name and how thick they were laid,
// and what those with the ids lower lie on. It is a small part of the whole, so
// that a run over many sheets need not keep every stack it has built; no rule
// can judge it.
func (d *Document) Brief(lower []string) *Document {
	out := &Document{
		Stack: d.Stack, Sheet: d.Sheet, Panel: d.Panel,
		Steps: make([]Step, len(d.Steps)), Lays: make([]Lay, len(d.Lays)),
		Zones: make([]Zone, len(d.Zones)), LayersByID: make(map[string]Layer, len(d.LayersByID)),
		ContactsByUpper: map[string][]Contact{},
	}
	for i, z := range d.Zones {
		out.Zones[i] = Zone{Name: z.Name, Parent: z.Parent, Substrate: z.Substrate, Layers: z.Layers}
	}
	for i, s := range d.Steps {
		out.Steps[i] = Step{ID: s.ID, N: s.N, Do: s.Do, Call: s.Call, Name: s.Name, With: s.With, Place: s.Place}
	}
	for i, l := range d.Lays {
		out.Lays[i] = Lay{ID: l.ID, Step: l.Step, Card: l.Card, Layer: l.Layer}
	}
	for id, l := range d.LayersByID {
		out.LayersByID[id] = Layer{ID: l.ID, Kind: l.Kind, Name: l.Name, Card: l.Card, Step: l.Step, Call: l.Call,
			Existing: l.Existing, Substrate: l.Substrate, FilmLaid: l.FilmLaid, Place: l.Place}
	}
	for _, id := range lower {
		if len(out.ContactsByUpper[id]) > 0 {
			continue
		}
		for _, c := range d.ContactsByUpper[id] {
			out.ContactsByUpper[id] = append(out.ContactsByUpper[id], Contact{ID: c.ID, Zone: c.Zone, Step: c.Step,
				Upper: c.Upper, Lower: c.Lower, UpperName: c.UpperName, LowerName: c.LowerName})
		}
	}
	return out
}
