// Package picture draws what a sheet builds: each zone's films in section, for
// the terminal.
//
// It promises that no film vanishes, that nothing is told by color alone, and
// that strings of a sheet can do nothing but be read. It must not know what is
// good or bad: the marks it draws are handed to it.
package picture

import (
	"fmt"
	"sort"

	"guidecoat/internal/stack"
)

// Mark is a place to point at: the contact between two films of a zone.
type Mark struct {
	Contact string // contact id
	Label   string // what goes wrong there, in a few words
	Will    bool   // certain; else possible
}

// Film is one film of a zone as it is drawn, from the top down.
type Film struct {
	ID        string
	Name      string
	Class     string
	Step      int
	Existing  bool
	Substrate bool
	Mil       float64 // middle of what is left, mil; 0 where nobody knows
	Text      string  // that in words, or "film not known"
	Tooth     string  // how the surface under this film was roughened: "P80", "grit blast", "" for none
	Touched   []string
	Marks     []Mark
}

// Column is one zone as it is drawn.
type Column struct {
	Zone    string
	Area    string
	Parent  string
	CutStep int
	Films   []Film
}

// Columns reads the films of every zone out of the stack, each from the top
// down to the substrate, with the marks at the contacts they belong to.
func Columns(d *stack.Document, marks []Mark) []Column {
	byContact := map[string][]Mark{}
	for _, m := range marks {
		byContact[m.Contact] = append(byContact[m.Contact], m)
	}
	for _, ms := range byContact {
		sort.SliceStable(ms, func(i, j int) bool { return ms[i].Label < ms[j].Label })
	}
	contact := map[string]stack.Contact{}
	for _, c := range d.Contacts {
		contact[c.ID] = c
	}
	out := make([]Column, 0, len(d.Zones))
	for _, z := range d.Zones {
		col := Column{Zone: z.Name, Parent: z.Parent, CutStep: z.CutStep}
		if !z.Area.Open {
			col.Area = z.Area.Text
		}
		for i := len(z.Layers) - 1; i >= 0; i-- {
			l, ok := d.LayersByID[z.Layers[i]]
			if !ok {
				continue
			}
			f := Film{ID: l.ID, Name: l.Name, Class: l.Traits.Class, Step: l.Step, Existing: l.Existing, Substrate: l.Substrate}
			f.Mil, f.Text = left(l, z.Name)
			if c, ok := contact[z.Name+"/"+l.ID]; ok {
				f.Tooth = tooth(c)
				f.Touched = c.Touched
				f.Marks = byContact[c.ID]
			}
			col.Films = append(col.Films, f)
		}
		out = append(out, col)
	}
	return out
}

func left(l stack.Layer, zone string) (mil float64, text string) {
	if l.Substrate {
		return 0, ""
	}
	m, ok := l.FilmLeft[zone]
	if !ok {
		m = l.FilmLaid
	}
	if m.Open || m.Hi == nil {
		return 0, "film not known"
	}
	return (m.Lo + *m.Hi) / 2, m.Text
}

func tooth(c stack.Contact) string {
	if c.Tooth != nil {
		if c.Tooth.By == "none" {
			return ""
		}
		if c.Tooth.Grit != nil && c.Tooth.Grit.Name != "" {
			return c.Tooth.Grit.Name
		}
		return c.Tooth.By
	}
	if c.Scratch != nil {
		return c.Scratch.Name
	}
	if c.Grip != nil {
		return c.Grip.Name
	}
	return ""
}

// role names what a film of a class is drawn as.
type role int

const (
	roleMetal role = iota
	roleFinish
	rolePrimer
	roleSurfacer
	roleFiller
	roleSealer
	roleColor
	roleClear
	roleCoating
)

func roleOf(f Film) role {
	switch f.Class {
	case "substrate":
		return roleMetal
	case "finish":
		return roleFinish
	case "primer", "promoter":
		return rolePrimer
	case "surfacer":
		return roleSurfacer
	case "filler", "seam":
		return roleFiller
	case "sealer":
		return roleSealer
	case "color":
		return roleColor
	case "clear":
		return roleClear
	}
	return roleCoating
}

func stepText(f Film) string {
	switch {
	case f.Substrate:
		return ""
	case f.Existing || f.Step == 0:
		return "was there"
	}
	return fmt.Sprintf("step %d", f.Step)
}
