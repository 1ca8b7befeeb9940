package stack

import (
	"math"

	"guidecoat/internal/quantity"
)

// commonGrades are the P grades a shop has on the shelf.
var commonGrades = func() []quantity.Abrasive {
	var out []quantity.Abrasive
	for _, name := range []string{"P80", "P120", "P150", "P180", "P220", "P240", "P280", "P320", "P360", "P400", "P500", "P600", "P800", "P1000", "P1200", "P1500", "P2000"} {
		a, err := quantity.ParseAbrasive(name)
		if err == nil {
			out = append(out, a)
		}
	}
	return out
}()

// refine lists the common grades, coarse to fine, that are finer than a
// scratch and take it away.
func (b *builder) refine(scratch quantity.Abrasive) []Grit {
	out := []Grit{}
	step := b.lim.interval("grade_step").Lo
	for _, a := range commonGrades {
		if a.Microns.Lo < scratch.Microns.Lo && scratch.Microns.Hi <= step*a.Microns.Lo {
			out = append(out, Grit{Do: "sand", Name: a.Name, Known: true, Microns: gradeMeasure(a)})
		}
	}
	return out
}

// between is the common grade that parts a fall of grade in two within the
// step: the one nearest the middle; where no single one does, the finest
// within the step of the coarser; "" where the fall is small enough.
func (b *builder) between(from, to float64) string {
	step := b.lim.interval("grade_step").Lo
	if to <= 0 || from/to <= step {
		return ""
	}
	best, bestOff, finest := "", math.Inf(1), ""
	middle := math.Sqrt(from * to)
	for _, a := range commonGrades {
		m := a.Microns.Lo
		if m >= from || m <= to || from/m > step {
			continue
		}
		finest = a.Name
		if off := math.Abs(math.Log(m / middle)); m/to <= step && off < bestOff {
			best, bestOff = a.Name, off
		}
	}
	if best == "" {
		return finest
	}
	return best
}
