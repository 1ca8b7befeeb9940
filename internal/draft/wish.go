package draft

import (
	"fmt"
	"strings"
	"time"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
)

// Ending is how the panel should look in the end.
type Ending string

// The endings a sheet can be drafted for.
const (
	Solid    Ending = "solid"    // a solid color, with clear or as single stage
	Metallic Ending = "metallic" // a metallic or pearl base, with clear
	Primed   Ending = "primed"   // a primer or surfacer that holds water out
)

// Endings are the endings in the order they are told.
var Endings = []Ending{Solid, Metallic, Primed}

// Least is what a sheet should cost the least of.
type Least string

// What may be had least of. What is equal in it is settled by the advice a
// sheet would get, and then by the others.
const (
	LeastDays   Least = "days"   // hours from the first step to the end of the last wait
	LeastFilm   Least = "film"   // dry film laid, fillers apart
	LeastPasses Least = "passes" // steps that lay, abrade or strip
	LeastLitres Least = "litres" // of everything mixed
)

// Leasts are the measures in the order they are told.
var Leasts = []Least{LeastDays, LeastFilm, LeastPasses, LeastLitres}

// Carried is a film that is on the panel when the sheet begins.
type Carried struct {
	Kind      string
	Condition string // sound when ""
	Film      string // "" when not measured
}

// Wish is what a sheet is wanted for. Its texts are those a sheet would hold;
// what is "" is not written.
type Wish struct {
	Title                               string
	Substrate, Plastic, Rust            string
	Carries                             []Carried // metal upward
	Year                                int       // of the vehicle; 0 when not said
	Ending                              Ending
	Work                                string
	Air, Panel, Humidity, Where, Region string
	Area                                string
	Repair                              string   // area of a dent that is filled; "" for none
	Deep                                string   // how thick the filler is; DefaultDeep when ""
	Lays                                []string // kinds that have to be among what is laid
	Color                               string   // the product the color has to be; "" for any that fits the ending
	Shelves                             []string // shelf files, relative to the sheet
	Least                               Least    // LeastDays when ""
	Strip                               bool     // what the panel carries comes off, sound or not
	Bake                                bool     // the booth can bake
	Blast                               bool     // the shop can blast
}

// DefaultDeep is how thick filler is taken to be where nobody says.
const DefaultDeep = "2 mm"

// DefaultBudget is how many different sheets a search has judged before it gives up.
const DefaultBudget = 3000

// mostRunners is how many runners-up are told.
const mostRunners = 3

// Shop is what a search works with.
type Shop struct {
	Reader *sheet.Reader
	File   string // where the sheet is thought to stand: shelves and house file are found from there
	Book   *rulebook.Book
	House  *rulebook.House // the shop's own rules, or nil
	Today  time.Time
	Budget int // most sheets judged; DefaultBudget when 0
	// Progress is told how many sheets have been judged, and of how many at most; or is nil.
	Progress func(judged, most int)
}

// Cost is what a sheet costs.
type Cost struct {
	Minutes float64  `json:"minutes"` // from the first step to the end of the last wait, at least
	Film    float64  `json:"film_mil"`
	Passes  int      `json:"passes"`
	Litres  *float64 `json:"litres"` // null where an area is not written
	Advice  int      `json:"advice"` // findings of that grade
	Steps   int      `json:"steps"`
}

// Way is one sheet that was found.
type Way struct {
	Begun  string   `json:"begun"`  // how the panel was begun: kept, stripped, bare ... by zone where there are two
	Layers []string `json:"layers"` // what is laid, in order, with the zone where there are two
	Cost   Cost     `json:"cost"`
	Lost   string   `json:"lost,omitempty"` // why it is not the best; "" of the best
	Text   string   `json:"sheet"`
	// Advice are the findings that remain: each is for a person to decide.
	Advice []Reason `json:"advice"`
}

// Reason is one verdict that stands in the way, or advice that remains.
type Reason struct {
	Rule    string   `json:"rule"`
	Grade   string   `json:"grade"`
	Message string   `json:"message"`
	Missing []string `json:"missing"` // kinds of product that would answer it, none of them on the shelf
}

// Outcome is what a search came to.
type Outcome struct {
	Best    *Way     `json:"best"` // nil when no sheet passes, or none was found
	Runners []Way    `json:"runners"`
	Reasons []Reason `json:"reasons"` // where nothing passes: the fewest verdicts that no way gets round
	Nearest []string `json:"nearest"` // the layers of the way that comes nearest
	Missing []string `json:"missing"` // kinds of product without which the ending cannot be laid at all
	Judged  int      `json:"judged"`  // different sheets the rulebook was asked about
	Bound   int      `json:"bound"`   // the most it would have been asked about
	Reached bool     `json:"reached"` // the bound was reached before a whole sheet was
	Cut     bool     `json:"cut"`     // the search for runners-up was cut short; the best is the best all the same
}

// FlagError is a wish that no sheet can be written for, by the flag it came from.
type FlagError struct {
	Flag    string // "substrate"; "" where it is not one flag's
	Message string
}

func (e *FlagError) Error() string {
	if e.Flag == "" {
		return e.Message
	}
	return fmt.Sprintf("--%s: %s", e.Flag, e.Message)
}

// FileError is a shelf or house file that cannot be read, or a fault in what
// was wished for: everything wrong at once.
type FileError struct{ Problems []sheet.Problem }

func (e *FileError) Error() string {
	var words []string
	for _, p := range e.Problems {
		words = append(words, p.Message)
	}
	return strings.Join(words, "; ")
}

// ParseCarried reads what a panel carries as a person says it: a kind, then in
// any order its condition and film, by commas: "aged enamel, peeling, 4 mil".
func ParseCarried(text string) (Carried, error) {
	parts := strings.Split(text, ",")
	c := Carried{Kind: strings.TrimSpace(parts[0])}
	if c.Kind == "" {
		return c, &FlagError{"carries", fmt.Sprintf("%q names no kind; write for example \"factory finish, chalking\"", text)}
	}
	for _, part := range parts[1:] {
		part = strings.TrimSpace(part)
		switch {
		case part == "":
			return c, &FlagError{"carries", fmt.Sprintf("%q has nothing between its commas", text)}
		case strings.ContainsAny(part, "0123456789"):
			if c.Film != "" {
				return c, &FlagError{"carries", fmt.Sprintf("%q gives two films; a film of its own is given with another --carries", text)}
			}
			c.Film = part
		default:
			if c.Condition != "" {
				return c, &FlagError{"carries", fmt.Sprintf("%q gives two conditions; a film of its own is given with another --carries", text)}
			}
			c.Condition = part
		}
	}
	return c, nil
}
