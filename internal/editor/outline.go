package editor

import (
	"context"
	"fmt"
	"strings"

	"guidecoat/internal/printable"
	"guidecoat/internal/sheet"
)

// outline is what is in a file, in its order: a sheet with its zones, cards,
// steps and waivers.
func (s *server) outline(_ context.Context, p *page, _ *onDocument) (any, error) {
	top := p.symbols()
	if s.client.tree {
		return top, nil
	}
	flat := []flatSymbol{}
	var walk func(symbols []documentSymbol, in string)
	walk = func(symbols []documentSymbol, in string) {
		for _, d := range symbols {
			flat = append(flat, flatSymbol{d.Name, d.Kind, location{p.uri, d.Range}, in})
			walk(d.Children, d.Name)
		}
	}
	walk(top, "")
	return flat, nil
}

func (p *page) symbols() []documentSymbol {
	x := p.index()
	var rest []documentSymbol
	for _, n := range x.Root.Children {
		switch {
		case n.Name == "step" || n.Name == "zone" || n.Name == "waiver":
			for i, entry := range entries(n) {
				rest = append(rest, p.entrySymbol(n.Name, i+1, entry))
			}
		case n.Name == "product":
			for _, card := range n.Children {
				d := p.symbol(card, card.Name, p.value(card, "kind"), symbolObject)
				for _, use := range entriesOf(card.Get("as")) {
					d.Children = append(d.Children, p.symbol(use, "as "+use.Name, p.value(use, "kind"), symbolObject))
				}
				rest = append(rest, d)
			}
		case n.Form == sheet.FormTable || n.Form == sheet.FormInline:
			rest = append(rest, p.symbol(n, n.Name, "", symbolPackage))
		}
	}
	title := p.value(x.Root.Get("sheet"), "title")
	if p.kind != sheet.IsSheet || title == "" {
		return rest
	}
	whole := documentSymbol{Name: printable.Visible(title), Detail: printable.Visible(p.value(x.Root.Get("sheet"), "number")), Kind: symbolModule,
		Range: p.text.span(0, len(p.text.bytes)), Children: rest}
	whole.SelectionRange = p.symbol(x.Root.Get("sheet"), "sheet", "", symbolPackage).SelectionRange
	return []documentSymbol{whole}
}

// entriesOf are the tables in a table of tables.
func entriesOf(n *sheet.Node) []*sheet.Node {
	if n == nil {
		return nil
	}
	return n.Children
}

func (p *page) entrySymbol(list string, i int, n *sheet.Node) documentSymbol {
	switch list {
	case "zone":
		return p.symbol(n, p.value(n, "name"), "zone", symbolClass)
	case "waiver":
		return p.symbol(n, "waiver: "+p.value(n, "rule"), p.value(n, "by"), symbolEvent)
	}
	name := fmt.Sprintf("%d %s", i, p.value(n, "do"))
	for _, key := range []string{"product", "with", "grit", "pad", "tool", "for"} {
		if v := p.value(n, key); v != "" {
			name += " " + v
			break
		}
	}
	detail := p.value(n, "call")
	var on []string
	for _, z := range entries(n.Get("on")) {
		on = append(on, words(p.index(), z))
	}
	if len(on) > 0 {
		detail = strings.TrimSpace(detail + " on " + strings.Join(on, ", "))
	}
	return p.symbol(n, name, detail, symbolFunction)
}

// symbol is an entry of the outline. Its name is never empty, and what it
// selects lies in its range, as the protocol wants it.
func (p *page) symbol(n *sheet.Node, name, detail string, kind symbolKind) documentSymbol {
	if name = strings.TrimSpace(name); name == "" {
		name = "(no name)"
	}
	whole, head := n.Whole, n.Header
	if head.IsZero() {
		head = n.Key
	}
	if head.IsZero() || head.Start < whole.Start || head.End > whole.End {
		head = sheet.Span{Start: whole.Start, End: whole.Start}
	}
	return documentSymbol{Name: printable.Visible(name), Detail: printable.Visible(detail), Kind: kind,
		Range: p.text.span(whole.Start, whole.End), SelectionRange: p.text.span(head.Start, head.End)}
}
