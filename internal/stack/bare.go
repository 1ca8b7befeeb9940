package stack

import (
	"guidecoat/internal/quantity"
	"guidecoat/internal/trade"
)

// contactBare is how a bare substrate was roughened, cleaned and treated, and
// how long it stood open, before a film is laid on it.
func (b *builder) contactBare(c *Contact, z *zone, low *film, l *layer, at int) {
	s := z.top
	c.Tooth = b.tooth(c, s, l)
	prep := s.prep
	prep.Blasted = s.blastStep > 0
	if prep.Blasted {
		prep.BlastAge = b.clock.plain(doneOf(s.blastStep), at).held("most", b.lim.number("blast_fresh"))
	}
	c.Prep = &prep

	open := b.clock.plain(s.openPos, at)
	m := open.measure()
	c.OpenTime = &m
	around := b.around(s.openPos, at)
	c.OpenOutdoors = around.outdoors
	c.OpenHumidity = around.humidityMeasure()
	if n := b.openLimit(low, s, around); n.ok {
		c.OpenSteel = open.held("most", n)
	}
	if low.Traits.Steel {
		c.OpenDay = b.clock.plain(s.dayPos, at).held("most", b.lim.number("bare_steel_most"))
	}
	if low.Traits.Zinc && z.zinc != nil {
		grit := z.zinc.grit
		c.ZincAbraded = &grit
	}
	c.ZincCut = low.Traits.Zinc && z.zincCut
}

// openLimit is how long a bare metal may stand open: by how it was bared and
// what metal it is, half as long for steel in damp air. Stainless is exempt.
func (b *builder) openLimit(low *film, s *surface, around surroundings) number {
	var n number
	switch {
	case !low.Traits.Metal || low.Kind == "stainless steel":
		return n
	case s.prep.ConversionSinceAbraded:
		return b.lim.number("bare_converted_open")
	case low.Traits.Zinc:
		return b.lim.number("bare_galvanized_open")
	case low.Kind == "aluminum":
		return b.lim.number("bare_aluminum_open")
	case s.blastStep > 0:
		n = b.lim.number("bare_blasted_open")
	default:
		n = b.lim.number("bare_steel_open")
	}
	return b.damped(n, around, "damp_steel")
}

// damped is a time halved where the air is damper than a limit; where it only
// may be, the time is anything from half to whole.
func (b *builder) damped(n number, around surroundings, limit string) number {
	damp := b.lim.interval(limit).Hi
	if !around.humid || !(around.humidity.Hi > damp) {
		return n
	}
	n.iv.Lo /= 2
	if around.humidity.Lo > damp {
		n.iv.Hi /= 2
	}
	return n
}

// tooth is how a bare substrate was roughened.
func (b *builder) tooth(c *Contact, s *surface, l *layer) *Tooth {
	t := &Tooth{By: orElse(s.toothBy, "none"), Bared: s.bared, BaredStep: s.from}
	if s.bared == "" {
		t.BaredStep = 0
	}
	if s.toothBy != "" {
		t.Step = s.from
	}
	if n := len(s.scratched); n > 0 {
		t.By, t.Step = "abrasion", s.scratched[n-1].Step
	}
	t.Blast = t.By == "grit blast"
	coarse, fine := l.view.gritBeneath(true)
	scratch, grip := s.coarsest(), s.finest()
	if scratch != nil {
		t.Grit = &scratch.grit
	}
	if grip != nil {
		t.Finest = &grip.grit
	}
	if scratch == nil {
		scratch = grip
	}
	if scratch != nil {
		t.CoarseCard = compareGrades("most", scratch.abr, coarse)
		t.FineCard = compareGrades("least", scratch.abr, fine)
	}
	return t
}

// fillDepths compares all the films laid on bare metal before anything was
// sanded with the depth of the scratch, or with the blast's profile and what is
// wanted over its peaks. A film nobody wrote counts at its middle, as P80 is
// right under any primer that may lie on steel; where even that is short, all of
// its range is shown.
func (b *builder) fillDepths() {
	for _, d := range b.depths {
		c := &b.doc.Contacts[d.contact]
		if c.Tooth == nil || c.Stripped || c.UpperTraits.Class == "filler" || c.UpperTraits.Class == "seam" {
			continue
		}
		limit := b.scratchDepth(c.Tooth, d)
		if !limit.ok {
			continue
		}
		var films, middles quantity.Interval
		known := true
		for _, f := range d.films {
			if class := f.Traits.Class; class == "filler" || class == "seam" {
				continue
			}
			iv := f.laid.iv
			known = known && f.laid.known && !iv.IsOpen()
			films = films.Add(iv)
			if f.laid.assumed {
				iv = quantity.Exactly(iv.Mid())
			}
			middles = middles.Add(iv)
			limit.leaned = append(limit.leaned, f.laid.leaned...)
		}
		if middles.Lo >= limit.iv.Hi {
			films = middles
		}
		if known {
			c.Tooth.Depth = compare("least", films, false, d.films[0].unit, limit)
		}
	}
}

// scratchDepth is the film that a tooth wants over it, mil.
func (b *builder) scratchDepth(t *Tooth, d *depth) number {
	n := number{dim: quantity.Film, unit: "mil", source: "limit", ok: true}
	switch {
	case t.Blast:
		n.iv = d.profile.Interval.Add(b.lim.interval("blast_peak"))
		n.ok = d.profile.Written && !n.iv.IsOpen()
	case d.scratch != nil:
		by := b.lim.interval("depth_other").Lo
		if trade.Orbital(d.scratch.grit.Tool) {
			by = b.lim.interval("depth_sander").Lo
		}
		n.iv = trade.ScratchDepth(d.scratch.abr.Microns, by)
	default:
		return number{}
	}
	return n
}
