package editor

import (
	"maps"
	"slices"
	"strings"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// named is a name that a page gives away.
type named struct {
	name string
	at   sheet.Span // of the name as it is written
	step int        // from 1; 0 where no step gives it
	lays bool       // of a call: the step lays a film
}

// steps are the tables of the steps, in order.
func (p *page) steps() []*sheet.Node { return entries(p.index().Root.Get("step")) }

// value is what a table's key says, where it is a text.
func (p *page) value(table *sheet.Node, key string) string {
	return words(p.index(), table.Get(key))
}

// zones are the zones a step may name: those written, the rest of the panel and
// those cut before it. before 0 is the end of the sheet.
func (p *page) zones(before int) []named {
	var all []named
	for _, z := range entries(p.index().Root.Get("zone")) {
		if n := z.Get("name"); p.value(z, "name") != "" {
			all = append(all, named{name: p.value(z, "name"), at: n.Value})
		}
	}
	if panel := p.index().Root.Get("panel"); panel != nil {
		all = append(all, named{name: sheet.RestZone, at: panel.Key})
	}
	for i, step := range p.steps() {
		if before > 0 && i+1 >= before {
			break
		}
		cuts := entries(step.Get("cuts_to"))
		for _, cut := range cuts {
			if name := p.value(cut, "call"); name != "" {
				all = append(all, named{name: name, at: cut.Get("call").Value, step: i + 1})
			}
		}
		if call := p.value(step, "call"); call != "" && len(cuts) == 1 && cuts[0].Get("call") == nil {
			all = append(all, named{name: call, at: step.Get("call").Value, step: i + 1})
		}
	}
	return all
}

var laying = []string{"spray", "brush", "spread", "caulk", "solder"}

// calls are the steps' calls, up to a step; 0 is all.
func (p *page) calls(before int) []named {
	var all []named
	for i, step := range p.steps() {
		if before > 0 && i+1 >= before {
			break
		}
		if call := p.value(step, "call"); call != "" {
			all = append(all, named{name: call, at: step.Get("call").Value, step: i + 1, lays: slices.Contains(laying, p.value(step, "do"))})
		}
	}
	return all
}

// shelves are the shelves that the page names, as they are written.
func (p *page) shelves() []string {
	var all []string
	for _, n := range entries(p.index().Root.Get("sheet").Get("shelf")) {
		if name := words(p.index(), n); name != "" {
			all = append(all, name)
		}
	}
	return all
}

// product is a card by its name, as far as it can be read.
type product struct {
	name  string
	kind  *trade.Kind // nil where it is not known
	label string
	card  *sheet.Card // of a shelf; nil for one of the page's own
	own   *sheet.Node // of the page's own
}

// products are every card in reach, by name; the page's own win.
func (p *page) products() map[string]product {
	all := map[string]product{}
	if p.kind == sheet.IsSheet {
		for name, c := range p.reach().cards {
			all[name] = product{name: name, kind: trade.KindOf(c.Kind), label: c.Label.Value, card: c}
		}
	}
	if own := p.index().Root.Get("product"); own != nil {
		for _, n := range own.Children {
			all[n.Name] = product{name: n.Name, kind: trade.KindOf(p.value(n, "kind")), label: p.value(n, "label"), own: n}
		}
	}
	return all
}

// productNames are the names of the products of one of some kinds of use, in
// order; all where no test is given.
func productNames(all map[string]product, fits func(product) bool) []string {
	return slices.DeleteFunc(slices.Sorted(maps.Keys(all)), func(name string) bool { return !fits(all[name]) })
}

// stepOf is the number of the step that a table is, or is in; 0 for none.
func stepOf(n *sheet.Node) int {
	for ; n != nil; n = n.Parent {
		if n.N > 0 && n.Parent != nil && n.Parent.Name == "step" && n.Parent.Parent != nil && n.Parent.Parent.Parent == nil {
			return n.N
		}
	}
	return 0
}

// verbOf is what the step that a table is in does.
func (p *page) verbOf(n *sheet.Node) string {
	if i := stepOf(n); i > 0 {
		return strings.ToLower(p.value(p.steps()[i-1], "do"))
	}
	return ""
}

// rules are the rules that the page's waivers and grades may name: ours, and the
// shop's where they can be read.
func (p *page) rules() []rulebook.Rule {
	all, _ := p.s.o.Book.Rules() // a fault in ours is found by the project's own tests
	var house *rulebook.House
	switch {
	case p.kind == sheet.IsSheet && p.read().sheet != nil:
		house, _ = p.s.houseOf(p.read().sheet)
	case p.kind == sheet.IsSheet:
		house, _ = p.s.houseOf(&sheet.Sheet{House: p.reach().house})
	case p.kind == sheet.IsHouse:
		if folder := words(p.index(), p.index().Root.Get("house").Get("rules")); folder != "" {
			house, _ = p.s.houseOf(&sheet.Sheet{House: &sheet.House{Rules: p.beside(folder)}})
		}
	}
	if house != nil {
		all = append(all, house.Rules()...)
	}
	return all
}

// ruleNamed is a rule by its name.
func (p *page) ruleNamed(name string) (rulebook.Rule, bool) {
	if r, err := p.s.o.Book.Rule(name); err == nil {
		return r, true
	}
	for _, r := range p.rules() {
		if r.Name == name {
			return r, true
		}
	}
	return rulebook.Rule{}, false
}
