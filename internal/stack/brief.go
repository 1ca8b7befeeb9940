package stack

// Brief is what a report still reads of a document once its sheet is judged:
// its head, and with steps what each step does and with what, which is how a
// finding is known again after other steps have come. It is a small part of
// the whole, so that a run over many sheets need not keep every stack it has
// built; no rule can judge it.
func (d *Document) Brief(steps bool) *Document {
	out := &Document{Stack: d.Stack, Sheet: d.Sheet, Panel: d.Panel}
	if !steps {
		return out
	}
	out.Steps = make([]Step, len(d.Steps))
	for i, s := range d.Steps {
		out.Steps[i] = Step{ID: s.ID, N: s.N, Do: s.Do, Call: s.Call, Name: s.Name, With: s.With}
	}
	laid := map[int]bool{}
	for _, l := range d.Lays {
		if !laid[l.Step] {
			laid[l.Step] = true
			out.Steps[l.Step-1].With = l.Card // as compare.Like has it
		}
	}
	return out
}
