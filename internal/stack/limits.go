package stack

import (
	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// limits are the named judgement numbers, resolved for one sheet's work and
// its house file.
type limits map[string]number

// limitsOf resolves every named limit for a sheet. A house file's number
// replaces the one for either work. The sheet has been checked, so that a
// house limit reads; one that does not is left at the rulebook's value.
func limitsOf(s *sheet.Sheet) limits {
	out := limits{}
	for _, l := range trade.Limits() {
		out[l.Name] = limitNumber(l.For(s.Work), "limit")
	}
	if s.House == nil {
		return out
	}
	for _, h := range s.House.Limits {
		l, ok := trade.LimitNamed(h.Name)
		if !ok {
			continue
		}
		if v, err := l.ParseHouse(h.Text); err == nil {
			out[h.Name] = limitNumber(v, "house")
		}
	}
	return out
}

// limitNumber is a limit's value with where it comes from: "limit" or "house".
func limitNumber(v trade.LimitValue, source string) number {
	return number{iv: v.Interval, dim: v.Dim, unit: v.Unit, grade: v.Grade, source: source, ok: true}
}

// number is the limit of that name; no number where there is none.
func (l limits) number(name string) number { return l[name] }

// interval is the limit's interval in its canonical unit.
func (l limits) interval(name string) quantity.Interval { return l[name].iv }

// document is every limit as the rules read it.
func (l limits) document() map[string]Limit {
	out := make(map[string]Limit, len(l))
	for name, n := range l {
		limit := Limit{Measure: n.measure(), Half: round9(n.iv.Lo / 2), Source: n.source}
		if n.dim == quantity.Share {
			low, high := round9(1-n.iv.Lo/100), round9(1+n.iv.Lo/100)
			limit.Low, limit.High = &low, &high
		}
		out[name] = limit
	}
	return out
}
