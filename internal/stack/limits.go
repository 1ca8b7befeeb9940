package stack

import (
	"maps"
	"sync"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// limits are the named judgement numbers, resolved for one sheet's work and
// its house file.
type limits map[string]number

// limitsOf resolves every named limit for a sheet. A house file's number
// replaces the one for either work. The sheet has been checked, so that a
// house limit reads; one that does not is left at the rulebook's value. What
// it gives may be shared with other sheets, and is not to be changed.
func limitsOf(s *sheet.Sheet) limits {
	out := tradeLimits(s.Work).limits
	if s.House == nil || len(s.House.Limits) == 0 {
		return out
	}
	out = maps.Clone(out)
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

// ofWork are the rulebook's own limits for a work, worked out once.
type ofWork struct {
	limits   limits
	document map[string]Limit
}

var worksLimits sync.Map // by work: *ofWork

func tradeLimits(work string) *ofWork {
	if known, ok := worksLimits.Load(work); ok {
		return known.(*ofWork)
	}
	w := &ofWork{limits: limits{}}
	for _, l := range trade.Limits() {
		w.limits[l.Name] = limitNumber(l.For(work), "limit")
	}
	w.document = w.limits.document()
	worksLimits.Store(work, w)
	return w
}

// limitNumber is a limit's value with where it comes from: "limit" or "house".
func limitNumber(v trade.LimitValue, source string) number {
	return number{iv: v.Interval, dim: v.Dim, unit: v.Unit, grade: v.Grade, source: source, ok: true}
}

// number is the limit of that name; no number where there is none.
func (l limits) number(name string) number { return l[name] }

// interval is the limit's interval in its canonical unit.
func (l limits) interval(name string) quantity.Interval { return l[name].iv }

// documentOf is the same for all limits of a sheet of a work; it may be shared as
// they are.
func (l limits) documentOf(work string) map[string]Limit {
	ofHouse := limits{}
	for name, n := range l {
		if n.source == "house" {
			ofHouse[name] = n
		}
	}
	own := tradeLimits(work).document
	if len(ofHouse) == 0 {
		return own
	}
	out := maps.Clone(own)
	maps.Copy(out, ofHouse.document())
	return out
}

// document is the limits as the rules read them.
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
