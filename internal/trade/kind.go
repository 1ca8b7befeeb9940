// Package trade is the arithmetic of coatings (film, mix, VOC, dew point,
// clock, abrasives) and what the trade knows as data: kinds, named limits and
// published VOC figures, read from policies/ once.
//
// It promises pure functions, each with its units and its source, that hand
// back numbers and never NaN, whatever they are given. It must not know of
// sheets, zones or steps, and it judges nothing.
package trade

import "guidecoat/internal/quantity"

// Kind is one kind of substrate, finish, film or helper, as policies/kinds.json
// has it. Names and Role are what a sheet may say; Traits and Typical what the
// trade knows of it.
type Kind struct {
	Name    string            `json:"-"`
	Names   []string          `json:"names"`  // everyday names that are accepted for it
	Role    string            `json:"role"`   // substrate | finish | film | helper
	Class   string            `json:"class"`  // see stack.Traits.Class
	Parts   int               `json:"parts"`  // 1 or 2; 0 where it means nothing
	Traits  []string          `json:"traits"` // metal steel zinc plastic composite pore acid epoxy urethane reversible swells waterborne solvent lacquer sandable wet_sandable holds_out_water weatherproof flexible
	Hazards []string          `json:"hazards"`
	Typical map[string]string `json:"typical"` // film, recoat, flash, flash_most, sand_after, settles, volume_solids, pot_life, fill_after, tape_after, polish_after, grit_beneath, no_recoat: as a card would write them, "never" where it never may
	// FillSanded: the typical fill_after also wants the film sanded.
	FillSanded bool   `json:"fill_sanded"`
	Source     string `json:"source"`

	read *Typical // Typical, read when the table is loaded
}

// Typical is a kind's typical numbers, read. What the trade has no number for
// is the zero value.
//
// A recoat of "12 h - never" means: another film not before 12 h, and never
// without sanding, its own coats apart. RecoatMost.Never is then set and its
// interval is zero: any gap is past it. "never" alone says the same with no
// least wait.
type Typical struct {
	Film, Flash, FlashMost, SandAfter, Settles, VolumeSolids, PotLife, FillAfter, TapeAfter, PolishAfter, NoRecoat quantity.Quantity
	RecoatLeast, RecoatMost                                                                                        quantity.Quantity // Most is Open with Never false for `any`
	RecoatAny                                                                                                      bool
	GritBeneath                                                                                                    quantity.AbrasiveRange
}
