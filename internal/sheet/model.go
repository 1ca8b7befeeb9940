package sheet

import (
	"time"

	"guidecoat/internal/quantity"
)

// Place is where something stands in a file: lines and columns count from 1,
// columns in characters; End is the last character's line and the column just
// after it. The zero Place means 'nowhere in a file'.
type Place struct {
	File      string `json:"file"`
	Line      int    `json:"line"`
	Column    int    `json:"column"`
	EndLine   int    `json:"end_line"`
	EndColumn int    `json:"end_column"`
	// Start and End are byte offsets into the file as read (BOM included),
	// for mending; they are not part of any output.
	Start int `json:"-"`
	End   int `json:"-"`
}

// Text, Flag, Number: a written value with its place. Written tells 'not
// written' from an empty value.
type (
	Text struct {
		Value   string
		Written bool
		Place   Place
	}
	Flag struct {
		Value, Written bool
		Place          Place
	}
	Number struct {
		Value   int
		Written bool
		Place   Place
	}
	Date struct {
		Value   time.Time
		Written bool
		Place   Place
	}
	// Texts is a written list of words.
	Texts struct {
		Values  []string
		Written bool
		Place   Place
		Places  []Place // of each value
	}
	// Amount is a written quantity with the place of its value.
	Amount struct {
		quantity.Quantity
		Place Place
	}
	// Grade is a written abrasive with its place.
	Grade struct {
		quantity.Abrasive
		Written bool
		Place   Place
	}
	// MixText is a written mix with its place.
	MixText struct {
		quantity.Mix
		Place Place
	}
)

// Sheet is one process sheet, checked: every name in it is known, every
// quantity has been read. A Sheet exists only if its file had no errors.
type Sheet struct {
	File  string // as given to the program, with forward slashes
	Place Place  // of [sheet]

	Title, Number, Revision, Author Text
	Date                            Date
	Work                            string // restoration | collision
	EndsAs                          string // finished | primed | sealed

	Booth     Weather // Where is "booth" when not written
	Region    string  // us | eu | quebec | ""; from [booth] or the house file
	Panel     Panel
	Zones     []Zone           // as written; the rest zone "panel" is not here
	Steps     []Step           // in order; Steps[i].N == i+1
	Cards     map[string]*Card // every card in reach, by name; CardNames gives the order
	CardNames []string         // sorted
	Waivers   []Waiver
	House     *House   // nil when there is none
	Files     []string // every file read for this sheet, sorted
}

// Weather is what [booth] or a step says of its surroundings.
type Weather struct {
	Air, Panel, Humidity Amount
	Where                Text // booth | prep bay | open shop | outdoors (also "cabinet" on a blast)
	Place                Place
}

// Carried is a film that is on the panel when the sheet begins.
type Carried struct {
	Kind      string
	Film      Amount
	Condition string // sound | peeling | chalking | cracked | unknown
	Place     Place
}

// Panel is the part as it comes in. What is not written has its default as
// Value, and Written false: plastic "unknown", rust "none", faces "weather".
type Panel struct {
	Part, Substrate, Plastic, Rust Text // Substrate is the kind's own name
	Year                           Number
	Area                           Amount
	Carries                        []Carried
	CarriesWritten                 bool
	Faces                          Text
	Place                          Place
}

// Zone is a part of the panel treated differently. What is not written is the
// panel's, and has the empty Value here.
type Zone struct {
	Name                            string
	Area                            Amount
	Substrate, Plastic, Rust, Faces Text
	Role, Edge                      Text // repair | blend | edge ; panel break | open
	Carries                         []Carried
	CarriesWritten                  bool
	Place                           Place
}

// Cut is one entry of cuts_to.
type Cut struct {
	To     string // "substrate", a kind's own name, or a step's call
	ToCall bool   // To is a call
	Call   string // name of the new zone; the step's call if it is the only cut and has none; "" if neither is written
	Area   Amount
	Place  Place
}

// Fades says in which zones a coat fades out.
type Fades struct {
	All     bool
	Zones   []string
	Written bool
	Place   Place
}

// Step is one step of the process. Only the keys its verb allows are written.
type Step struct {
	N     int    // from 1
	Do    string // the verb
	Call  string
	Place Place            // of the whole table, header to last value
	Keys  map[string]Place // of each written key's key = value, by key

	On, Except Texts // zone names or cut calls
	// Zones are the names in On (where it is not written, the zones of the
	// sheet and the rest of the panel) less those in Except; nil = everything.
	// Zones cut from them belong to the step too, unless Except names them.
	Zones         []string
	For, ThenWait Amount
	Weather             // air, panel, humidity, where
	Wear, Says    Texts // Says has one value

	// strip, sand, block, scuff, polish
	Tool, Media, DownTo Text
	Grit, Pad           Grade
	Profile, TakesOff   Amount
	Wet, GuideCoat      Flag
	CutsTo              []Cut
	Feathers            Flag

	// clean, treat, neutralize, polish: a product's name or a helper kind
	With     Text
	WithCard string // the card's name when With names one
	WithKind string // the helper kind

	DriedWithin Amount // rinse
	Over        Texts  // mask

	// spray, brush, spread, caulk
	Product                                 Text // the card's name
	As                                      Text
	Card                                    *Card  // the card, with `as` applied
	Coats                                   Number // 1 when not written
	WetFilm, Between, Thickness             Amount
	Mix                                     MixText
	Hardener, Reducer, Additive             Text   // card names or free text
	HardenerCard, ReducerCard, AdditiveCard *Card  // nil when there is no such card
	HardenerKind, ReducerKind, AdditiveKind string // helper kind where one is known, else ""
	Stood, Batch                            Amount
	FreshCup                                Flag
	Fades                                   Fades
	Gun                                     Text
	Tip, Pressure                           Amount

	Metal   Amount // bake
	By      Text
	Welding Flag  // metalwork
	Measure Texts // inspect
}

// Waiver is one [[waiver]].
type Waiver struct {
	Rule, Reason, By Text
	Step             Text // a call or a number, as text
	StepN            int  // 0 when not written
	Zone             Text
	Until            Date
	Place            Place
}

// SheetNote is data_sheet or safety_sheet on a card.
type SheetNote struct {
	Number          Text
	Issued, Checked Date
	Written         bool
	Place           Place
}

// Window is a least and a most wait. Most unwritten: not given; Any: no upper end.
type Window struct {
	Least, Most Amount
	Any         bool
	Written     bool
	Place       Place
}

// BakeSchedule is a card's bake.
type BakeSchedule struct {
	Metal, For, FlashFirst, MaxMetal Amount
	Written                          bool
	Place                            Place
}

// Card is a product card as written; nothing typical is filled in here.
type Card struct {
	Name  string // the shop's name for it
	Use   string // the `as` this is, "" for the main use
	Kind  string // the kind's own name
	Own   bool   // written in the sheet itself
	Place Place
	Keys  map[string]Place // of each written key

	Label                                                      Text
	DataSheet, SafetySheet                                     SheetNote
	Mix                                                        MixText
	Hardener, Reducer                                          Texts
	ReduceUpTo, Induction, PotLife, VolumeSolids, VOC, Density Amount
	Film, WetMax                                               Amount
	Coats                                                      Amount // dimension Count
	Flash, FlashMost                                           Amount
	Recoat                                                     map[string]Window // "paint", "filler", "polyester"; a plain recoat is "paint" alone
	NoRecoat                                                   Amount
	FillAfter, TapeAfter                                       Amount
	WetOnWet                                                   Flag
	SpotMetal                                                  Amount
	Effect                                                     Text
	LowestCure                                                 Amount
	Uses                                                       map[string]*Card // `as`: each a whole card, the main card's keys under its own
	SandAfter, Settles, PolishAfter                            Amount
	Bake                                                       BakeSchedule
	TimesAt                                                    Amount
	Air, Humidity                                              Amount
	Tip, Pressure                                              Amount
	GritBeneath                                                quantity.AbrasiveRange
	Sandable                                                   Flag
	DirectToMetal                                              Flag  // true or false
	DirectTo                                                   Texts // substrates, where a list is written
	GoesOn, KeepOff                                            Texts // kinds' own names
	WetSandable, HoldsOutWater, Weatherproof, Flexible         Flag
	Hazards                                                    Texts
}

// HouseLimit is one [limits] entry.
type HouseLimit struct {
	Name  string
	Text  string
	Place Place
}

// HouseGrade is one [grades] entry.
type HouseGrade struct {
	Rule   string
	Grade  string // fails | risk | advice; "" when Off
	Off    bool
	Reason string
	Place  Place
}

// House is a house file.
type House struct {
	File   string
	Region string
	Rules  string // folder of the shop's own Rego, as a path; "" if none
	Shelf  []string
	Limits []HouseLimit // sorted by name
	Grades []HouseGrade // sorted by rule
}

// Problem is one thing wrong with a file.
type Problem struct {
	Place   Place
	Key     string // dotted, e.g. booth.air or step[3].grit
	Message string // what is wrong and what would be right
}
