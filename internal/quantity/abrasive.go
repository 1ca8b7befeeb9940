package quantity

// System is the scale an abrasive was named in.
type System string

// The scales of 1-sheet.md.
const (
	FEPA System = "P"    // P80: FEPA / ISO 6344
	CAMI System = "grit" // 80 grit: CAMI
	Pad  System = "pad"  // a nonwoven pad, by name
)

// Abrasive is a written grade with the particle size it stands for.
type Abrasive struct {
	Text    string   // as written
	Name    string   // as printed: "P80", "80 grit", "fine pad"
	System  System   //
	Number  int      // 80; 0 for a pad
	Bare    bool     // written as a bare number, taken as P
	Microns Interval // median particle, µm: one value, or a pad's range
}

// AbrasiveRange is a range of grades, e.g. "P80-P180": Coarse is the larger
// particle. Any lone grade is both ends.
type AbrasiveRange struct {
	Text         string
	Coarse, Fine Abrasive
	Written      bool
}

// Mix is a written mix: parts by volume, or a paste hardener's share by weight.
type Mix struct {
	Text     string
	Written  bool
	Parts    int     // how many numbers were written: 1, 2 or 3
	Base     float64 // parts by volume
	Hardener float64
	Reducer  float64  // "4:1 + 10 %" gives 0.5
	Paste    Quantity // "2 %": a share by weight; Parts is then 0
}

// ReducerShare is reducer ÷ (base + hardener).
func (m Mix) ReducerShare() float64 {
	if m.Base+m.Hardener == 0 {
		return 0
	}
	return m.Reducer / (m.Base + m.Hardener)
}
