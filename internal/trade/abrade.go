package trade

import (
	"strings"

	"guidecoat/internal/quantity"
)

// removals are what one act takes off, mil, by the coarsest grade of each row,
// coarsest first (common practice, from memory).
var removals = []struct {
	grade   string  // the row's coarsest
	microns float64 // its median
	off     quantity.Interval
}{
	{"P36", 538, quantity.Interval{Lo: 5, Hi: 30}}, // P36-P40, shaping filler
	{"P80", 201, quantity.Interval{Lo: 1, Hi: 3}},
	{"P180", 82, quantity.Interval{Lo: 1.5, Hi: 4}},
	{"P320", 46.2, quantity.Interval{Lo: 0.7, Hi: 2}},
	{"P400", 35, quantity.Interval{Lo: 0.3, Hi: 1}},      // P400-P600
	{"P800", 21.8, quantity.Interval{Lo: 0.2, Hi: 0.6}},  // P800-P1000
	{"P1500", 12.6, quantity.Interval{Lo: 0.1, Hi: 0.4}}, // P1500-P2000
	{"P3000", 7, quantity.Interval{Lo: 0.02, Hi: 0.1}},   // and finer
}

// What one act of a pad or of a polishing compound takes off, mil (common
// practice, from memory). There is no figure for a fine pad: it is given a very
// fine pad's, for a grade's would be far too much.
var (
	offVeryFinePad  = quantity.Interval{Lo: 0.05, Hi: 0.15}
	offUltraFinePad = quantity.Interval{Lo: 0.02, Hi: 0.1}
	offCompound     = quantity.Interval{Lo: 0.05, Hi: 0.2}
)

// Removal is the typical film, mil, that one act with an abrasive takes off
// where the sheet does not say: the table's row for the nearest coarser grade,
// half of it for an orbital sander, twice at an edge. For a grade coarser than
// the table it is the coarsest row.
func Removal(a quantity.Abrasive, tool string, edge bool) quantity.Interval {
	off := removals[0].off
	switch {
	case a.System == quantity.Pad && a.Name == "ultra fine pad":
		off = offUltraFinePad
	case a.System == quantity.Pad:
		off = offVeryFinePad
	default:
		for _, row := range removals {
			if row.microns >= a.Microns.Lo {
				off = row.off
			}
		}
	}
	if Orbital(tool) {
		off = off.Scale(0.5)
	}
	return atEdge(off, edge)
}

// CompoundRemoval is the typical film, mil, that one polishing takes off,
// twice at an edge (common practice, from memory).
func CompoundRemoval(edge bool) quantity.Interval { return atEdge(offCompound, edge) }

func atEdge(off quantity.Interval, edge bool) quantity.Interval {
	if edge {
		return off.Scale(2)
	}
	return off
}

// Orbital reports whether a tool is a random-orbital sander: "sander", or
// anything called orbital or dual-action.
func Orbital(tool string) bool {
	tool = foldName(tool)
	for _, word := range []string{"orbital", "dual action"} {
		if strings.Contains(tool, word) {
			return true
		}
	}
	return tool == "sander" || tool == "da" || tool == "da sander"
}

// ScratchDepth is how deep a median particle, µm, scratches metal, mil: the
// particle over a divisor that goes by the tool (limits depth_sander and
// depth_other; common practice, from memory).
func ScratchDepth(microns quantity.Interval, divisor float64) quantity.Interval {
	if divisor <= 0 {
		return quantity.Open
	}
	return microns.Scale(1 / divisor / MicronsPerMil)
}

// GradeRatio is how many times coarser one abrasive's median particle is than
// the next one's.
func GradeRatio(from, to quantity.Abrasive) quantity.Interval {
	return from.Microns.Div(to.Microns)
}
