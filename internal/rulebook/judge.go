package rulebook

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sort"
	"strings"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"
	"github.com/open-policy-agent/opa/v1/topdown"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// Options is what a judgement depends on beside the stack.
type Options struct {
	// Today is the day waivers are held against; nothing else reads it. It may
	// be left out where the sheet has no waivers.
	Today time.Time
	// House holds the shop's own rules, or is nil.
	House *House
}

// Judge has every rule look at a stack, and joins to each verdict what a person
// reads. A rule that breaks is in Result.Broke and the others are judged all
// the same. The error is for what concerns no one rule: a rulebook that does
// not compile, a context that is over, a fault of the program itself.
func (b *Book) Judge(ctx context.Context, doc *stack.Document, s *sheet.Sheet, o Options) (result Result, err error) {
	result = Result{Findings: []Finding{}, Waived: []Finding{}, Broke: []Broke{}, Off: []Off{}}
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("judging the stack: a fault inside the program: %v", fault)
		}
	}()
	if o.Today.IsZero() && len(s.Waivers) > 0 {
		return result, errors.New("judging waivers needs the day they are held against")
	}
	// Not left to the evaluation alone: a short one may be over before it looks.
	if err := ctx.Err(); err != nil {
		return result, err
	}
	verdicts, broke, err := b.raise(ctx, doc)
	if err != nil {
		return result, err
	}
	if o.House != nil {
		more, brokeToo, err := o.House.raise(ctx, doc)
		if err != nil {
			return result, err
		}
		verdicts, broke = append(verdicts, more...), append(broke, brokeToo...)
	}
	result.Broke = append(result.Broke, broke...)
	for _, v := range verdicts {
		if odd := (Broke{v.rule, fmt.Sprint(v.oddEdit)}); v.oddEdit != nil && !slices.Contains(result.oddEdits, odd) {
			result.oddEdits = append(result.oddEdits, odd)
		}
	}

	j := joining{book: b, house: o.House, doc: doc, sheet: s}
	verdicts, result.Off = j.graded(verdicts)
	w := j.waive(verdicts, o.Today)
	// A waiver's own findings have their grade from the house like any other.
	fromWaivers, _ := j.graded(w.findings)
	if result.Findings, err = j.findings(append(w.standing, fromWaivers...)); err != nil {
		return result, err
	}
	result.Waived, err = j.waived(w.waived)
	return result, err
}

// Raised is what the rules give for a stack before house grades, waivers and
// the joining of texts: the same that a stock OPA gives for
// data.guidecoat.findings, as plain Go values. A rule that breaks is an error.
func (b *Book) Raised(ctx context.Context, doc *stack.Document) (any, error) {
	verdicts, broke, err := b.raise(ctx, doc)
	if err != nil {
		return nil, err
	}
	if len(broke) > 0 {
		return nil, fmt.Errorf("rule %s broke: %s", broke[0].Rule, broke[0].Message)
	}
	out := make([]any, len(verdicts))
	for i, v := range verdicts {
		if out[i], err = plain(v.value); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// raise asks the rules that the stack can make speak, all at once. Where one of
// them breaks the whole question breaks; then each is asked alone, so that the
// others are heard and the broken one is named.
func (b *Book) raise(ctx context.Context, doc *stack.Document) ([]verdict, []Broke, error) {
	names, err := b.needed(doc)
	if err != nil {
		return nil, nil, err
	}
	j, err := b.judgeOf(ctx, names)
	if err != nil {
		return nil, nil, err
	}
	input, err := toValueOf(doc, j.reads.of(b.filesOf(names)))
	if err != nil {
		return nil, nil, err
	}
	verdicts, broke, err := b.raiseAll(ctx, j, names, input)
	return uncovered(verdicts, j.covers), broke, err
}

// raiseAll has a judge ask the named rules; none of them silences another.
func (b *Book) raiseAll(ctx context.Context, j *judge, names []string, input ast.Value) ([]verdict, []Broke, error) {
	refs := make([]ast.Ref, len(names))
	for i, name := range names {
		refs[i] = verdictsOf(b.rules[name].family, name)
	}
	found, err := j.ask(ctx, refs, input)
	var verdicts []verdict
	var broke []Broke
	for i, name := range names {
		value, fault := ast.Value(nil), error(nil)
		if err == nil && found != nil {
			value = found[i]
		} else if value, fault = j.askOne(ctx, refs[i], input); ctx.Err() != nil {
			return nil, nil, ctx.Err()
		}
		vs, bs := heard(value, fault, b.rules[name].family, name)
		verdicts, broke = append(verdicts, vs...), append(broke, bs...)
	}
	return verdicts, broke, nil
}

// askOne asks one rule alone.
func (j *judge) askOne(ctx context.Context, ref ast.Ref, input ast.Value) (ast.Value, error) {
	found, err := j.ask(ctx, []ast.Ref{ref}, input)
	if err != nil || found == nil {
		return nil, err
	}
	return found[0], nil
}

// heard reads what a rule gave, or tells how it broke.
func heard(found ast.Value, fault error, family, rule string) ([]verdict, []Broke) {
	switch {
	case fault != nil:
		return nil, []Broke{{rule, evalFault(fault)}}
	case found == nil:
		return nil, []Broke{{rule, "its verdict is undefined: write 'verdict contains v if { ... }'"}}
	}
	return readVerdicts(found, family, rule)
}

// evalFault is an evaluation's error in words, with its place.
func evalFault(err error) string {
	var e *topdown.Error
	if errors.As(err, &e) {
		message := strings.Join(strings.Fields(e.Message), " ")
		if e.Location != nil {
			return fmt.Sprintf("%s:%d: %s", e.Location.File, e.Location.Row, message)
		}
		return message
	}
	return err.Error()
}

// readVerdicts reads the set of verdicts of a rule.
func readVerdicts(found ast.Value, family, rule string) ([]verdict, []Broke) {
	var broke []Broke
	set, ok := found.(ast.Set)
	if !ok {
		return nil, []Broke{{rule, "its verdict is no set: write 'verdict contains v if { ... }'"}}
	}
	named := ast.NewObject(
		[2]*ast.Term{ast.StringTerm("rule"), ast.StringTerm(rule)},
		[2]*ast.Term{ast.StringTerm("family"), ast.StringTerm(family)})
	verdicts := make([]verdict, 0, set.Len())
	for _, t := range set.Slice() {
		value := t.Value
		if o, ok := value.(ast.Object); ok {
			value, _ = o.MergeWith(named, func(_, ours *ast.Term) (*ast.Term, bool) { return ours, false })
		}
		v, err := readVerdict(value)
		if err != nil {
			b := Broke{rule, err.Error()}
			if !slices.Contains(broke, b) {
				broke = append(broke, b)
			}
			continue
		}
		v.value = value
		verdicts = append(verdicts, v)
	}
	return verdicts, broke
}

// joining puts verdicts and what a person reads together for one sheet.
type joining struct {
	book  *Book
	house *House
	doc   *stack.Document
	sheet *sheet.Sheet
}

// rule is what a person reads about a rule, ours or the shop's.
func (j joining) rule(name string) (Rule, error) {
	if j.house != nil {
		if r, ok := j.house.Rule(name); ok {
			return r, nil
		}
	}
	return j.book.Rule(name)
}

// graded caps grades as the house file says, and takes out what it has switched
// off. No grade is ever raised, and no people rule switched off.
func (j joining) graded(verdicts []verdict) ([]verdict, []Off) {
	off := []Off{}
	if j.sheet.House == nil {
		return verdicts, off
	}
	caps := map[string]sheet.HouseGrade{}
	for _, g := range j.sheet.House.Grades {
		if g.Off && j.family(g.Rule) == people {
			continue
		}
		caps[g.Rule] = g
		if g.Off {
			off = append(off, Off{g.Rule, g.Reason})
		}
	}
	sort.SliceStable(off, func(i, k int) bool { return off[i].Rule < off[k].Rule })
	kept := make([]verdict, 0, len(verdicts))
	for _, v := range verdicts {
		if c, ok := caps[v.rule]; ok {
			if c.Off {
				continue
			}
			if r := rank(c.Grade); r > 0 && r < rank(v.grade) {
				v.grade = c.Grade
			}
		}
		kept = append(kept, v)
	}
	return kept, off
}

func (j joining) family(name string) string {
	if f := j.book.Family(name); f != "" {
		return f
	}
	if j.house != nil {
		if r, ok := j.house.Rule(name); ok {
			return r.Family
		}
	}
	return ""
}

// merged is verdicts that differ in the zone alone.
type merged struct {
	verdict // of the first zone
	zones   []string
}

// merge puts verdicts together that differ in the zone alone. The first zone is
// the first of the stack's.
func (j joining) merge(verdicts []verdict) []merged {
	order := map[string]int{}
	for i, z := range j.doc.Zones {
		order[z.Name] = i + 1
	}
	place := func(zone string) int {
		if n, ok := order[zone]; ok {
			return n
		}
		return len(order) + 1
	}
	verdicts = slices.Clone(verdicts)
	slices.SortStableFunc(verdicts, func(a, b verdict) int {
		if d := place(a.zone) - place(b.zone); d != 0 {
			return d
		}
		return strings.Compare(a.zone, b.zone)
	})
	var out []merged
	at := map[string]int{}
	for _, v := range verdicts {
		key := v.sameButZone()
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, merged{verdict: v, zones: []string{}})
		}
		if v.zone != "" && !slices.Contains(out[i].zones, v.zone) {
			out[i].zones = append(out[i].zones, v.zone)
		}
	}
	return out
}

// findings makes findings of verdicts, in order: file, line, column, rule, zone, id.
func (j joining) findings(verdicts []verdict) ([]Finding, error) {
	all := j.merge(verdicts)
	out := make([]Finding, 0, len(all)) // no larger: a long run keeps the findings of every sheet
	for _, m := range all {
		f, err := j.finding(m)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	inOrder(out)
	return out, nil
}

// waived makes findings of verdicts that waivers set aside, each with its waiver.
func (j joining) waived(groups []waivedGroup) ([]Finding, error) {
	out := []Finding{}
	for _, g := range groups {
		fs, err := j.findings(g.verdicts)
		if err != nil {
			return nil, err
		}
		for _, f := range fs {
			applied := g.by
			f.Waiver = &applied
			out = append(out, f)
		}
	}
	inOrder(out)
	return out, nil
}

func inOrder(fs []Finding) {
	zone := func(f Finding) string {
		if f.Zone == nil {
			return ""
		}
		return *f.Zone
	}
	slices.SortStableFunc(fs, func(a, b Finding) int {
		switch {
		case a.File != b.File:
			return strings.Compare(a.File, b.File)
		case a.Line != b.Line:
			return a.Line - b.Line
		case a.Column != b.Column:
			return a.Column - b.Column
		case a.Rule != b.Rule:
			return strings.Compare(a.Rule, b.Rule)
		case zone(a) != zone(b):
			return strings.Compare(zone(a), zone(b))
		case a.ID != b.ID:
			return strings.Compare(a.ID, b.ID)
		}
		return strings.Compare(a.Message, b.Message)
	})
}

func (j joining) finding(m merged) (Finding, error) {
	r, err := j.rule(m.rule)
	if err != nil {
		return Finding{}, err
	}
	f := Finding{
		ID: m.rule + "@" + m.on, Rule: m.rule, Family: m.family, Grade: m.grade, Certainty: m.certainty,
		Zones: m.zones, Message: m.message, Why: r.Description, Remedy: r.Remedy, Defect: r.Defect,
		Measured: m.measured, Limit: m.limit, Leaned: m.leaned, Safety: r.Safety, Source: r.Source,
		Related: []Related{}, Mend: m.mend,
		On: m.on, Upper: m.upper, Lower: m.lower, People: m.family == people,
	}
	if len(m.zones) > 0 {
		f.Zone = &m.zones[0]
	}
	if m.step > 0 {
		step := m.step
		f.Step = &step
		if step <= len(j.doc.Steps) {
			if call := j.doc.Steps[step-1].Call; call != "" {
				f.Call = &call
			}
		}
	}
	f.Place = m.place
	if f.Place.Line == 0 {
		// What is written nowhere is told at the head of the sheet.
		f.Place = j.doc.Sheet.Place
	}
	if f.Place.File == "" {
		f.Place.File = j.sheet.File
	}
	if f.Place.Line == 0 {
		f.Place.Line, f.Place.Column, f.Place.EndLine, f.Place.EndColumn = 1, 1, 1, 1
	}
	f.File, f.Line, f.Column = f.Place.File, f.Place.Line, f.Place.Column
	f.EndLine, f.EndColumn = f.Place.EndLine, f.Place.EndColumn
	f.Related = j.related(m, f)
	f.Pair = j.pair(f)
	return f, nil
}

// pair is the two films of a finding, or nil where it does not rest on two.
func (j joining) pair(f Finding) *Pair {
	upper, above := j.doc.LayersByID[f.Upper]
	lower, below := j.doc.LayersByID[f.Lower]
	if !above || !below {
		return nil
	}
	zone := ""
	if f.Zone != nil {
		zone = *f.Zone
	}
	return &Pair{filmOf(upper), filmOf(lower), j.beneath(lower, zone)}
}

func filmOf(l stack.Layer) Film {
	out := Film{Name: l.Name, Step: l.Step}
	if !l.Substrate && !l.FilmLaid.Open {
		out.Laid = l.FilmLaid.Text
	}
	return out
}

// beneath names what a film lies on in a zone.
func (j joining) beneath(l stack.Layer, zone string) string {
	for _, c := range j.doc.ContactsByUpper[l.ID] {
		if c.Zone == zone {
			return c.LowerName
		}
	}
	if l.Existing {
		for _, z := range j.doc.Zones {
			if z.Name == zone {
				return z.Substrate
			}
		}
	}
	return ""
}

// related is the other places a finding rests on, with words: the film beneath,
// the film above where the finding is about another, the step.
func (j joining) related(m merged, f Finding) []Related {
	out := []Related{}
	add := func(p sheet.Place, text string) {
		if p.Line == 0 || (p.File == f.File && p.Line == f.Line && p.Column == f.Column) {
			return
		}
		if p.File == "" {
			p.File = j.sheet.File
		}
		r := Related{p.File, p.Line, p.Column, text}
		if !slices.Contains(out, r) {
			out = append(out, r)
		}
	}
	for _, id := range []string{m.lower, m.upper} {
		if l, ok := j.doc.LayersByID[id]; ok {
			add(l.Place, layerWords(l))
		}
	}
	for _, s := range j.doc.Steps {
		if s.ID == m.stepRef {
			add(s.Place, s.Name)
		}
	}
	return out
}

func layerWords(l stack.Layer) string {
	switch {
	case l.Substrate:
		return l.Name + ", what the panel is made of"
	case l.Existing:
		return l.Name + ", on the panel when the sheet begins"
	}
	return fmt.Sprintf("%s, laid in step %d", l.Name, l.Step)
}
