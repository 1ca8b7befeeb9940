package mend

import (
	"bytes"
	"container/heap"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// Mender mends sheets. It is safe for concurrent use if Judge is.
type Mender struct {
	Reader *sheet.Reader
	// Judge is the rulebook's judgement of a sheet, with house rules and
	// waivers as the caller has them. Its problems are those of a sheet or of
	// rules that cannot be read.
	Judge func(context.Context, *sheet.Sheet, *stack.Document) (rulebook.Result, []sheet.Problem, error)
	// Budget is how many edited sheets are judged at most; 0 means Budget, and
	// less in proportion for a sheet of more than 40 steps.
	Budget int
	// Told, where it is not nil, hears how many edited sheets were judged of
	// how many at most.
	Told func(judged, most int)
}

// Budget is how many edited sheets a Mender judges at most when nobody says.
const Budget = 600

// With is a Mender that judges by the built-in rulebook alone.
func With(reader *sheet.Reader, book *rulebook.Book, today time.Time) *Mender {
	return &Mender{Reader: reader, Judge: func(ctx context.Context, s *sheet.Sheet, doc *stack.Document) (rulebook.Result, []sheet.Problem, error) {
		result, err := book.Judge(ctx, doc, s, rulebook.Options{Today: today})
		return result, nil, err
	}}
}

// Outcome says how far a sheet was mended.
type Outcome string

// The outcomes.
const (
	Clean Outcome = "nothing to mend" // no finding is a fails or a risk
	Whole Outcome = "whole"           // every one is answered
	Part  Outcome = "part"            // some are
	None  Outcome = "none"            // no edit answers any
)

// Result is what came of mending one sheet.
type Result struct {
	File    string  `json:"file"`
	Outcome Outcome `json:"outcome"`
	Edits   []Edit  `json:"edits"`
	// Answered are the findings that are gone, Left those that stay.
	Answered []Told `json:"answered"`
	Left     []Left `json:"left"`
	// Decide is what a person has to decide and write because of the edits:
	// the protection of a step that was not there before.
	Decide []Told `json:"decide"`
	// Advice is what comes with the edits at the grade of advice.
	Advice []Told `json:"advice"`
	// FilmAdded is in mil, TimeAdded in minutes; both the middle of their range.
	FilmAdded float64 `json:"film_added"`
	TimeAdded float64 `json:"time_added"`
	// Fewest: every smaller set of the offered edits was judged and does not do.
	Fewest bool `json:"fewest"`
	Judged int  `json:"judged"` // edited sheets that were judged

	Before []byte `json:"-"`
	After  []byte `json:"-"`
}

// Edit is one edit that was made.
type Edit struct {
	Step    *int     `json:"step"`     // the step of the sheet as it was; null for one that another edit put in
	NewStep *int     `json:"new_step"` // the step in the mended sheet; null for one taken out
	Kind    string   `json:"kind"`     // insert | drop | set
	Does    string   `json:"does"`     // before step 9: spray grey-epoxy (epoxy primer)
	Rule    string   `json:"rule"`
	Because string   `json:"because"` // what the finding says that it answers
	Keys    []string `json:"keys"`    // the keys it writes
}

// Told is a finding in short.
type Told struct {
	Rule    string `json:"rule"`
	Grade   string `json:"grade"`
	Step    *int   `json:"step"`
	Line    int    `json:"line"`
	Message string `json:"message"`
	Remedy  string `json:"remedy"`
}

// Left is a finding that stays, and why.
type Left struct {
	Told
	Why string `json:"why"`
	// Missing are the kinds of product of which one would do and none is on the shelf.
	Missing []string `json:"missing"`
}

// Mend mends the text of one sheet. The problems are those of a sheet that
// cannot be read; the error is for what is no fault of the sheet.
func (m *Mender) Mend(ctx context.Context, file string, text []byte) (*Result, []sheet.Problem, error) {
	root, problems, err := m.try(ctx, file, text)
	if err != nil || len(problems) > 0 {
		return nil, problems, err
	}
	if root.broke {
		return nil, nil, errors.New("a rule broke on this sheet, so that no edit can be proved; see guidecoat inspect")
	}
	s := &search{m: m, ctx: ctx, file: file, root: root, was: root.grades(), seen: map[string]*trial{}, left: m.Budget}
	if s.left <= 0 {
		// A long sheet takes longer to judge.
		s.left = max(40, Budget*40/max(40, len(root.steps)))
	}
	s.budget = s.left
	s.ids = handle(len(root.steps))
	for _, f := range root.findings {
		if f.Grade == "advice" || toPerson(f) {
			continue
		}
		if moves, _ := root.offers(f); len(moves) > 0 {
			s.targets = append(s.targets, root.spots(f)...)
		}
	}
	best := s.state(root)
	fewest := true
	if len(s.targets) > 0 {
		if best, err = s.firstGood(); err != nil {
			return nil, nil, err
		}
		if best, err = s.reduced(best); err != nil {
			return nil, nil, err
		}
		if best, fewest, err = s.shorter(best); err != nil {
			return nil, nil, err
		}
	}
	r, err := s.result(best)
	if r != nil {
		r.Fewest = fewest && r.Outcome == Whole
	}
	return r, nil, err
}

// search looks for the edits of one sheet.
type search struct {
	m      *Mender
	ctx    context.Context
	file   string
	root   *trial
	was    map[spot]int
	seen   map[string]*trial // by text; nil for one that cannot be read
	left   int               // judgings that may still be spent
	budget int
	ids    handle

	targets []spot
}

// state is a trial held against what the search is for.
type state struct {
	*trial
	open    []rulebook.Finding // still to answer: targets, and what the edits brought, that offer edits
	brought int                // of those, what the edits brought
	stuck   int                // findings the edits brought that offer none
	told    []rulebook.Finding // what the edits brought for a person to decide
	advice  []rulebook.Finding // what they brought as advice, with nothing offered
	unmet   int                // targets that still stand
	futile  int                // moves that left standing what they were to answer
	spoiled bool               // the sheet no longer does what it is for
}

func (s *search) state(t *trial) *state {
	st := &state{trial: t}
	for _, f := range t.findings {
		brought, target := false, false
		for _, at := range t.spots(f) {
			if gravity[f.Grade] > s.was[at] {
				brought = true
			}
			if f.Grade != "advice" && slices.Contains(s.targets, at) {
				st.unmet++
				target = true
			}
		}
		switch moves, _ := t.offers(f); {
		case brought && toPerson(f) && s.dressed(t, f):
			st.told = append(st.told, f)
		case (brought || target) && len(moves) > 0:
			st.open = append(st.open, f)
			if brought {
				st.brought++
			}
		case brought && f.Grade == "advice":
			st.advice = append(st.advice, f)
		case brought:
			st.stuck++
		}
	}
	// The gravest first: what answers it often answers the lesser beside it.
	slices.SortStableFunc(st.open, func(a, b rulebook.Finding) int { return gravity[b.Grade] - gravity[a.Grade] })
	st.spoiled = t != s.root && s.spoils(t)
	return st
}

// dressed: the finding stands at a step that an edit put in or changed, so that
// somebody has to say anew what is worn.
func (s *search) dressed(t *trial, f rulebook.Finding) bool {
	if f.Step == nil || *f.Step < 1 || *f.Step > len(t.steps) {
		return false
	}
	h := t.steps[*f.Step-1]
	for _, mv := range t.moves {
		if mv.id == h && mv.kind == "insert" || mv.anchor == h && mv.kind == "set" {
			return true
		}
	}
	return false
}

// spoils: a zone no longer ends under the colors and clears it was to have.
func (s *search) spoils(t *trial) bool {
	for i, top := range s.root.tops {
		if i >= len(t.tops) {
			return true
		}
		was, is := strings.Fields(top), strings.Fields(t.tops[i])
		for _, w := range was {
			at := slices.Index(is, w)
			if at < 0 && !s.swapped(t, w) {
				return true
			}
			if at >= 0 {
				is = is[at:]
			}
		}
	}
	return false
}

// swapped: an edit laid another product in a card's place.
func (s *search) swapped(t *trial, card string) bool {
	for _, mv := range t.moves {
		if mv.kind == "set" && mv.film && int(mv.anchor) <= len(s.root.sheet.Steps) &&
			s.root.sheet.Steps[mv.anchor-1].Product.Value == card {
			return true
		}
	}
	return false
}

// good: nothing has come with the edits but what is a person's to decide;
// targets may still stand.
func (st *state) good() bool { return st.brought == 0 && st.stuck == 0 && !st.spoiled && !st.broke }

// unlikely is how many likelier offers its edits passed over.
func (t *trial) unlikely() int {
	n := 0
	for _, mv := range t.moves {
		n += mv.rank
	}
	return n
}

// better orders states that are good: what stays unanswered, what comes with
// the edits, the edits, the film, the time.
func better(a, b *state) bool {
	for _, d := range []float64{float64(a.unmet - b.unmet), float64(len(a.advice) - len(b.advice)),
		float64(len(a.moves) - len(b.moves)), a.film - b.film, a.minutes - b.minutes, float64(a.unlikely() - b.unlikely())} {
		switch {
		case d < -1e-9:
			return true
		case d > 1e-9:
			return false
		}
	}
	return false
}

// queue holds the states to go on from: those with least to answer first.
type queue []*state

func (q queue) Len() int { return len(q) }
func (q queue) Less(i, j int) bool {
	a, b := q[i], q[j]
	for _, d := range []int{a.stuck - b.stuck, a.futile - b.futile, len(a.open) - len(b.open),
		len(a.advice) - len(b.advice), len(a.moves) - len(b.moves)} {
		if d != 0 {
			return d < 0
		}
	}
	if a.film != b.film {
		return a.film < b.film
	}
	if a.minutes != b.minutes {
		return a.minutes < b.minutes
	}
	if d := a.unlikely() - b.unlikely(); d != 0 {
		return d < 0
	}
	return bytes.Compare(a.text, b.text) < 0
}
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(*state)) }
func (q *queue) Pop() any {
	old := *q
	x := old[len(old)-1]
	*q = old[:len(old)-1]
	return x
}

// next is the trial one move on, judged once whatever way led to it. It is nil
// where the move cannot be made or the budget is spent.
func (s *search) next(t *trial, mv move) (*trial, error) {
	if mv.kind == "insert" && mv.id == 0 {
		s.ids++
		mv.id = s.ids
	}
	text, steps, err := edited(s.file, t.text, t.steps, mv)
	if err != nil {
		return nil, nil
	}
	if known, ok := s.seen[string(text)]; ok {
		return known, nil
	}
	if s.left <= 0 {
		return nil, nil
	}
	s.left--
	if s.m.Told != nil {
		s.m.Told(s.budget-s.left, s.budget)
	}
	made, problems, err := s.m.try(s.ctx, s.file, text)
	if err != nil {
		return nil, err
	}
	if len(problems) > 0 || len(made.steps) != len(steps) {
		made = nil
	} else {
		made.steps = steps
		made.moves = append(slices.Clone(t.moves), mv)
	}
	s.seen[string(text)] = made
	return made, nil
}

// children are the states that the offers of some findings lead to.
func (s *search) children(st *state, of []rulebook.Finding) ([]*state, error) {
	var out []*state
	for _, f := range of {
		moves, _ := st.offers(f)
		for _, mv := range moves {
			t, err := s.next(st.trial, mv)
			if err != nil {
				return nil, err
			}
			if t == nil || len(t.moves) != len(st.moves)+1 {
				continue
			}
			c := s.state(t)
			c.futile = st.futile
			stands := t.grades()
			for _, at := range st.spots(f) {
				if stands[at] >= gravity[f.Grade] && t.says(at, f.Message) {
					c.futile++
					break
				}
			}
			out = append(out, c)
		}
	}
	return out, nil
}

// firstGood is the first set of edits found that answers every target, or,
// where the search comes to its end, the one that leaves the fewest.
func (s *search) firstGood() (*state, error) {
	best := s.state(s.root)
	q := &queue{best}
	reserve := s.left / 3
	for q.Len() > 0 && s.left > reserve {
		st := heap.Pop(q).(*state)
		if st.good() && better(st, best) {
			best = st
		}
		if best.unmet == 0 {
			break
		}
		if len(st.moves) > 4+2*len(s.targets) {
			continue
		}
		for few := range slices.Chunk(st.open, 5) {
			more, err := s.children(st, few)
			if err != nil {
				return nil, err
			}
			nearer := false
			for _, c := range more {
				if !c.spoiled {
					heap.Push(q, c)
					nearer = nearer || c.stuck <= st.stuck && len(c.open) < len(st.open)
				}
			}
			// On a sheet with many faults the rest can wait until these are answered.
			if nearer {
				break
			}
		}
	}
	return best, nil
}

// says: a finding speaks of a spot in just these words.
func (t *trial) says(at spot, message string) bool {
	return slices.ContainsFunc(t.findings, func(f rulebook.Finding) bool { return f.Message == message && slices.Contains(t.spots(f), at) })
}

// without is the trial of some of a state's moves, or nil.
func (s *search) without(st *state, leave int) (*state, error) {
	t := s.root
	for i, mv := range st.moves {
		if i == leave {
			continue
		}
		next, err := s.next(t, mv)
		if err != nil || next == nil {
			return nil, err
		}
		// A trial reached on another way may call inserted steps otherwise.
		if next.steps == nil || len(next.moves) != len(t.moves)+1 {
			return nil, nil
		}
		for _, other := range next.moves[len(t.moves):] {
			if other.same() != mv.same() || other.id != mv.id {
				return nil, nil
			}
		}
		t = next
	}
	return s.state(t), nil
}

// reduced leaves out every edit that is not needed once the others are made.
func (s *search) reduced(st *state) (*state, error) {
	for i := len(st.moves) - 1; i >= 0; i-- {
		fewer, err := s.without(st, i)
		if err != nil {
			return nil, err
		}
		if fewer != nil && fewer.good() && better(fewer, st) {
			st, i = fewer, len(fewer.moves)
		}
	}
	return st, nil
}

// shorter looks for a smaller or cheaper set among all that the findings
// offer, set by set as they grow, and says whether every smaller one was judged.
func (s *search) shorter(best *state) (*state, bool, error) {
	level := []*state{s.state(s.root)}
	for size := 0; size < len(best.moves); size++ {
		var next []*state
		for _, st := range level {
			more, err := s.children(st, st.open)
			if err != nil {
				return nil, false, err
			}
			if s.left <= 0 {
				return best, false, nil
			}
			for _, c := range more {
				if c.good() && better(c, best) {
					best = c
				}
				if !c.spoiled {
					next = append(next, c)
				}
			}
		}
		level = next
	}
	return best, true, nil
}

func told(f rulebook.Finding) Told {
	return Told{Rule: f.Rule, Grade: f.Grade, Step: f.Step, Line: f.Line, Message: f.Message, Remedy: f.Remedy}
}

func tolds(fs []rulebook.Finding) []Told {
	out := []Told{}
	for _, f := range fs {
		out = append(out, told(f))
	}
	return out
}

// result puts into words what came of it.
func (s *search) result(st *state) (*Result, error) {
	r := &Result{File: s.root.sheet.File, Edits: []Edit{}, Answered: []Told{}, Left: []Left{}, Decide: tolds(st.told), Advice: tolds(st.advice),
		FilmAdded: st.film - s.root.film, TimeAdded: st.minutes - s.root.minutes, Judged: s.budget - s.left,
		Before: s.root.text, After: st.text}
	for _, mv := range st.moves {
		r.Edits = append(r.Edits, s.made(st, mv))
	}
	// In the order of the sheet, a step taken out where it stood.
	at := func(e Edit) int {
		switch {
		case e.NewStep != nil:
			return 2 * *e.NewStep
		case e.Step != nil:
			return 2**e.Step - 1
		}
		return 0
	}
	slices.SortStableFunc(r.Edits, func(a, b Edit) int { return at(a) - at(b) })
	stands := st.grades()
	wanted := 0
	for _, f := range s.root.findings {
		if f.Grade == "advice" {
			continue
		}
		wanted++
		stays := false
		for _, at := range s.root.spots(f) {
			stays = stays || stands[at] >= gravity["risk"]
		}
		if !stays {
			r.Answered = append(r.Answered, told(f))
			continue
		}
		left, err := s.why(st, f)
		if err != nil {
			return nil, err
		}
		r.Left = append(r.Left, left)
	}
	switch {
	case wanted == 0:
		r.Outcome = Clean
	case len(r.Left) == 0:
		r.Outcome = Whole
	case len(st.moves) > 0:
		r.Outcome = Part
	default:
		r.Outcome = None
	}
	return r, nil
}

func (s *search) made(st *state, mv move) Edit {
	e := Edit{Kind: mv.kind, Rule: mv.rule, Because: mv.answers, Keys: []string{}}
	for _, k := range mv.set {
		e.Keys = append(e.Keys, k.key)
	}
	number := func(h handle) *int {
		if i := slices.Index(st.steps, h); i >= 0 {
			i++
			return &i
		}
		return nil
	}
	at := "the new step"
	if n := int(mv.anchor); n <= len(s.root.steps) {
		at = fmt.Sprintf("step %d", n)
		if mv.kind != "insert" {
			e.Step = &n
		}
	}
	switch mv.kind {
	case "insert":
		e.NewStep = number(mv.id)
		where := "before "
		if mv.after {
			where = "after "
		}
		e.Does = where + at + ": " + mv.does
	default:
		e.NewStep = number(mv.anchor)
		e.Does = at + ": " + mv.does
	}
	return e
}

// why says why a finding stays.
func (s *search) why(st *state, f rulebook.Finding) (Left, error) {
	left := Left{Told: told(f), Missing: []string{}}
	moves, missing := s.root.offers(f)
	switch {
	case toPerson(f):
		left.Why = "what protects a person is for a person to decide and to do"
	case len(moves) == 0 && len(missing) > 0:
		left.Missing = missing
		left.Why = "nothing on the shelf is " + anyOf(missing)
	case len(f.Mend) == 0:
		left.Why = "no one edit of the sheet answers this; somebody who knows the job has to choose"
	case len(moves) == 0:
		left.Why = "the edit that would answer it takes away what the sheet must keep"
	default:
		left.Why = "no edit that was tried answers it without bringing something new"
		if missing != nil {
			left.Missing = missing
		}
		for _, mv := range moves {
			t, err := s.next(s.root, mv)
			if err != nil {
				return left, err
			}
			if t == nil {
				continue
			}
			if said := s.trouble(t, f); said != "" {
				left.Why = mv.does + " was tried: " + said
				break
			}
		}
	}
	return left, nil
}

// trouble says what is wrong with a trial that was to answer a finding.
func (s *search) trouble(t *trial, f rulebook.Finding) string {
	after := s.state(t)
	stands := t.grades()
	for _, at := range s.root.spots(f) {
		if stands[at] >= gravity[f.Grade] {
			return "it does not answer it"
		}
	}
	for _, g := range t.findings {
		for _, at := range t.spots(g) {
			if gravity[g.Grade] > s.was[at] && g.Grade != "advice" && !slices.ContainsFunc(after.told, func(x rulebook.Finding) bool { return x.ID == g.ID }) {
				return fmt.Sprintf("it brings %s (%s)", g.Message, g.Rule)
			}
		}
	}
	if after.spoiled {
		return "the sheet would no longer end as it is meant to"
	}
	return ""
}

// anyOf is "a urethane sealer or an epoxy sealer".
func anyOf(kinds []string) string {
	words := make([]string, len(kinds))
	for i, k := range kinds {
		article := "a "
		if strings.ContainsAny(k[:1], "aeio") {
			article = "an "
		}
		words[i] = article + k
	}
	return strings.Join(words, " or ")
}
