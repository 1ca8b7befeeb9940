package stack

import (
	"math"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

// layer is one film, or the substrate, while the sheet is carried out: the
// part of it that all its zones share.
type layer struct {
	Layer                       // as the document will have it, less what the end tells
	view     *cardView          //
	coats    []stepFilm         // of its laying steps, in order
	was      quantity.Interval  // film of an existing finish, mil
	wasKnown bool               // and whether it can be told
	unit     string             // the unit of its film
	lastStep int                // its last laying step, 0 for what was there
	poisons  []string           // of its cups that stay in the dry film
	home     map[string]*zone   // zones it was laid on, by name
	inBakes  map[string]bool    // zones in which a bake met its schedule
	mayBeIn  map[string]bool    // and in which one may have
	left     map[string]Measure // by zone, at the end
}

// film is one layer in one zone.
type film struct {
	*layer
	contact  int        // index into the document's contacts of what laid it in this very zone, -1 if nothing did
	coats    []stepFilm // of the steps that lay it here
	lastStep int        // the last of those steps; 0 for what was there
	laid     layerFilm  // as laid here
	left     left       // what is left here
	known    bool       // whether that can be told
	leaned   []string   // typical numbers that the film rests on
	blocked  bool       // sanded or blocked at some time
	baked    *bakeRun   // the bake that met its schedule here
	perhaps  *bakeRun   // the bake that may have met it, where none before it did
	bakedAny bool       // a bake has reached it, whatever it was worth
	acts     []act      // what took film off it in this zone
	due      []due      // what was done to it sooner or later than its own times
}

// hazards of what comes off a film when it is abraded, burnt or taken off.
func (f *film) hazards() []string {
	if len(f.poisons) == 0 {
		return f.Traits.Hazards
	}
	return sorted(append(append([]string{}, f.Traits.Hazards...), f.poisons...))
}

// act is an abrasion or a polishing that took some of a film off.
type act struct {
	polish bool
	index  int  // into the document's abrasions or polishes
	left   left // afterwards
}

// due is one thing done to a film beside the least age it wants for it unbaked.
type due struct {
	step     int
	compared *Comparison
}

// left is how much of a film is left, mil.
type left struct {
	iv        quantity.Interval
	middle    float64 // the middle of what was laid, less the middle of all that was taken off; not under 0
	unwritten bool    // the film, or something taken off it, is nowhere written
}

func leftOf(laid quantity.Interval, unwritten bool) left { return left{laid, laid.Mid(), unwritten} }

// against is what is left as a rule with a least film is to see it. Where the
// sheet does not say, the middle is looked at (3-rulebook.md, removals): a plain
// sheet is not suspected of every extreme at once. Only where the middle itself
// is short is all of the range shown, so that it may be short and no more.
func (l left) against(least number) quantity.Interval {
	if l.unwritten && !l.iv.IsOpen() && l.middle >= least.iv.Hi {
		return quantity.Exactly(l.middle)
	}
	return l.iv
}

// takeOff takes film off; never more than there is.
func (f *film) takeOff(removed quantity.Interval, written bool) {
	if !f.known {
		return
	}
	f.left.iv = f.left.iv.SubClamped(removed)
	f.left.middle = math.Max(0, f.left.middle-removed.Mid())
	f.left.unwritten = f.left.unwritten || !written
}

// bakeRun is one bake on the clock.
type bakeRun struct {
	step        int
	metal, time quantity.Interval
	dry         bool    // hot and long enough to drive water out of a pore
	films       []*film // those of its entry, in the same order
}

// mark is one thing that roughened a surface and is still there.
type mark struct {
	grit  Grit
	abr   quantity.Abrasive
	deep  bool // a scratch: of a sand, a block, a scuff that counts as one, or a stripping tool
	known bool // its grade is written
}

// wipe is a `clean` of a surface.
type wipe struct {
	step        int
	agent, kind string
	solvent     bool
}

// surface is a film in a zone, or its metal, from coming to the top until it
// is covered, stripped or the sheet ends. Everything 'since' on it goes by the
// order of the steps.
type surface struct {
	from    int         // the step that brought it up, 0 if it was there
	pos     int         // from when it is exposed
	opened  *sheet.Step // the first abrasion of bare fiberglass, which makes a pore of it; nil for all else
	openPos int         // from when bare metal counts as open: its last dry abrasion, on steel P180 or coarser
	dayPos  int         // the same, of any grade
	place   sheet.Place
	bared   string // what bared it: a strip's tool or media, "cut", or "" for what was laid or was there
	tooth   *mark  // of a sander, grinder or grit blast that bared it
	toothBy string // "sander", "grinder", "grit blast", "strip disc" or ""
	profile sheet.Amount

	scratched []Grit // sand, block and scuff of it, in order
	sanded    bool   // one of them counts as sanding
	sequence  []mark // those that count, in order
	marks     []mark // what is still there
	abrasions []int  // indexes into the document's abrasions, of this surface

	wipes     []wipe
	wipesFrom int // those since its last abrasion
	broken    *Broken
	touched   []string
	dust      Dust
	follows   bool // treat, neutralize or chemical stripper met it and nothing abraded it since

	prep        MetalPrep
	solventSeen bool // a solvent clean of this surface, with no metalwork since
	blastStep   int  // the blast that gave its tooth, 0 if none or abraded since
	stripper    *Stripper
	solder      Solder
	polished    bool
	during      []During
}

// zone is one part of the panel while the sheet is carried out.
type zone struct {
	id      int
	facts   Zone
	call    string
	parent  *zone
	kids    []*zone
	area    quantity.Interval // ft²
	areaOK  bool              // false where nobody wrote it
	unit    string            // of its area
	films   []*film           // from the substrate up
	ids     []string          // their ids; shared with the contacts, so only ever appended to or replaced
	top     *surface
	where   string // where the last step that reached it left it
	virgin  bool   // its bare plastic, fiberglass or gelcoat has taken neither abrasion nor film
	soap    bool
	cleaner bool

	soiledBy   string // carried | store | metalwork, and since then neither abraded nor covered
	soiledStep int
	cleaned    bool // a clean since
	degreased  bool // a solvent clean since it was last soiled

	inspected map[string]bool
	laid      bool // a film of this sheet was laid here, stripped since or not
	worked    bool // metalwork reached it
	rust      Rust
	zinc      *mark
	zincCut   bool

	// Since the last film was laid here:
	openTouches   []int
	openAbrasions []int
	lastDry       int // the last step that abraded it dry, P180 or coarser, or blasted it
	lastAcid      int // the last acid wash
	lastDryBake   int // the last bake that drives water out

	lastBake *bakeRun
	baredBy  int    // the last step that stripped it to the substrate, or cut it out of another down to that
	depth    *depth // of the film on its bare metal, until something is sanded
}

// depth gathers the films laid over bare metal before anything is sanded.
type depth struct {
	contact int // index into the document's contacts
	films   []*film
	scratch *mark        // the coarsest scratch in it, nil if none is known
	profile sheet.Amount // of a blast
}

// newSurface is what a step brings to the top, from the step's own end.
func newSurface(st *sheet.Step) *surface {
	pos := doneOf(st.N)
	return &surface{from: st.N, pos: pos, openPos: pos, dayPos: pos, place: st.Place}
}

func (z *zone) topFilm() *film { return z.films[len(z.films)-1] }

// onSubstrate: the substrate itself is the top.
func (z *zone) onSubstrate() bool { return len(z.films) == 1 }

// uppermost is the place among a zone's films of the uppermost that matches,
// -1 if none does.
func (z *zone) uppermost(match func(*film) bool) int {
	for i := len(z.films) - 1; i >= 0; i-- {
		if match(z.films[i]) {
			return i
		}
	}
	return -1
}

// carriesFiller: a filler or putty (body solder is metal) or a seam sealer.
func (z *zone) carriesFiller() bool {
	for _, f := range z.films {
		if f.Traits.Class == "seam" || f.Traits.Class == "filler" && f.Kind != "body solder" {
			return true
		}
	}
	return false
}

// baredAfter tells whether all of a zone was taken to the substrate after a
// step, by a strip or by cuts that leave nothing of it, and whether it may have
// been: where nobody wrote how large a cut is, or the zone, the cut may be all of it.
func (z *zone) baredAfter(step int) (sure, perhaps bool) {
	if z.baredBy > step {
		return true, true
	}
	const nothing = 1e-9 // ft², what adding up leaves of areas that are the same
	sure, perhaps = z.areaOK && z.area.Hi < nothing, z.area.Lo < nothing
	cut := false
	for _, kid := range z.kids {
		if kid.facts.CutStep <= step {
			continue
		}
		cut = true
		s, p := kid.baredAfter(step)
		sure, perhaps = sure && s, perhaps && p
	}
	return cut && sure, cut && perhaps
}

// push lays a film on the zone's others.
func (z *zone) push(f *film) {
	z.films = append(z.films, f)
	z.ids = append(z.ids, f.ID)
}

// cutDown keeps the films up to and with number keep.
func (z *zone) cutDown(keep int) {
	z.films = append([]*film{}, z.films[:keep+1]...)
	z.ids = append([]string{}, z.ids[:keep+1]...)
}

// porous tells whether a zone's top drinks: a porous film, or bare fiberglass
// once something has abraded it.
func (z *zone) porous() bool {
	f := z.topFilm()
	if f.Substrate && f.Kind == "fiberglass" {
		return len(z.top.scratched) > 0 || z.top.tooth != nil
	}
	return f.Traits.Pore
}

// dirty: soiled and not wiped since.
func (z *zone) soiled() bool { return z.soiledBy != "" && !z.cleaned }

// clearSoil: what was to be wiped off before has been ground in, taken off or
// covered, and is told of once.
func (z *zone) clearSoil() { z.soiledBy, z.soiledStep, z.cleaned = "", 0, false }
