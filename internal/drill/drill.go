// Package drill makes variations of a rule's breaking sheet for a learner to
// find the fault in: other kinds, zones, products and numbers, the same fault.
//
// It promises that a variation breaks its rule at the rule's own grade and
// nothing else at `fails` or `risk`, for each was judged; that what was written
// about the fault (title, comments) is gone; and that the same rule and number
// give the same bytes.
//
// It must not know of rules: whether a change is harmless is the rulebook's
// judgement.
package drill

import (
	"bytes"
	"context"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/internal/trade"
)

// Judge is the rulebook's judgement of a sheet.
type Judge func(context.Context, *sheet.Sheet, *stack.Document) (rulebook.Result, error)

// Drill is one variation with its answer.
type Drill struct {
	Rule   string
	Number int    // which variation, from 1
	Text   []byte // the sheet
	Sheet  *sheet.Sheet
	Doc    *stack.Document
	// Answer is what the rule says of it, one finding or more.
	Answer  []rulebook.Finding
	Changes int // how many changes were kept
}

// tries is how many changes are tried on one sheet.
const tries = 40

// Make makes variation number n, from 1, of the sheet that breaks a rule.
func Make(ctx context.Context, judge Judge, rule rulebook.Rule, n int) (*Drill, error) {
	seed := fnv.New64a()
	fmt.Fprintf(seed, "%s %d", rule.Name, n)
	m := &maker{ctx: ctx, judge: judge, rule: rule, rng: rand.New(rand.NewPCG(seed.Sum64(), 1))}
	text := bare([]byte(rule.Breaks))
	best, err := m.judged(text)
	if err != nil {
		return nil, err
	}
	if best == nil {
		return nil, fmt.Errorf("the sheet that breaks %s breaks more than that rule", rule.Name)
	}
	for range tries {
		next := m.changed(best.Text)
		if next == nil || bytes.Equal(next, best.Text) {
			continue
		}
		d, err := m.judged(next)
		if err != nil {
			return nil, err
		}
		if d != nil {
			d.Changes = best.Changes + 1
			best = d
		}
	}
	if best.Changes == 0 {
		return nil, fmt.Errorf("no change of the sheet that breaks %s keeps it to that one fault", rule.Name)
	}
	best.Number = n
	return best, nil
}

type maker struct {
	ctx   context.Context
	judge Judge
	rule  rulebook.Rule
	rng   *rand.Rand
}

// judged is a text as a drill, or nil where it is no sheet or breaks anything
// else than its rule.
func (m *maker) judged(text []byte) (*Drill, error) {
	file := m.rule.Name + "-drill.toml"
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, file, text)
	if len(problems) > 0 {
		return nil, nil
	}
	doc, problems := stack.Build(s)
	if len(problems) > 0 {
		return nil, nil
	}
	result, err := m.judge(m.ctx, s, doc)
	if err != nil {
		return nil, err
	}
	d := &Drill{Rule: m.rule.Name, Text: text, Sheet: s, Doc: doc}
	graded := false
	for _, f := range result.Findings {
		switch {
		case f.Rule == m.rule.Name:
			d.Answer = append(d.Answer, f)
			graded = graded || f.Grade == m.rule.Grade
		case f.Grade != "advice":
			return nil, nil
		}
	}
	if !graded || len(result.Broke) > 0 {
		return nil, nil
	}
	return d, nil
}

// bare takes comments out and gives the sheet a title that tells nothing.
func bare(text []byte) []byte {
	x, fault := sheet.NewIndex("", text)
	if fault != nil {
		return text
	}
	var held []sheet.Span // stretches in which a # is no comment
	x.Walk(func(n *sheet.Node) {
		if n.Form == sheet.FormText {
			held = append(held, n.Value)
		}
		if !n.Key.IsZero() {
			held = append(held, n.Key)
		}
	})
	inText := func(at int) bool {
		return slices.ContainsFunc(held, func(s sheet.Span) bool { return s.Start <= at && at < s.End })
	}
	var out bytes.Buffer
	at := 0
	for _, line := range bytes.SplitAfter(text, []byte("\n")) {
		cut := -1
		for i := range line {
			if line[i] == '#' && !inText(at+i) {
				cut = i
				break
			}
		}
		at += len(line)
		if cut < 0 {
			out.Write(line)
			continue
		}
		if kept := bytes.TrimRight(line[:cut], " \t"); len(kept) > 0 {
			out.Write(append(slices.Clone(kept), '\n'))
		}
	}
	text = out.Bytes()
	x, fault = sheet.NewIndex("", text)
	if fault != nil {
		return text
	}
	if n := x.Find("sheet.title"); n != nil {
		text = put(text, n.Value, sheet.Quote("A process to look over"))
	}
	return text
}

func put(text []byte, at sheet.Span, new string) []byte {
	return slices.Concat(text[:at.Start], []byte(new), text[at.End:])
}

// changed is a text with one thing in it changed, or nil where what was picked
// could not be.
func (m *maker) changed(text []byte) []byte {
	x, fault := sheet.NewIndex("", text)
	if fault != nil {
		return nil
	}
	switch m.rng.IntN(5) {
	case 0:
		return m.named(text, x)
	case 1:
		return m.kind(text, x)
	case 2:
		return m.zone(text, x)
	}
	return m.number(text, x)
}

func pick[T any](m *maker, list []T) (one T, ok bool) {
	if len(list) == 0 {
		return one, false
	}
	return list[m.rng.IntN(len(list))], true
}

// nodes are the values of a text that a test lets in.
func nodes(x *sheet.Index, test func(*sheet.Node) bool) []*sheet.Node {
	var out []*sheet.Node
	x.Walk(func(n *sheet.Node) {
		if test(n) {
			out = append(out, n)
		}
	})
	return out
}

// word is what a text value says.
func word(x *sheet.Index, n *sheet.Node) string {
	w, err := strconv.Unquote(string(x.Slice(n.Value)))
	if err != nil {
		return ""
	}
	return w
}

// key is the name of a value, or of the list it stands in.
func key(n *sheet.Node) string {
	if n.N > 0 && n.Parent != nil {
		return n.Parent.Name
	}
	return n.Name
}

// number changes one number: a quantity, a grit, a count of coats, a year.
func (m *maker) number(text []byte, x *sheet.Index) []byte {
	n, ok := pick(m, nodes(x, func(n *sheet.Node) bool {
		switch key(n) {
		case "format", "mix":
			return false
		}
		return n.Form == sheet.FormWhole || n.Form == sheet.FormText && figure.MatchString(word(x, n))
	}))
	if !ok {
		return nil
	}
	if n.Form == sheet.FormWhole {
		v, err := strconv.Atoi(string(x.Slice(n.Value)))
		if err != nil {
			return nil
		}
		by := m.rng.IntN(3) - 1
		if key(n) == "year" {
			by *= 1 + m.rng.IntN(6)
		}
		return put(text, n.Value, strconv.Itoa(max(1, v+by)))
	}
	was := word(x, n)
	if g, err := quantity.ParseAbrasive(was); err == nil && g.Name != "" && strings.HasPrefix(was, "P") {
		grades := quantity.Grades(quantity.FEPA)
		at := slices.Index(grades, g.Number) + m.rng.IntN(3) - 1
		if at < 0 || at >= len(grades) {
			return nil
		}
		return put(text, n.Value, sheet.Quote("P"+strconv.Itoa(grades[at])))
	}
	return put(text, n.Value, sheet.Quote(m.scaled(was)))
}

// figure is a text that begins with a number, or is an abrasive.
var (
	figure  = regexp.MustCompile(`^(P?\d|at least \d|up to \d)`)
	numeral = regexp.MustCompile(`\d+(\.\d+)?`)
)

// scaled is a quantity with each of its numbers changed alike: temperatures
// and shares by a few degrees, the rest by a factor, to figures a shop writes.
func (m *maker) scaled(was string) string {
	warm := strings.HasSuffix(was, "F") || strings.HasSuffix(was, "C") || strings.HasSuffix(was, "%")
	shift := float64(m.rng.IntN(9) - 4)
	factor := 0.7 + 0.8*m.rng.Float64()
	return numeral.ReplaceAllStringFunc(was, func(s string) string {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			return s
		}
		if warm {
			return strconv.FormatFloat(max(1, v+shift), 'f', -1, 64)
		}
		v *= factor
		step := 0.1
		switch {
		case v >= 100:
			step = 10
		case v >= 20:
			step = 5
		case v >= 5:
			step = 1
		}
		return quantity.FormatNumber(max(step, float64(int(v/step+0.5))*step))
	})
}

// kind changes a substrate, an old finish or a product to another kind of its
// class.
func (m *maker) kind(text []byte, x *sheet.Index) []byte {
	n, ok := pick(m, nodes(x, func(n *sheet.Node) bool {
		switch key(n) {
		case "substrate", "kind", "carries", "with":
			return n.Form == sheet.FormText && trade.KindOf(word(x, n)) != nil
		}
		return false
	}))
	if !ok {
		return nil
	}
	was := trade.KindOf(word(x, n))
	var like []string
	for _, name := range trade.Kinds().Names(was.Role) {
		if k := trade.KindOf(name); k.Class == was.Class && k.Name != was.Name && k.Has("metal") == was.Has("metal") {
			like = append(like, name)
		}
	}
	name, ok := pick(m, like)
	if !ok {
		return nil
	}
	return put(text, n.Value, sheet.Quote(name))
}

// The words of an invented shop.
var (
	parts   = []string{"tailgate", "left rocker", "roof skin", "quarter panel", "hood", "front fender", "door shell", "cowl", "trunk lid"}
	firsts  = []string{"harbor", "plain", "second", "bench", "tall", "quick", "mill", "lane", "stone", "river"}
	corners = []string{"lower edge", "left corner", "patch", "upper half", "flange", "belt line", "step edge", "inner lip"}
)

// named gives the part, or a product everywhere it is spoken of, another name.
func (m *maker) named(text []byte, x *sheet.Index) []byte {
	if n := x.Find("panel.part"); n != nil && m.rng.IntN(3) == 0 {
		part, _ := pick(m, parts)
		return put(text, n.Value, sheet.Quote(part))
	}
	products := x.Root.Get("product")
	if products == nil {
		return nil
	}
	n, ok := pick(m, products.Children)
	if !ok {
		return nil
	}
	first, _ := pick(m, firsts)
	last := n.Name[strings.LastIndex(n.Name, "-")+1:]
	name := first + "-" + last
	if products.Get(name) != nil {
		return nil
	}
	return renamed(text, x, n.Name, name, "product", "hardener", "reducer", "with", "additive")
}

// renamed writes a name anew where it is a table's key or the value of some keys.
func renamed(text []byte, x *sheet.Index, was, is string, keys ...string) []byte {
	type place struct {
		at  sheet.Span
		new string
	}
	var all []place
	x.Walk(func(n *sheet.Node) {
		switch {
		case n.Form == sheet.FormText && slices.Contains(keys, key(n)) && word(x, n) == was:
			all = append(all, place{n.Value, sheet.Quote(is)})
		case n.Name == was && n.Parent != nil && n.Parent.Name == "product" && !n.Key.IsZero():
			all = append(all, place{n.Key, is})
		case n.Parent != nil && n.Parent.Name == was && n.Parent.Parent != nil && n.Parent.Parent.Name == "product" && !n.Header.IsZero():
			// A table within the product's, whose header names it again: left alone,
			// and so is the name.
			all = append(all, place{})
		}
	})
	for _, p := range all {
		if p.at.IsZero() {
			return nil
		}
	}
	slices.SortFunc(all, func(a, b place) int { return b.at.Start - a.at.Start })
	for _, p := range all {
		text = put(text, p.at, p.new)
	}
	return text
}

// zone gives a zone another name everywhere, or, where there are none, makes
// one that is treated like the rest.
func (m *maker) zone(text []byte, x *sheet.Index) []byte {
	name, _ := pick(m, corners)
	zones := x.Root.Get("zone")
	if zones != nil {
		n, ok := pick(m, zones.Children)
		if !ok || n.Get("name") == nil {
			return nil
		}
		return renamed(text, x, word(x, n.Get("name")), name, "name", "on", "except", "over", "fades", "zone")
	}
	steps := x.Root.Get("step")
	if steps == nil || steps.Form != sheet.FormTables || len(steps.Children) == 0 {
		return nil
	}
	at := steps.Children[0].Header.Start
	area := strconv.Itoa(1+m.rng.IntN(9)) + "0 in2"
	return put(text, sheet.Span{Start: at, End: at}, fmt.Sprintf("[[zone]]\nname = %s\narea = %q\n\n", sheet.Quote(name), area))
}
