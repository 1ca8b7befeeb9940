package editor

import (
	"context"
	"os"
	"path/filepath"

	"guidecoat/internal/sheet"
)

// define finds where what stands at a place is written: a product's card, a
// shelf's file, a call's step, a zone's table, a rule of the shop's.
func (s *server) define(_ context.Context, p *page, q *onDocument) (any, error) {
	at := spotAt(p.index(), p.text.bytes, p.text.offset(q.Position))
	if at.place != inValue {
		return nil, nil
	}
	k := p.keyAt(at.path, p.verbOf(at.table))
	word := p.word(at)
	if k == nil || word == "" {
		return nil, nil
	}
	here := func(at sheet.Span) any { return location{p.uri, p.text.span(at.Start, at.End)} }
	switch {
	case takes(k, sheet.TakesProduct, sheet.TakesHelper):
		return p.cardAt(word, ""), nil
	case k.Name == "as" && stepOf(at.table) > 0:
		return p.cardAt(p.value(at.table, "product"), word), nil
	case takes(k, sheet.TakesFile):
		return p.fileAt(word), nil
	case takes(k, sheet.TakesRule):
		if r, ok := p.ruleNamed(word); ok && r.House {
			file := p.fileOf(sheet.Place{File: r.File})
			return location{p.s.uriOf(file), p.textOf(file).place(sheet.Place{Line: r.Line, Column: 1, EndLine: r.Line, EndColumn: 1}, true)}, nil
		}
		return nil, nil
	}
	if takes(k, sheet.TakesCall, sheet.TakesKind) {
		for _, c := range p.calls(0) {
			if c.name == word {
				return here(c.at), nil
			}
		}
	}
	if takes(k, sheet.TakesZone) {
		for _, z := range p.zones(0) {
			if z.name == word {
				return here(z.at), nil
			}
		}
	}
	return nil, nil
}

// cardAt is where a card, or another use of it, is written; nil where it is not.
func (p *page) cardAt(name, use string) any {
	c, ok := p.products()[name]
	if !ok {
		return nil
	}
	x, table := p.cardTable(c)
	if used := table.Get("as").Get(use); used != nil {
		table = used
	}
	if table == nil {
		return nil
	}
	return location{p.s.uriOf(x.File), p.textOf(x.File).span(table.Key.Start, table.Key.End)}
}

// fileAt is the beginning of a file, if there is one.
func (p *page) fileAt(written string) any {
	file := p.beside(written)
	if _, open := p.s.openText(file); !open {
		if info, err := os.Stat(filepath.FromSlash(file)); err != nil || info.IsDir() {
			return nil
		}
	}
	return location{URI: p.s.uriOf(file)}
}
