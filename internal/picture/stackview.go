// Package picture draws what a sheet builds: each zone's films in section, for
// the terminal, as SVG and as PNG.
//
// It promises that no film vanishes, that nothing is told by color alone, and
// that strings of a sheet can do nothing but be read. It must not know what is
// good or bad: the marks it draws are handed to it.
package picture

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/stack"
)

// Mark is a place to point at: the contact between two films of a zone, the
// open face of one, or a film as such. One of the three is set.
type Mark struct {
	Contact string // contact id
	Surface string // ZONE/LAYER: the upper face of that film, which nothing covers
	Film    string // ZONE/LAYER: that film itself
	Label   string // what goes wrong there, in a few words
	Finding string // its id
	Rule    string
	Grade   string
	Step    int  // that the finding is about; 0 for none
	Will    bool // certain; else possible
}

// Surface is what became of a face before anything covered it.
type Surface struct {
	Tooth   string   // how it was roughened: "P80", "grit blast", "" for not at all
	Microns float64  // median particle of that scratch, µm; 0 where no grade is known
	Touched []string // what it met since, in order
	Water   bool     // water among it
}

// Film is one film of a zone as it is drawn, from the top down.
type Film struct {
	ID        string
	Name      string
	Kind      string
	Class     string
	Step      int
	Call      string
	Existing  bool
	Substrate bool
	Composite bool    // a substrate that is no metal
	Mil       float64 // middle of what is left, mil; 0 where nobody knows
	Text      string  // that in words, in the sheet's unit and the other: "2.5 mil (64 µm)"; "film not known"
	Short     string  // in the sheet's unit alone: "2.5 mil"; "not known"
	Lo        float64 // what is left, mil
	Hi        float64 // below Lo where nobody knows
	Assumed   bool    // no wet film is written: the film of the card or its kind stands in
	Fades     bool    // fades out in this zone
	Surface           // what this film lies on
	Face      Surface // of the uppermost film: its open face
	Contact   string  // id of the contact under this film, "" under a film that was there and under the substrate
	Marks     []Mark  // at the contact under this film
	OnTop     []Mark  // on the upper face of this film, which nothing of the sheet covers
	Within    []Mark  // about this film itself
}

// Known tells whether anybody knows how thick the film is.
func (f Film) Known() bool { return !f.Substrate && f.Hi >= f.Lo && f.Mil > 0 }

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
	byContact, bySurface, byFilm := map[string][]Mark{}, map[string][]Mark{}, map[string][]Mark{}
	for _, m := range marks {
		switch {
		case m.Contact != "":
			byContact[m.Contact] = append(byContact[m.Contact], m)
		case m.Surface != "":
			bySurface[m.Surface] = append(bySurface[m.Surface], m)
		default:
			byFilm[m.Film] = append(byFilm[m.Film], m)
		}
	}
	for _, of := range []map[string][]Mark{byContact, bySurface, byFilm} {
		for _, ms := range of {
			sort.SliceStable(ms, func(i, j int) bool { return ms[i].Label < ms[j].Label })
		}
	}
	v := viewer{d: d, contact: map[string]stack.Contact{}, parent: map[string]string{}, water: waters(d)}
	for _, c := range d.Contacts {
		v.contact[c.ID] = c
	}
	for _, z := range d.Zones {
		v.parent[z.Name] = z.Parent
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
			f := Film{ID: l.ID, Name: l.Name, Kind: l.Kind, Class: l.Traits.Class, Step: l.Step, Call: l.Call, Existing: l.Existing, Substrate: l.Substrate,
				Composite: l.Substrate && !l.Traits.Metal, Assumed: l.FilmAssumed, Fades: slices.Contains(l.Fades, z.Name)}
			left(&f, l, z.Name)
			f.OnTop, f.Within = bySurface[z.Name+"/"+l.ID], byFilm[z.Name+"/"+l.ID]
			if c, ok := v.made(z.Name, l.ID); ok {
				f.Contact = c.ID
				f.Tooth, f.Microns = tooth(c)
				for _, t := range c.Touched {
					f.Touched = append(f.Touched, strings.ReplaceAll(t, "_", " "))
					f.Water = f.Water || v.water[t]
				}
				f.Marks = byContact[c.ID]
			}
			if len(col.Films) == 0 {
				f.Face = v.face(z.Name, l.ID)
			}
			col.Films = append(col.Films, f)
		}
		out = append(out, col)
	}
	return out
}

// Unseen are the marks that point at nothing in the columns: at a film that was
// stripped off again, or at one that is not there yet.
func Unseen(columns []Column, marks []Mark) []Mark {
	place := func(m Mark) [3]string { return [3]string{m.Contact, m.Surface, m.Film} }
	seen := map[[3]string]bool{}
	for _, c := range columns {
		for _, f := range c.Films {
			for _, m := range f.allMarks() {
				seen[place(m)] = true
			}
		}
	}
	var out []Mark
	for _, m := range marks {
		if !seen[place(m)] {
			out = append(out, m)
		}
	}
	return out
}

// allMarks are the marks of a film, from its upper face down.
func (f Film) allMarks() []Mark {
	return slices.Concat(f.OnTop, f.Within, f.Marks)
}

type viewer struct {
	d       *stack.Document
	contact map[string]stack.Contact
	parent  map[string]string // of a zone
	water   map[string]bool   // agents that leave water
}

// made is the contact a film makes in a zone, or made in the zone it was cut from.
func (v *viewer) made(zone, layer string) (stack.Contact, bool) {
	for hops := 0; zone != "" && hops <= len(v.parent); hops++ {
		if c, ok := v.contact[zone+"/"+layer]; ok {
			return c, true
		}
		zone = v.parent[zone]
	}
	return stack.Contact{}, false
}

// face is what became of the face of a zone that nothing covers.
func (v *viewer) face(zone, layer string) Surface {
	var s Surface
	from := -1
	for _, e := range v.d.Exposures {
		if e.Zone == zone && e.Layer == layer && e.ToStep == 0 {
			from = e.FromStep
		}
	}
	if from < 0 {
		return s
	}
	var teeth []string
	roughened := func(words string) {
		if words != "" && (len(teeth) == 0 || teeth[len(teeth)-1] != words) {
			teeth = append(teeth, words)
		}
	}
	for _, st := range v.d.Strips {
		if st.Zone != zone || st.Step < from {
			continue
		}
		switch words := strings.TrimSpace(st.Tool + " " + v.d.Steps[st.Step-1].Grade); {
		case st.Tool == "blast":
			roughened(strings.TrimSpace(st.Media + " blast"))
		case st.Tool == "sander" || st.Tool == "grinder":
			roughened(words)
		default:
			s.Touched = append(s.Touched, words) // it leaves no tooth
		}
	}
	for _, a := range v.d.Abrasions {
		if a.Zone == zone && a.Layer == layer && a.Step >= from {
			name := a.Grit.Name
			if name == "" {
				name = a.Do
			}
			roughened(name)
			if a.Grit.Known && !a.Grit.Microns.Open {
				s.Microns = middle(a.Grit.Microns)
			}
		}
	}
	s.Tooth = strings.Join(teeth, ", ")
	for _, t := range v.d.Touches {
		if t.Zone == zone && t.Layer == layer && t.Step >= from {
			words := t.AgentKind
			if words == "" || t.Do == "rinse" {
				words = t.Do
			}
			s.Touched = append(s.Touched, strings.ReplaceAll(words, "_", " "))
			s.Water = s.Water || t.Water
		}
	}
	for _, p := range v.d.Polishes {
		if p.Zone == zone && p.Layer == layer && p.Step >= from {
			s.Touched = append(s.Touched, "polish")
		}
	}
	return s
}

// middle of a measure that has no upper end is its lower one.
func middle(m stack.Measure) float64 {
	if m.Hi == nil {
		return m.Lo
	}
	return (m.Lo + *m.Hi) / 2
}

// waters names the agents and acts of a sheet that bring water.
func waters(d *stack.Document) map[string]bool {
	out := map[string]bool{"rinse": true}
	for _, t := range d.Touches {
		if t.Water && t.AgentKind != "" {
			out[t.AgentKind] = true
		}
	}
	return out
}

// left fills in what is left of a film in a zone.
func left(f *Film, l stack.Layer, zone string) {
	f.Lo, f.Hi = 0, -1
	if l.Substrate {
		return
	}
	m, ok := l.FilmLeft[zone]
	if !ok {
		m = l.FilmLaid
	}
	if m.Open || m.Hi == nil {
		f.Text, f.Short = "film not known", "not known"
		return
	}
	f.Lo, f.Hi = m.Lo, *m.Hi
	f.Mil = (m.Lo + *m.Hi) / 2
	f.Short = m.Text
	f.Text = m.Text + " (" + otherUnit(m) + ")"
}

// otherUnit writes a film in µm where the sheet has mil, and the other way
// round, no finer than a gauge reads.
func otherUnit(m stack.Measure) string {
	unit, digits := "µm", 0
	switch m.Shown.Unit {
	case "µm", "um", "micron", "microns", "mm", "cm":
		unit, digits = "mil", 1
	}
	in := func(mil float64) float64 {
		v, _ := quantity.Convert(mil, quantity.Film, unit)
		scale := math.Pow(10, float64(digits))
		if r := math.Round(v*scale) / scale; r > 0 {
			return r
		}
		return v
	}
	lo, hi := quantity.FormatNumber(in(m.Lo)), quantity.FormatNumber(in(*m.Hi))
	if lo == hi {
		return lo + " " + unit
	}
	return lo + " - " + hi + " " + unit
}

// tooth is what roughened the surface under a contact, and its median particle, µm.
func tooth(c stack.Contact) (said string, microns float64) {
	grit := c.Grip
	switch {
	case c.Tooth != nil && c.Tooth.By == "none":
		return "", 0
	case c.Tooth != nil:
		if grit = c.Tooth.Grit; grit == nil || grit.Name == "" {
			grit = c.Tooth.Finest // a pad gives grip and leaves no scratch
		}
		if grit == nil || grit.Name == "" {
			return c.Tooth.By, 0
		}
	case c.Scratch != nil:
		grit = c.Scratch
	}
	if grit == nil {
		return "", 0
	}
	if grit.Known && !grit.Microns.Open {
		microns = middle(grit.Microns)
	}
	return grit.Name, microns
}

// role names what a film of a class is drawn as.
type role int

const (
	roleMetal role = iota
	rolePlastic
	roleFinish
	rolePrimer
	rolePromoter
	roleSurfacer
	roleFiller
	roleSeam
	roleSealer
	roleColor
	roleClear
	roleCoating
	roleCount
)

// roleNames is what the key of a drawing calls them.
var roleNames = [roleCount]string{
	"metal", "plastic or composite", "finish that was there", "primer", "adhesion promoter", "surfacer", "filler or putty",
	"seam sealer", "sealer", "color", "clear", "protective coating",
}

func roleOf(f Film) role {
	switch f.Class {
	case "substrate":
		if f.Composite {
			return rolePlastic
		}
		return roleMetal
	case "finish":
		return roleFinish
	case "primer":
		return rolePrimer
	case "promoter":
		return rolePromoter
	case "surfacer":
		return roleSurfacer
	case "filler":
		return roleFiller
	case "seam":
		return roleSeam
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
