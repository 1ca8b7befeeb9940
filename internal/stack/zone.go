package stack

import (
	"fmt"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// layer is one film while the sheet is carried out.
type layer struct {
	Layer
	view     *cardView
	lastStep int                          // its last laying step
	left     map[string]quantity.Interval // by zone, where it is still there
	leftOpen bool                         // nobody knows its film
	assumed  bool
	leaned   []string
	film     quantity.Interval
	unit     string
	lays     map[string]int // zone → its last laying step there
	films    []stepFilm     // of its laying steps, in order
}

// film is one layer in one zone.
type film struct {
	*layer
	at        int // step that laid it last here, 0 for what was there
	left      quantity.Interval
	known     bool
	leftMid   float64 // the middle of what is left, taking middles throughout
	sequence  []Grit  // sand and block of it in this zone, over all its life
	blocked   bool
	abrasions []int      // indexes into doc.Abrasions
	steps     []stepFilm // of the steps that lay it here
}

// scar is one abrasion of a surface.
type scar struct {
	grit  Grit
	abr   quantity.Abrasive
	sand  bool // counts as sanding: makes a scratch
	strip bool
	known bool
	step  int
	tool  string
}

// surface is a film in a zone, or its metal, from coming to the top until it
// is covered.
type surface struct {
	from                           int // the step that bared or laid it, 0 if it was there
	pos                            int // position on the clock from which it is exposed
	place                          sheet.Place
	bared                          string // what bared a substrate
	profile                        sheet.Amount
	scars                          []scar
	scratch                        []scar   // those still there
	wipes                          []wipeOf // cleans in its whole life
	sinceAbr                       int      // index into wipes: those since the last abrasion
	degreaseFrom                   int      // index into wipes: since the last abrasion or metalwork
	touched                        []string
	touches                        []int // indexes into doc.Touches
	lastAbr                        int   // step
	lastAbrPos                     int   // clock position after it, -1 for none
	cleaned, tacked, blown, rinsed bool  // since the last abrasion
	broken                         *Broken
	// treatments
	acid, acidSince, conv, convSince, acidAfterSolvent bool
	treatStep, neutStep, lastChem                      int
	neutralized, rinsedSince, abradedSince             bool
	solventBefore                                      bool // a solvent clean came before its last abrasion, or before it was bared
	solventSeen                                        bool
	stripper                                           *Stripper
	solder                                             Solder
	blasted                                            bool
	blastPos                                           int
	blownSinceBlast                                    bool
	metalworkSince                                     bool
	lastRoughStep                                      int
	polished                                           bool
	polishStep                                         int
	wetUse                                             bool // treat, neutralize or stripper met it: a rinse after it is let pass
}

type wipeOf struct {
	step    int
	agent   string
	kind    string
	solvent bool
	donePos int
}

// place is one zone while the sheet is carried out.
type place struct {
	Zone
	films             []*film // from the substrate up
	top               *surface
	soiled            string // carried | store | metalwork | ""
	soiledStep        int
	cleanedSinceSoil  bool
	inspected         map[string]bool
	rust              Rust
	hasRust           bool
	laidAny           bool
	filled            bool
	metalwork         bool
	zincAbr           *scar
	zincCut           bool
	areaIv            quantity.Interval
	areaOpen          bool
	areaUnit          string
	cuts              []*place
	began             bool // the first abrasion or film of bare plastic, fiberglass or gelcoat has been told
	soap, softCleaner bool
	order             int
	substrateKind     string
	bakedAt           map[string]int
	cutToMetal        bool // split off down to the substrate
}

func (p *place) topFilm() *film { return p.films[len(p.films)-1] }

func (p *place) substrateFilm() *film { return p.films[0] }

func (p *place) onSubstrate() bool { return len(p.films) == 1 }

// uppermost finds the uppermost film of a kind or laid by a call, under the top or at it.
func (p *place) uppermost(match func(*film) bool) int {
	for i := len(p.films) - 1; i >= 0; i-- {
		if match(p.films[i]) {
			return i
		}
	}
	return -1
}

func (p *place) String() string { return fmt.Sprintf("zone %s", p.Name) }
