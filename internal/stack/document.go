// Package stack carries a checked sheet out on paper, step by step, on every
// zone, and hands over one document of facts: layers, contacts, touches,
// abrasions, exposures, mixes, weather and clock.
//
// It promises the same document, byte for byte, for the same sheet. It
// measures and never judges: there is no word of 'good' or 'bad' in it.
//
// The types here are the contract with the rulebook: the JSON Schema is made
// from them, and the comments on their fields are its descriptions.
package stack

import "guidecoat/internal/sheet"

// Range is an interval in a canonical unit: minutes, mil, °C, ft², L, g/L,
// psi, %, µm. Hi is null where nobody stated an upper end.
type Range struct {
	Lo float64  `json:"lo"`
	Hi *float64 `json:"hi"`
}

// Shown is a quantity in the unit the sheet used.
type Shown struct {
	Lo   float64  `json:"lo"`
	Hi   *float64 `json:"hi"`
	Unit string   `json:"unit"`
}

// Measure is a quantity: its interval in the canonical unit, the same in the
// unit the sheet used, and that in words ("25.6 h", "1 - 3 mil", "at least 24 h").
type Measure struct {
	Lo    float64  `json:"lo"`
	Hi    *float64 `json:"hi"`
	Shown Shown    `json:"shown"`
	Text  string   `json:"text"`
	// Open: nobody wrote it; Lo is 0 and Hi null, and it breaks no rule.
	Open bool `json:"open"`
}

// Comparison sets a quantity beside the number it is held to.
type Comparison struct {
	Measured Measure `json:"measured"`
	Limit    Measure `json:"limit"`
	// Sense: "least" (measured should be at least limit) or "most" (at most limit).
	Sense string `json:"sense"`
	// Over is measured ÷ limit at its extreme pairings; {0, null} when measured is open. Its upper end is null too where
	// something else, a bake, may have done instead of the time that is measured.
	// Temperatures are taken in kelvin, so that only 'over or under 1' means anything for them.
	Over Range `json:"over"`
	// Open: measured or limit is not known; nothing can be broken.
	Open bool `json:"open"`
	// Source of the limit: "card", "typical", "limit", "house" or "sheet".
	Source string `json:"source"`
	// Leaned lists the typical numbers used, as CARD.KEY, sorted.
	Leaned []string `json:"leaned"`
	// Graced: a card's number for clock, film or reduction, to which grace applies.
	Graced bool `json:"graced"`
}

// Document is everything the rules may read about one sheet.
type Document struct {
	Stack  int              `json:"stack"` // version of this document: 1
	Sheet  SheetFacts       `json:"sheet"`
	Booth  Booth            `json:"booth"`
	Panel  PanelFacts       `json:"panel"`
	Limits map[string]Limit `json:"limits"` // every named limit, resolved for this sheet's work and house

	Cards      map[string]CardFacts `json:"cards"` // by card reference: "grey-epoxy", or "grey-epoxy as sealer"
	Zones      []Zone               `json:"zones"`
	Steps      []Step               `json:"steps"`
	Layers     []Layer              `json:"layers"`
	Contacts   []Contact            `json:"contacts"`
	Lays       []Lay                `json:"lays"`
	Mixes      []Mix                `json:"mixes"`
	Vocs       []Voc                `json:"vocs"`
	Touches    []Touch              `json:"touches"`
	Abrasions  []Abrasion           `json:"abrasions"`
	Strips     []Strip              `json:"strips"`
	Exposures  []Exposure           `json:"exposures"`
	Bakes      []Bake               `json:"bakes"`
	Masks      []Mask               `json:"masks"`
	Polishes   []Polish             `json:"polishes"`
	Metalworks []Metalwork          `json:"metalworks"`
	Beginnings []Beginning          `json:"beginnings"`
	Waits      []Wait               `json:"waits"`
	Totals     []Total              `json:"totals"`
	Endings    []Ending             `json:"endings"`

	// Ready-made looks.
	LayersByID         map[string]Layer     `json:"layers_by_id"`
	ContactsByUpper    map[string][]Contact `json:"contacts_by_upper"`    // by layer id of the upper film
	ContactsOnMetal    []Contact            `json:"contacts_on_metal"`    // lower is a metal substrate
	ContactsUnderColor []Contact            `json:"contacts_under_color"` // upper is of class color or clear
}

// SheetFacts is the head of the sheet.
type SheetFacts struct {
	Title    string      `json:"title"`
	Number   string      `json:"number"`
	Revision string      `json:"revision"`
	Author   string      `json:"author"`
	Date     string      `json:"date"`     // YYYY-MM-DD or ""
	Work     string      `json:"work"`     // restoration | collision
	EndsAs   string      `json:"ends_as"`  // finished | primed | sealed
	Inspects []string    `json:"inspects"` // every measure any inspect step takes, sorted
	Elapsed  Measure     `json:"elapsed"`  // from the first step to the end of the last, as the clock counts it
	Litres   *Measure    `json:"litres"`   // of everything mixed; null where a cup's need is not known, or nothing is mixed
	Place    sheet.Place `json:"place"`
}

// Booth is the sheet's general conditions; a measure is null when not written.
type Booth struct {
	Air      *Measure    `json:"air"`
	Panel    *Measure    `json:"panel"`
	Humidity *Measure    `json:"humidity"`
	Where    string      `json:"where"`  // "booth" when not written
	Region   string      `json:"region"` // us | eu | quebec | ""
	Place    sheet.Place `json:"place"`
}

// PanelFacts is the part as it comes in.
type PanelFacts struct {
	Part      string      `json:"part"`
	Substrate string      `json:"substrate"`
	Plastic   string      `json:"plastic"` // "unknown" when not written
	Rust      string      `json:"rust"`    // none | light | pitted | holes
	Year      *int        `json:"year"`
	Area      *Measure    `json:"area"`
	Place     sheet.Place `json:"place"`
}

// Limit is one named judgement number.
type Limit struct {
	Measure Measure `json:"measure"`
	// Half is half of it, in the canonical unit.
	Half float64 `json:"half"`
	// Low and High are 1 less and plus a share (grace: 0.9 and 1.1); null where the limit is no share.
	Low    *float64 `json:"low"`
	High   *float64 `json:"high"`
	Source string   `json:"source"` // "limit" or "house"
}

// Traits of a kind, with what its card says of them.
type Traits struct {
	// Class: substrate, finish, primer, surfacer, promoter, filler, seam,
	// sealer, color, clear, coating or helper. A finish is one that was there;
	// Like tells what an existing finish behaves as.
	Class         string   `json:"class"`
	Metal         bool     `json:"metal"`      // a metal substrate
	Steel         bool     `json:"steel"`      // mild steel or cast iron: rusts
	Zinc          bool     `json:"zinc"`       // galvanized
	Plastic       bool     `json:"plastic"`    // bare plastic
	Composite     bool     `json:"composite"`  // fiberglass, sheet molding compound, gelcoat
	Pore          bool     `json:"pore"`       // a porous film (bare fiberglass once abraded: see Contact.lower_pore)
	TwoPart       bool     `json:"two_part"`   // the card's mix has a hardener share, else the kind has two parts
	Acid          bool     `json:"acid"`       // one-part acid or two-part wash primer
	Epoxy         bool     `json:"epoxy"`      // epoxy primer, surfacer or sealer
	Urethane      bool     `json:"urethane"`   // urethane surfacer, sealer, single stage, clear, bed liner
	Reversible    bool     `json:"reversible"` // softened again by solvent
	Swells        bool     `json:"swells"`     // enamels, underbody coating
	Waterborne    bool     `json:"waterborne"`
	Solvent       bool     `json:"solvent"` // solvent-borne: carries flammable solvent
	Lacquer       bool     `json:"lacquer"` // lacquer primer, lacquer topcoat, aged lacquer
	Sandable      bool     `json:"sandable"`
	WetSandable   bool     `json:"wet_sandable"`
	HoldsOutWater bool     `json:"holds_out_water"`
	Weatherproof  bool     `json:"weatherproof"` // may be the last film outdoors
	Flexible      bool     `json:"flexible"`
	WetOnWet      bool     `json:"wet_on_wet"`
	Hazards       []string `json:"hazards"` // of the product itself, sorted
}

// SheetRecord is data_sheet or safety_sheet of a card.
type SheetRecord struct {
	Written bool   `json:"written"`
	Number  string `json:"number"`
	Checked string `json:"checked"` // YYYY-MM-DD or ""
	// Age, from checked (else issued) to the sheet's date, against sheet_stale; null when either date is missing.
	Age *Comparison `json:"age"`
}

// CardFacts is one product card, as the steps use it.
type CardFacts struct {
	Ref           string            `json:"ref"`
	Name          string            `json:"name"`
	Use           string            `json:"use"` // the `as`, or ""
	Label         string            `json:"label"`
	Shown         string            `json:"shown"` // what messages call it: label or name, with the kind
	Kind          string            `json:"kind"`
	Traits        Traits            `json:"traits"`
	Own           bool              `json:"own"`   // written in the sheet itself
	Laid          bool              `json:"laid"`  // some step lays it as a film
	Used          bool              `json:"used"`  // some step names it in any way
	Steps         []int             `json:"steps"` // the steps that use it
	DataSheet     SheetRecord       `json:"data_sheet"`
	SafetySheet   SheetRecord       `json:"safety_sheet"`
	GoesOn        []string          `json:"goes_on"` // null→[] ; kinds allowed beneath
	KeepOff       []string          `json:"keep_off"`
	DirectToMetal []string          `json:"direct_to_metal"` // substrates; ["*"] for true, [] for false or not written
	HasGoesOn     bool              `json:"has_goes_on"`
	HasDirectList bool              `json:"has_direct_list"` // direct_to_metal is a list
	HasDirect     bool              `json:"has_direct"`      // direct_to_metal is written, in whatever form
	Effect        string            `json:"effect"`          // solid | metallic | pearl | candy | ""
	Card          map[string]string `json:"card"`            // what the card writes, as written
	Typical       map[string]string `json:"typical"`         // what its kind's typical numbers are
	Assumed       []string          `json:"assumed"`         // keys the card leaves out for which a typical number exists, sorted
	// Compared: the typical numbers that some comparison of this document leaned on, sorted.
	Compared []string    `json:"compared"`
	Place    sheet.Place `json:"place"`
}

// Zone is one part of the panel.
type Zone struct {
	Name      string      `json:"name"`
	Parent    string      `json:"parent"`   // the zone it was cut from, or ""
	CutStep   int         `json:"cut_step"` // the step that cut it, or 0
	Area      Measure     `json:"area"`
	Substrate string      `json:"substrate"`
	Plastic   string      `json:"plastic"`
	Olefin    bool        `json:"olefin"` // TPO, PP, PE, EPDM
	Rust      string      `json:"rust"`
	Role      string      `json:"role"`    // repair | blend | edge | ""
	Faces     string      `json:"faces"`   // weather | inside | underside | cavity
	Edge      string      `json:"edge"`    // panel break | open
	Carried   []string    `json:"carried"` // ids of existing layers it began with
	Layers    []string    `json:"layers"`  // ids at the end, from the metal up (substrate first)
	Ending    string      `json:"ending"`  // layer id that faces the weather
	Place     sheet.Place `json:"place"`
}

// Step is one written step.
type Step struct {
	ID          string   `json:"id"` // "3"
	N           int      `json:"n"`
	Do          string   `json:"do"`
	Call        string   `json:"call"`
	Name        string   `json:"name"`  // what messages call it: `step 3` or `step 3 ("second clear")`
	Zones       []string `json:"zones"` // zones it reaches, in order
	Start       Measure  `json:"start"` // since the sheet began, min (habits and flashes counted as the clock counts them)
	End         Measure  `json:"end"`
	Where       string   `json:"where"`
	Tool        string   `json:"tool"`
	Media       string   `json:"media"`
	Grade       string   `json:"grade"`      // grit or pad as printed, or ""
	BareGrade   bool     `json:"bare_grade"` // grit written as a bare number
	GradeNumber int      `json:"grade_number"`
	Wet         bool     `json:"wet"`
	GuideCoat   bool     `json:"guide_coat"`
	WithKind    string   `json:"with_kind"` // helper kind of `with`
	With        string   `json:"with"`      // the product's name, or the helper kind
	Welding     bool     `json:"welding"`
	Measures    []string `json:"measures"` // of an inspect
	Wear        []string `json:"wear"`
	Extraction  bool     `json:"extraction"` // wear lists extraction
	// Dusty: an act that makes dry dust (dry sand, block, scuff; strip other than chemical and razor).
	Dusty bool `json:"dusty"`
	// Worked: the films and substrates this step abrades, strips or welds, one entry a zone and film.
	Worked []Worked `json:"worked"`
	// Inspected: every measure an earlier inspect step took in every zone this step reaches, sorted.
	Inspected []string `json:"inspected"`
	// Hazards of what it handles (cup, cleaner, acid), sorted; for laying steps see lays.
	Hazards []string    `json:"hazards"`
	Place   sheet.Place `json:"place"`
}

// Worked is one film (or substrate) that a step abrades or takes off.
type Worked struct {
	Zone     string   `json:"zone"`
	Layer    string   `json:"layer"` // layer id
	Kind     string   `json:"kind"`
	Name     string   `json:"name"`
	Existing bool     `json:"existing"`
	Hazards  []string `json:"hazards"` // of the film's card, and the chromate and lead of its cups
}

// Layer is one film, or the substrate itself (step 0, class substrate).
type Layer struct {
	ID          string             `json:"id"`
	Kind        string             `json:"kind"`
	Name        string             `json:"name"` // what messages call it: "grey-epoxy (epoxy primer)", "e-coat"
	Card        string             `json:"card"` // card reference, "" for what was there
	Traits      Traits             `json:"traits"`
	Step        int                `json:"step"`  // 0 for what was there
	Steps       []int              `json:"steps"` // all steps whose coats make it
	Call        string             `json:"call"`
	Zones       []string           `json:"zones"` // zones it was laid on (or carried by)
	Existing    bool               `json:"existing"`
	Substrate   bool               `json:"substrate"`
	Condition   string             `json:"condition"` // of an existing finish
	Coats       int                `json:"coats"`
	FilmLaid    Measure            `json:"film_laid"`    // dry, all coats
	FilmAssumed bool               `json:"film_assumed"` // no wet film written: the card's or kind's film stands in
	FilmLeft    map[string]Measure `json:"film_left"`    // by zone, at the end (zones that still carry it)
	Fades       []string           `json:"fades"`        // zones in which it fades out
	Thin        *Comparison        `json:"thin"`         // film laid against the least of the card's film; null when fading everywhere, assumed, or no number
	Thick       *Comparison        `json:"thick"`        // film laid against the most of the card's film
	// ThickHalf is film laid against 1.5 × the most (acid and wash primer).
	ThickHalf *Comparison `json:"thick_half"`
	LaidAt    Measure     `json:"laid_at"` // end of its last coat since the sheet began
	// FirstDay: pieces of weather that begin, or may begin, within cure_day (24 h) of its last coat; pieces in a row with the same weather are one.
	FirstDay []Chill `json:"first_day"`
	// BakedFull: a later bake met its card's schedule, in all its zones; BakedPerhaps: one may have, where it is not so.
	BakedFull    bool `json:"baked_full"`
	BakedPerhaps bool `json:"baked_perhaps"`
	// StrippedLater: zones in which a later strip takes it off again.
	StrippedLater []string `json:"stripped_later"`
	// RestsOn: every different layer beneath it over all its zones other than blend zones, in zone order.
	RestsOn []Rest      `json:"rests_on"`
	Place   sheet.Place `json:"place"`
}

// Rest is one layer found beneath another.
type Rest struct {
	Layer string   `json:"layer"`
	Kind  string   `json:"kind"`
	Name  string   `json:"name"`
	Zones []string `json:"zones"`
}

// Chill is one piece of time in a film's first day.
type Chill struct {
	Step     int     `json:"step"`
	Where    string  `json:"where"`
	Outdoors bool    `json:"outdoors"`
	After    Measure `json:"after"` // from the end of the last coat to the piece's start
	// Cold: the panel's temperature against the card's lowest_cure, else against limit chill_below; null where it is not written.
	Cold *Comparison `json:"cold"`
}

// Grit is an abrasive as a rule sees it.
type Grit struct {
	Step    int     `json:"step"`
	Do      string  `json:"do"`
	Tool    string  `json:"tool"`
	Name    string  `json:"name"` // "P180", "80 grit", "fine pad", or "" if no grade was written
	Pad     bool    `json:"pad"`
	Wet     bool    `json:"wet"`
	Known   bool    `json:"known"`   // a grade was written
	Microns Measure `json:"microns"` // median particle, µm; shown as grade
}

// Ratio is one change of grade on one film.
type Ratio struct {
	FromStep int        `json:"from_step"`
	ToStep   int        `json:"to_step"`
	From     string     `json:"from"`
	To       string     `json:"to"`
	Fall     Comparison `json:"fall"` // ratio of medians against limit grade_step
	// Between: the P grade in common use that parts the fall in two steps within grade_step, the one nearest
	// the middle; where no single one does, the finest within grade_step of `from`; "" where the fall is small enough.
	Between string `json:"between"`
}

// Wipe is a `clean` of the surface under a contact.
type Wipe struct {
	Step    int     `json:"step"`
	Agent   string  `json:"agent"`   // the product's name or the helper kind
	Kind    string  `json:"kind"`    // helper kind
	Solvent bool    `json:"solvent"` // wax and grease remover, plastic cleaner, lacquer thinner, alcohol wipe
	Age     Measure `json:"age"`     // from the end of the wipe to the first coat of the upper film
}

// Tooth is how bare metal was roughened before a film.
type Tooth struct {
	// By: "abrasion" (sand, block, scuff), "sander", "grinder", "grit blast",
	// "strip disc", or "none".
	By     string `json:"by"`
	Step   int    `json:"step"`
	Grit   *Grit  `json:"grit"`   // the coarsest scratch still there; null if no grade is known
	Finest *Grit  `json:"finest"` // the finest that gave grip
	Blast  bool   `json:"blast"`
	// Bared: what bared the metal: "strip disc", "wire wheel", "razor", "chemical stripper",
	// "glass bead", "soda", "plastic", "grit", "sander", "grinder", "cut", or "" if it came bare.
	Bared     string `json:"bared"`
	BaredStep int    `json:"bared_step"`
	// Depth: all films laid on it before the first sanding (fillers apart) against the scratch's depth
	// (median/10 orbital sander, /6 otherwise; blast: profile + 1 mil). null where not judged
	// (those films stripped again, a filler directly on the metal, no profile).
	Depth *Comparison `json:"depth"`
	// BeneathCard: the upper card's grit_beneath, coarse and fine ends, when its card writes it.
	CoarseCard *Comparison `json:"coarse_card"`
	FineCard   *Comparison `json:"fine_card"`
}

// MetalPrep is what bare metal met since it was last abraded, and since it was bared.
type MetalPrep struct {
	AcidWash               bool `json:"acid_wash"` // since bared
	AcidWashSinceAbraded   bool `json:"acid_wash_since_abraded"`
	Conversion             bool `json:"conversion"`
	ConversionSinceAbraded bool `json:"conversion_since_abraded"`
	Neutralized            bool `json:"neutralized"`   // after the last treat
	RinsedSince            bool `json:"rinsed_since"`  // a rinse after the last treat or neutralize
	AbradedSince           bool `json:"abraded_since"` // an abrasion after the last treat or neutralize
	TreatStep              int  `json:"treat_step"`    // the last treat, or 0
	NeutralizeStep         int  `json:"neutralize_step"`
	// LastStep is the last treat or neutralize, or 0.
	LastStep int `json:"last_step"`
	// Degreased since the last abrasion or metalwork, by kind of agent.
	Solvent          bool        `json:"solvent"`            // wax and grease remover, plastic cleaner
	Thinner          bool        `json:"thinner"`            // lacquer thinner
	WaterCleaner     bool        `json:"water_cleaner"`      // waterborne cleaner
	AcidAfterSolvent bool        `json:"acid_after_solvent"` // an acid wash that followed a solvent clean of this surface
	BeforeAbrasion   bool        `json:"before_abrasion"`    // a solvent clean came before the last abrasion of this metal or of the film it was bared from
	Blasted          bool        `json:"blasted"`            // the last act that gave tooth was a blast
	BlownOff         bool        `json:"blown_off"`          // blown off since
	BlastAge         *Comparison `json:"blast_age"`          // from the end of that blast to the film against limit blast_fresh (1 h)
	LastAbradedStep  int         `json:"last_abraded_step"`  // last abrasion, blast, stripping or metalwork
}

// Dust is what became of the dust of the last abrasion of a surface.
type Dust struct {
	Abraded  bool `json:"abraded"` // something abraded the lower surface
	Step     int  `json:"step"`    // the last abrasion
	Cleaned  bool `json:"cleaned"` // a clean since
	Tacked   bool `json:"tacked"`
	BlownOff bool `json:"blown_off"`
	Rinsed   bool `json:"rinsed"`
}

// Broken is what spoiled a wipe.
type Broken struct {
	Step int    `json:"step"`
	Do   string `json:"do"` // mask | metalwork | store
}

// Rust is how rust was dealt with before the first film of a zone that had it.
type Rust struct {
	Rust      string `json:"rust"`    // light | pitted | holes
	Blasted   bool   `json:"blasted"` // grit or glass bead
	Sanded    bool   `json:"sanded"`  // to metal, P80 or coarser (sand, block, scuff, sander or grinder strip)
	AcidWash  bool   `json:"acid_wash"`
	Converter bool   `json:"converter"` // a rust converter lies beneath or is the film itself
	Metalwork bool   `json:"metalwork"`
}

// Stripper is a chemical stripper that met this surface.
type Stripper struct {
	Step    int  `json:"step"`
	Rinsed  bool `json:"rinsed"`
	Wiped   bool `json:"wiped"`
	Abraded bool `json:"abraded"`
}

// Solder is body solder under a contact.
type Solder struct {
	Neutralized bool `json:"neutralized"`
	Rinsed      bool `json:"rinsed"`
	Cleaned     bool `json:"cleaned"`
}

// Contact is one film lying on one film or substrate in one zone.
type Contact struct {
	ID             string    `json:"id"` // ZONE/3:grey-epoxy
	Zone           string    `json:"zone"`
	Step           int       `json:"step"`  // that lays the upper film here first
	Upper          string    `json:"upper"` // layer ids
	Lower          string    `json:"lower"`
	UpperName      string    `json:"upper_name"`
	LowerName      string    `json:"lower_name"`
	UpperCard      string    `json:"upper_card"` // card references; lower "" for what was there
	LowerCard      string    `json:"lower_card"`
	UpperKind      string    `json:"upper_kind"`
	LowerKind      string    `json:"lower_kind"`
	UpperTraits    Traits    `json:"upper_traits"`
	LowerTraits    Traits    `json:"lower_traits"`
	LowerStep      int       `json:"lower_step"`     // that laid the lower film, 0 for what was there
	LowerExisting  bool      `json:"lower_existing"` // a finish that was there (not the substrate)
	LowerSubstrate bool      `json:"lower_substrate"`
	LowerPore      bool      `json:"lower_pore"` // porous, bare fiberglass that was abraded included
	LowerCondition string    `json:"lower_condition"`
	Substrate      string    `json:"substrate"` // kind of the zone's substrate
	ZoneFacts      ZoneFacts `json:"zone_facts"`
	FirstFilm      bool      `json:"first_film"` // no film of this sheet was laid here before
	// MetalworkBefore: a metalwork step reached this place (or the zone it was cut from) before this film.
	MetalworkBefore bool        `json:"metalwork_before"`
	Films           []string    `json:"films"`        // layer ids beneath the upper film, from the substrate up
	Above           []string    `json:"above"`        // layer ids laid over the upper film later in this zone (the first 64)
	Stripped        bool        `json:"stripped"`     // the upper film is stripped off this zone later
	Fades           bool        `json:"fades"`        // the upper film fades out here
	SpotMetal       *Comparison `json:"spot_metal"`   // zone's area against the upper card's spot_metal; null when the card has none
	SpotTypical     *Comparison `json:"spot_typical"` // zone's area against limit spot_metal_typical

	// What the upper card says of what it rests on. "silent": nothing written that bears on it;
	// "allows": goes_on or direct_to_metal names it; "forbids": keep_off names it;
	// "unlisted": goes_on (or a direct_to_metal list) is written without it.
	CardSays string `json:"card_says"`

	// Clock.
	Gap             Measure     `json:"gap"`           // end of lower's last coat to first coat of upper; Open when no step says how long. For what was there: Open, and gap_applies is false.
	GapApplies      bool        `json:"gap_applies"`   // lower is a film of this sheet
	GapEffective    Measure     `json:"gap_effective"` // the gap as the lower card's temperature counts it
	Factor          Measure     `json:"factor"`        // gap ÷ gap_effective
	RecoatLeast     *Comparison `json:"recoat_least"`
	RecoatLeastWarm *Comparison `json:"recoat_least_warm"` // gap_effective against the least recoat
	RecoatEnough    *Measure    `json:"recoat_enough"`     // the gap by the clock that would be enough on this panel; null with no least recoat
	RecoatMost      *Comparison `json:"recoat_most"`       // null where there is none or it is `any`
	WindowGiven     string      `json:"window_given"`      // "card", "typical" or "none": where the lower film's window comes from
	// WindowShut: unabraded, the lower film takes its own coats only, so that for this upper film its window
	// was never open (polyester surfacer; urethane clear under another film, its card silent).
	WindowShut bool        `json:"window_shut"`
	DeadStart  *Comparison `json:"dead_start"`  // gap against the start of no_recoat (sense least: 'past it' when over ≥ 1)
	DeadEnd    *Comparison `json:"dead_end"`    // gap against its end
	FillAfter  *Comparison `json:"fill_after"`  // for an upper filler, putty or polyester surfacer
	FillSlowed *Slowed     `json:"fill_slowed"` // the same gap, scaled
	FillSanded bool        `json:"fill_sanded"` // the kind's typical fill_after also wants it sanded
	BakedFull  bool        `json:"baked_full"`  // since the lower film was laid, a bake met its schedule and 30 min have passed since (satisfies least waits)
	Baked      bool        `json:"baked"`       // since the lower film was laid, a bake met its schedule, however short ago
	// BakedPerhaps: none surely did, but one may have. What it may stand for is then not surely missed: the upper end of RecoatLeast and the like is null.
	BakedPerhaps bool `json:"baked_perhaps"`
	BakeStep     int  `json:"bake_step"` // that of the bake, 0 where there is none
	// AbradedSinceBake: the lower film was abraded after that bake.
	AbradedSinceBake bool `json:"abraded_since_bake"`
	// Beneath: for each film of this sheet beneath the upper one (the uppermost 40), how old it is when the upper's first coat goes on.
	Beneath []Beneath `json:"beneath"`

	// The lower surface.
	Abrasions []Grit      `json:"abrasions"` // of this surface, in order
	Abraded   bool        `json:"abraded"`   // anything abraded it
	Sanded    bool        `json:"sanded"`    // sand or block, or a scuff coarser than P220
	Scratch   *Grit       `json:"scratch"`   // the coarsest scratch still there
	Grip      *Grit       `json:"grip"`      // the finest thing that gave grip
	Coarse    *Comparison `json:"coarse"`    // scratch microns against the upper's coarse limit (card, else kind's typical on films)
	Fine      *Comparison `json:"fine"`      // grip microns against the upper's fine limit (sense least)
	// Refine: the P grades in common use (P80 to P2000), coarse to fine, that are finer than the scratch
	// and take it away (its median at most grade_step times their own); [] where there is no scratch.
	Refine     []Grit   `json:"refine"`
	Sequence   []Ratio  `json:"sequence"`  // falls of grade between successive sand/block (or scuffs that count as one) of this surface
	Wipes      []Wipe   `json:"wipes"`     // cleans since its last abrasion, in order
	AllWipes   []Wipe   `json:"all_wipes"` // cleans in this surface's whole life
	LastWipe   *Wipe    `json:"last_wipe"`
	WipeBroken *Broken  `json:"wipe_broken"` // mask, metalwork or store after the last wipe (none tacked-and-wiped since)
	Dust       Dust     `json:"dust"`
	Touched    []string `json:"touched"`   // helper kinds and acts (rinse, neutralize...) that met this surface, in order
	Inspected  []string `json:"inspected"` // measures inspected in this zone before the film, sorted
	Exposure   string   `json:"exposure"`  // id of the exposure this film ends
	// LeftThin: what the abrasions left of the lower film, and the film under that.
	LowerLeft   Measure `json:"lower_left"` // film of the lower layer left here when covered
	Under       string  `json:"under"`      // layer id beneath the lower one, or ""
	UnderKind   string  `json:"under_kind"`
	UnderTraits *Traits `json:"under_traits"`
	// LeftThin is lower_left, abraded or not, against limit left_thin (0.5 mil). Where a removal or a film
	// is nowhere written, the middle stands for it unless the middle itself is short; then the whole range
	// does. null where the lower film's thickness is not known.
	LeftThin    *Comparison `json:"left_thin"`
	SettleLower *Settling   `json:"settle_lower"` // the lower film's settling

	// Bare metal, plastic, composite.
	Tooth        *Tooth      `json:"tooth"`         // null unless lower is a substrate
	Prep         *MetalPrep  `json:"prep"`          // null unless lower is a substrate
	OpenTime     *Measure    `json:"open_time"`     // substrate open since last abraded dry (steel: P180 or coarser) or blasted, else since bared
	OpenSteel    *Comparison `json:"open_steel"`    // open_time against the limit for how it was bared and what metal it is, halved where the humidity says so
	OpenDay      *Comparison `json:"open_day"`      // steel: open since its last dry abrasion of any grade, against limit bare_steel_most (24 h)
	OpenOutdoors bool        `json:"open_outdoors"` // any of it outdoors
	OpenHumidity *Measure    `json:"open_humidity"` // highest humidity while open
	ZincAbraded  *Grit       `json:"zinc_abraded"`  // galvanized: coarsest abrasion it ever had in this zone
	ZincCut      bool        `json:"zinc_cut"`      // galvanized ground, disc-stripped to metal or blasted
	Rust         *Rust       `json:"rust"`          // null unless first_film and the zone has rust
	Stripper     *Stripper   `json:"stripper"`
	Solder       *Solder     `json:"solder"` // lower is body solder
	Place        sheet.Place `json:"place"`  // of the step that lays the upper film
	LowerPlace   sheet.Place `json:"lower_place"`
}

// ZoneFacts is what rules ask of a contact's zone.
type ZoneFacts struct {
	Role    string `json:"role"`
	Faces   string `json:"faces"`
	Edge    string `json:"edge"`
	Cut     bool   `json:"cut"` // a zone made by cutting through
	Rust    string `json:"rust"`
	Plastic string `json:"plastic"`
	Olefin  bool   `json:"olefin"`
}

// Beneath is one film of this sheet under a contact.
type Beneath struct {
	Layer    string    `json:"layer"`
	Kind     string    `json:"kind"`
	Name     string    `json:"name"`
	Traits   Traits    `json:"traits"`
	Step     int       `json:"step"`
	Age      Measure   `json:"age"`
	Blocked  bool      `json:"blocked"` // sanded or blocked at some time
	Settling *Settling `json:"settling"`
}

// Settling sets a film's age beside its settling time.
type Settling struct {
	// Age against settles (collision: sand_after for surfacers other than polyester;
	// doubled when the film is over the card's top).
	Age     *Comparison `json:"age"`
	Doubled bool        `json:"doubled"`
	// Baked: a bake met the card (30 min past), which counts as settled.
	Baked bool `json:"baked"`
	// Slowed is the age as the panel's temperature counts it, against the same time.
	Slowed *Slowed `json:"slowed"`
}

// Slowed is a wait as the panel's temperature counts it, beside the number that
// the clock holds it to. It is null where there is no such number, where the
// temperature is not written, and for waterborne films, which are not scaled.
type Slowed struct {
	Compared Comparison `json:"compared"` // the wait, scaled, against the card's or kind's time (sense least)
	Factor   Measure    `json:"factor"`   // the wait by the clock ÷ the wait as scaled, a plain number
	Enough   Measure    `json:"enough"`   // the wait by the clock that would be enough: the time it is held to × factor
}

// Lay is one laying step of one layer.
type Lay struct {
	ID       string      `json:"id"` // the step, "3"
	Step     int         `json:"step"`
	Do       string      `json:"do"` // spray | brush | spread | caulk
	Layer    string      `json:"layer"`
	Name     string      `json:"name"`
	Card     string      `json:"card"`
	Kind     string      `json:"kind"`
	Traits   Traits      `json:"traits"`
	Contacts []string    `json:"contacts"` // contact ids it makes; for later steps of one layer, those of the layer
	Zones    []string    `json:"zones"`
	Where    string      `json:"where"`
	Outdoors bool        `json:"outdoors"`
	Wear     []string    `json:"wear"`
	Coats    int         `json:"coats"`
	Coat     Measure     `json:"coat"`     // wet film of one coat; Open if unknown
	CoatDry  Measure     `json:"coat_dry"` // dry film of one coat
	WetMax   *Comparison `json:"wet_max"`
	// Thinnest written wet film against limit light_coat (2 mil): sense most. null when not written.
	LightCoat *Comparison `json:"light_coat"`
	// Between coats of this step (coats > 1), against the card's flash.
	Between        *Comparison `json:"between"`
	BetweenWritten bool        `json:"between_written"`
	// Joins: gap to the earlier step whose layer this one goes on with, against flash; null for a first step.
	Joins     *Comparison `json:"joins"`
	JoinsStep int         `json:"joins_step"`
	// JoinsWritten: a step says how long that gap is, be it as a condition ("until matte").
	JoinsWritten bool `json:"joins_written"`
	// BetweenSlowed, JoinsSlowed: the same waits, scaled; between only where it is written.
	BetweenSlowed *Slowed `json:"between_slowed"`
	JoinsSlowed   *Slowed `json:"joins_slowed"`
	// CoatsEnough: the fewest coats of this wet film that surely lay the least of the card's film; 0 where
	// either is not known, or where other steps lay coats of the layer too.
	CoatsEnough int `json:"coats_enough"`
	// CoatsMost: the most coats of this wet film that surely stay within the most of the card's film; 0 where
	// either is not known, where one is too much, or where other steps lay coats of the layer too.
	CoatsMost int `json:"coats_most"`
	// CoatsMore: one coat more than it lays.
	CoatsMore int      `json:"coats_more"`
	Thickness *Measure `json:"thickness"` // spread
	// Weather.
	Air       *Measure    `json:"air"`
	Panel     *Measure    `json:"panel"`
	Humidity  *Measure    `json:"humidity"`
	DewPoint  *Measure    `json:"dew_point"`
	DewMargin *Comparison `json:"dew_margin"` // panel less dew point, a difference, against limit dew_margin
	ColdAir   *Comparison `json:"cold_air"`   // temperatures against the card's air range; null when not written
	ColdPanel *Comparison `json:"cold_panel"`
	HotAir    *Comparison `json:"hot_air"`
	HotPanel  *Comparison `json:"hot_panel"`
	Humid     *Comparison `json:"humid"` // humidity against the card's most
	// Cup.
	Mix          string      `json:"mix"` // mix id = step id
	TipLow       *Comparison `json:"tip_low"`
	TipHigh      *Comparison `json:"tip_high"`
	PressureLow  *Comparison `json:"pressure_low"`
	PressureHigh *Comparison `json:"pressure_high"`
	Gun          string      `json:"gun"`
	// MetalworkNear: since the end of the last metalwork in the same where, against limit metalwork_clear (1 h); null if none.
	MetalworkNear *Comparison `json:"metalwork_near"`
	MetalworkStep int         `json:"metalwork_step"`
	Place         sheet.Place `json:"place"`
}

// Mix is the cup of one laying step.
type Mix struct {
	ID            string      `json:"id"` // the step
	Step          int         `json:"step"`
	Card          string      `json:"card"`
	Name          string      `json:"name"`
	Kind          string      `json:"kind"`
	Traits        Traits      `json:"traits"`
	Layer         string      `json:"layer"`
	Sprayed       bool        `json:"sprayed"`
	Brushed       bool        `json:"brushed"`
	Where         string      `json:"where"`
	Wear          []string    `json:"wear"`
	Written       string      `json:"written"`  // "step", "card" or "none"
	StepMix       string      `json:"step_mix"` // as the step writes it, or ""
	CardMix       string      `json:"card_mix"`
	TwoPart       bool        `json:"two_part"`
	Paste         *Measure    `json:"paste"` // share by weight; null if none
	PasteLow      *Comparison `json:"paste_low"`
	PasteHigh     *Comparison `json:"paste_high"`
	BaseParts     float64     `json:"base_parts"`
	HardenerParts float64     `json:"hardener_parts"`
	ReducerParts  float64     `json:"reducer_parts"`
	// RatioOff: |written ÷ card − 1| of hardener ÷ base, in %, against limit ratio_tolerance; null when
	// step or card gives no two-part ratio.
	RatioOff      *Comparison `json:"ratio_off"`
	Reduced       *Comparison `json:"reduced"`       // reducer share in % against the most the card lets in; null when there is none
	HardenerName  string      `json:"hardener_name"` // as the step writes it, or ""
	ReducerName   string      `json:"reducer_name"`
	AdditiveName  string      `json:"additive_name"`
	HardenerKnown string      `json:"hardener_known"` // "listed", "foreign", or "" when step or card names none
	ReducerKnown  string      `json:"reducer_known"`
	CardHardeners []string    `json:"card_hardeners"`
	CardReducers  []string    `json:"card_reducers"`
	HardenerKind  string      `json:"hardener_kind"` // helper kind, or ""
	ReducerKind   string      `json:"reducer_kind"`
	AdditiveKind  string      `json:"additive_kind"`
	Hazards       []string    `json:"hazards"` // of product, hardener, reducer and additive together, sorted
	Isocyanate    bool        `json:"isocyanate"`
	Flammable     bool        `json:"flammable"`
	Chromate      bool        `json:"chromate"`
	EpoxyHardener bool        `json:"epoxy_hardener"`
	Solids        Measure     `json:"solids"` // % by volume in the gun
	Voc           *Measure    `json:"voc"`    // as applied; null when open
	// VocPerArea is the VOC, g, given off for each m² it is laid on: as applied × needed ÷ area; null where one of them is not known.
	VocPerArea  *Measure    `json:"voc_per_area"`
	Needed      *Measure    `json:"needed"`       // volume in the cup for the layer's area; null when area or film is open
	NeededCups  []Cup       `json:"needed_cups"`  // the parts of needed
	Batch       *Comparison `json:"batch"`        // batch against needed
	BatchEnough string      `json:"batch_enough"` // needed at its most, as a sheet would write it; "" where needed is not known
	// Pot: mixing to the end of the last coat (fresh_cup: of each coat) against pot life; null for one-part.
	Pot          *Comparison `json:"pot"`
	Induction    *Comparison `json:"induction"`     // stood against induction
	InductionDue *Measure    `json:"induction_due"` // the card's induction; null when it has none
	StoodWritten bool        `json:"stood_written"`
	Place        sheet.Place `json:"place"`
}

// Cup is one part of a mix to be measured out.
type Cup struct {
	Part   string  `json:"part"` // base | hardener | reducer | paste
	Name   string  `json:"name"`
	Volume Measure `json:"volume"`
}

// Voc is one VOC figure beside a published limit: a product, or a topcoat system.
type Voc struct {
	ID       string      `json:"id"` // step id of the first lay
	Steps    []int       `json:"steps"`
	Layers   []string    `json:"layers"`
	Name     string      `json:"name"`
	Region   string      `json:"region"`
	Binds    string      `json:"binds"` // "maker" or "user"
	Category string      `json:"category"`
	Compared Comparison  `json:"compared"`
	Source   string      `json:"source"` // citation of the limit
	Place    sheet.Place `json:"place"`
}

// Touch is one meeting of a surface and an agent.
type Touch struct {
	ID            string  `json:"id"` // ZONE/3
	Step          int     `json:"step"`
	Do            string  `json:"do"` // clean | rinse | neutralize | treat | tack | blow_off
	Zone          string  `json:"zone"`
	Layer         string  `json:"layer"` // the surface it met
	SurfaceKind   string  `json:"surface_kind"`
	SurfaceName   string  `json:"surface_name"`
	SurfaceTraits Traits  `json:"surface_traits"`
	Pore          bool    `json:"pore"`
	BareSteel     bool    `json:"bare_steel"`
	Agent         string  `json:"agent"`      // product name, helper kind, or "water" for a rinse
	AgentKind     string  `json:"agent_kind"` // helper kind; "water" for a rinse
	Water         bool    `json:"water"`      // waterborne cleaner, soap and water, rinse
	At            Measure `json:"at"`
	// FollowsWet: a rinse that follows treat, neutralize or chemical stripper on this surface.
	FollowsWet bool        `json:"follows_wet"`
	Dried      *Comparison `json:"dried"` // dried_within against limit rinse_dry; null when not written
	// After it and before the next film on this place:
	DryAbraded bool        `json:"dry_abraded"` // dry abrasion P180 or coarser, or blast
	AcidWashed bool        `json:"acid_washed"`
	Covered    bool        `json:"covered"` // a film follows
	Contact    string      `json:"contact"` // that film's contact id, or ""
	Wear       []string    `json:"wear"`
	Place      sheet.Place `json:"place"`
}

// Abrasion is one sand, block or scuff of one zone.
type Abrasion struct {
	ID             string      `json:"id"` // ZONE/3
	Step           int         `json:"step"`
	Do             string      `json:"do"`
	Tool           string      `json:"tool"`
	Zone           string      `json:"zone"`
	Layer          string      `json:"layer"` // the film or substrate it worked on (for a cut zone: the newly bared one)
	SurfaceKind    string      `json:"surface_kind"`
	SurfaceName    string      `json:"surface_name"`
	SurfaceTraits  Traits      `json:"surface_traits"`
	Pore           bool        `json:"pore"`
	BareSteel      bool        `json:"bare_steel"`
	Existing       bool        `json:"existing"`
	Cut            bool        `json:"cut"`      // this zone was split off by this very step
	CutFrom        string      `json:"cut_from"` // kind of the film it went through first, "" unless cut
	Grit           Grit        `json:"grit"`
	Wet            bool        `json:"wet"`
	GuideCoat      bool        `json:"guide_coat"`
	Age            *Measure    `json:"age"` // of the film when abraded; null for what was there
	SandAfter      *Comparison `json:"sand_after"`
	SandAfterBaked bool        `json:"sand_after_baked"`
	SandSlowed     *Slowed     `json:"sand_slowed"` // age, scaled, against sand_after
	Settling       *Settling   `json:"settling"`
	Removed        Measure     `json:"removed"`
	LeftBefore     Measure     `json:"left_before"`
	LeftAfter      Measure     `json:"left_after"`
	// ThroughMiddle: middle of what it takes off against middle of what was left (sense most); null when either is unknown, on a substrate, and on acid primer or promoter.
	ThroughMiddle   *Comparison `json:"through_middle"`
	CouldCutThrough bool        `json:"could_cut_through"` // the film left could be zero
	CutsWritten     bool        `json:"cuts_written"`
	// Last abrasion of this film before another kind goes on it.
	Last        bool   `json:"last"`
	NextContact string `json:"next_contact"` // contact id that covers this surface, or ""
	NextKind    string `json:"next_kind"`
	// DryAgain: a dry abrasion (P180 or coarser), or blast, of the same place after it and before the next film.
	DryAgain bool `json:"dry_again"`
	// Drying before the next film: time at or above limit dry_out_warm against dry_out_time; baked_dry: a bake of limit dry_bake_metal for dry_bake_time.
	DriedOut *Comparison `json:"dried_out"`
	BakedDry bool        `json:"baked_dry"`
	// Cleaning before it.
	CleanedBefore bool   `json:"cleaned_before"` // a `clean` since the zone was last soiled
	SoiledBy      string `json:"soiled_by"`      // "carried", "store", "metalwork", or "" when nothing soiled it since the last abrasion
	SoiledStep    int    `json:"soiled_step"`    // 0 for carried
	// BarrierLeft: film left of the only water barrier over bare steel here, against limit barrier_min; null when it is not the only one.
	BarrierLeft *Comparison `json:"barrier_left"`
	// ClearLeft: film left of a clear at the end of the sheet, here; on its last abrasion or polish only.
	ClearLeftLow *Comparison `json:"clear_left_low"` // against limit clear_min (2 mil)
	ClearLeftBad *Comparison `json:"clear_left_bad"` // against limit clear_least (1 mil)
	// Uncovered: neither film nor polish follows on this surface.
	Uncovered bool        `json:"uncovered"`
	Place     sheet.Place `json:"place"`
}

// Strip is one strip of one zone.
type Strip struct {
	ID              string      `json:"id"` // ZONE/3
	Step            int         `json:"step"`
	Tool            string      `json:"tool"`
	Media           string      `json:"media"`
	Zone            string      `json:"zone"`
	DownTo          string      `json:"down_to"`    // "substrate" or a kind
	Took            []Worked    `json:"took"`       // films it took off
	HadFiller       bool        `json:"had_filler"` // the zone carried filler or putty or seam sealer when stripped
	Substrate       string      `json:"substrate"`
	SubstrateTraits Traits      `json:"substrate_traits"`
	TopKind         string      `json:"top_kind"` // what the stripping left on top
	CleanedBefore   bool        `json:"cleaned_before"`
	SoiledBy        string      `json:"soiled_by"` // as on an abrasion
	SoiledStep      int         `json:"soiled_step"`
	Place           sheet.Place `json:"place"`
}

// During is one step that happened while a surface was exposed: strip, sand,
// block, scuff, solder, spray, brush, metalwork, store or polish.
type During struct {
	Step        int    `json:"step"`
	Do          string `json:"do"`
	SamePlace   bool   `json:"same_place"`
	Reaches     bool   `json:"reaches"` // it works on this zone too
	ProductKind string `json:"product_kind"`
}

// Exposure is one surface from coming to the top until it is covered.
type Exposure struct {
	ID          string   `json:"id"` // ZONE/3-7; the end is 0 when the sheet ends with it on top
	Zone        string   `json:"zone"`
	Layer       string   `json:"layer"`
	Kind        string   `json:"kind"`
	Name        string   `json:"name"`
	Traits      Traits   `json:"traits"`
	Pore        bool     `json:"pore"`
	Bare        bool     `json:"bare"` // the substrate
	FromStep    int      `json:"from_step"`
	ToStep      int      `json:"to_step"`  // 0: to the end
	EndedBy     string   `json:"ended_by"` // film | strip | end
	Contact     string   `json:"contact"`  // of the film that ended it, or ""
	Time        Measure  `json:"time"`
	Outdoors    bool     `json:"outdoors"` // any of it
	OutdoorTime Measure  `json:"outdoor_time"`
	Humidity    *Measure `json:"humidity"` // highest, null when not written
	Where       []string `json:"where"`    // every place it stood, sorted
	During      []During `json:"during"`
	// PoreOpen: time against settles + porous_open (halved in damp air); null unless a pore.
	PoreOpen *Comparison `json:"pore_open"`
	// AcidHold: time against limit acid_hold; AcidDamp: the time in air damper than damp_acid against acid_hold_damp (24 h), where any is; acid and wash primer only.
	AcidHold *Comparison `json:"acid_hold"`
	AcidDamp *Comparison `json:"acid_damp"`
	// SunEpoxy, SunSurfacer: outdoor time against limits sun_epoxy (7 days), sun_surfacer (1 day).
	SunEpoxy    *Comparison `json:"sun_epoxy"`
	SunSurfacer *Comparison `json:"sun_surfacer"`
	Place       sheet.Place `json:"place"` // of the step that bared or laid it
}

// BakedFilm is one film in a bake.
type BakedFilm struct {
	Zone       string      `json:"zone"`
	Layer      string      `json:"layer"`
	Kind       string      `json:"kind"`
	Name       string      `json:"name"`
	Traits     Traits      `json:"traits"`
	Since      Measure     `json:"since"` // end of its last coat to the bake
	FlashFirst *Comparison `json:"flash_first"`
	TooHot     *Comparison `json:"too_hot"`    // against the card's max_metal
	HotEnough  *Comparison `json:"hot_enough"` // metal against the schedule's
	LongEnough *Comparison `json:"long_enough"`
	ToCard     bool        `json:"to_card"` // meets the schedule for certain
	// Relied on: a later step comes sooner than the film's own times allow unbaked.
	ReliedOn          bool `json:"relied_on"`
	ReliedStep        int  `json:"relied_step"`
	LaidSinceLastBake bool `json:"laid_since_last_bake"`
}

// Bake is one bake.
type Bake struct {
	ID         string      `json:"id"` // the step
	Step       int         `json:"step"`
	Zones      []string    `json:"zones"`
	Metal      Measure     `json:"metal"`
	For        Measure     `json:"for"`
	By         string      `json:"by"`
	Films      []BakedFilm `json:"films"`
	PlasticHot *Comparison `json:"plastic_hot"` // against limit bake_plastic; null unless a zone is plastic
	FillerHot  *Comparison `json:"filler_hot"`  // against limit bake_filler; null unless a zone carries filler
	Place      sheet.Place `json:"place"`
}

// Mask is tape laid on one zone.
type Mask struct {
	ID        string      `json:"id"` // ZONE/3
	Step      int         `json:"step"`
	Zone      string      `json:"zone"`
	Layer     string      `json:"layer"` // top film of this sheet under the tape
	Name      string      `json:"name"`
	Kind      string      `json:"kind"`
	TapeAfter *Comparison `json:"tape_after"`
	// TapeSlowed: the same age, scaled.
	TapeSlowed *Slowed     `json:"tape_slowed"`
	Place      sheet.Place `json:"place"`
}

// Polish is one polishing of one zone.
type Polish struct {
	ID           string      `json:"id"` // ZONE/3
	Step         int         `json:"step"`
	Zone         string      `json:"zone"`
	Layer        string      `json:"layer"`
	Name         string      `json:"name"`
	Kind         string      `json:"kind"`
	PolishAfter  *Comparison `json:"polish_after"`  // null for what was there; baked to card: against 1 h
	PolishSlowed *Slowed     `json:"polish_slowed"` // the age, scaled, against polish_after; null where baked to card
	SinceBake    *Comparison `json:"since_bake"`    // since the last bake's end, against limit polish_after_bake (1 h)
	Removed      Measure     `json:"removed"`
	ClearLeftLow *Comparison `json:"clear_left_low"` // as on an abrasion; on the last act only
	ClearLeftBad *Comparison `json:"clear_left_bad"`
	Place        sheet.Place `json:"place"`
}

// Metalwork is hammering, dollying or welding of one zone.
type Metalwork struct {
	ID      string `json:"id"` // ZONE/3
	Step    int    `json:"step"`
	Zone    string `json:"zone"`
	Welding bool   `json:"welding"`
	Where   string `json:"where"`
	// Carrying: films of this sheet or existing ones on the zone, factory finishes apart.
	Carrying        []Worked    `json:"carrying"`
	CutToMetalAfter bool        `json:"cut_to_metal_after"` // all of it stripped or cut to metal later
	PerhapsCutAfter bool        `json:"perhaps_cut_after"`  // or may be: nobody wrote how large a cut is
	Place           sheet.Place `json:"place"`
}

// Beginning is the first abrasion or film of a zone's bare plastic, fiberglass or gelcoat.
type Beginning struct {
	ID      string      `json:"id"` // contact id, or ZONE/3 for an abrasion
	Zone    string      `json:"zone"`
	Step    int         `json:"step"`
	Act     string      `json:"act"`   // abrasion | film
	Layer   string      `json:"layer"` // the plastic, fiberglass or gelcoat
	Kind    string      `json:"kind"`
	Name    string      `json:"name"`
	Soap    bool        `json:"soap"`    // soap and water before
	Cleaner bool        `json:"cleaner"` // plastic cleaner, or wax and grease remover, before
	Place   sheet.Place `json:"place"`
}

// Wait is a contact whose gap no step says.
type Wait struct {
	ID         string      `json:"id"` // contact id
	Zone       string      `json:"zone"`
	Step       int         `json:"step"`
	Upper      string      `json:"upper"`
	Lower      string      `json:"lower"`
	UpperName  string      `json:"upper_name"`
	LowerName  string      `json:"lower_name"`
	Condition  string      `json:"condition"` // "until matte", where only a condition is written
	Place      sheet.Place `json:"place"`
	LowerPlace sheet.Place `json:"lower_place"`
}

// Total is what a zone carries at the end.
type Total struct {
	ID              string      `json:"id"` // the ending's exposure id
	Zone            string      `json:"zone"`
	Paint           Measure     `json:"paint"`
	StackMax        *Comparison `json:"stack_max"`   // null when an existing film is unknown
	LacquerMax      *Comparison `json:"lacquer_max"` // lacquers together against limit lacquer_max (8 mil)
	Filler          Measure     `json:"filler"`      // all fillers laid by the sheet and still there
	FillerMax       *Comparison `json:"filler_max"`
	FiberMax        *Comparison `json:"fiber_max"`
	HasFiber        bool        `json:"has_fiber"`
	OnePartPuttyMax *Comparison `json:"one_part_putty_max"`
	Layers          int         `json:"layers"`
	FillerStep      int         `json:"filler_step"` // the last filler laid, or 0
	TopStep         int         `json:"top_step"`    // the last step that laid paint, or 0
	Place           sheet.Place `json:"place"`
}

// Ending is what faces the weather in a zone when the sheet ends.
type Ending struct {
	ID          string      `json:"id"` // exposure id ZONE/3-0
	Zone        string      `json:"zone"`
	Layer       string      `json:"layer"`
	Kind        string      `json:"kind"`
	Name        string      `json:"name"`
	Traits      Traits      `json:"traits"`
	Existing    bool        `json:"existing"`
	Pore        bool        `json:"pore"` // porous as it stands, abraded bare fiberglass included
	Substrate   bool        `json:"substrate"`
	Faces       string      `json:"faces"`
	Step        int         `json:"step"`    // that laid or bared it, 0 if it was there
	Scratch     *Grit       `json:"scratch"` // the coarsest abrasion left on it that neither film nor polish followed (pads too)
	ScratchStep int         `json:"scratch_step"`
	Polished    bool        `json:"polished"`
	Place       sheet.Place `json:"place"`
}
