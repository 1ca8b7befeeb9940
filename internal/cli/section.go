package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"guidecoat/internal/picture"
	"guidecoat/internal/printable"
	"guidecoat/internal/quantity"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// sectionFlags are what the section command is asked for.
type sectionFlags struct {
	judgingFlags
	zone, after string
	ascii       bool
	width       int
	scale       float64
}

// drawingFlags are the flags that only some of the formats heed.
var drawingFlags = []struct {
	flag    string
	formats []string
}{{"ascii", []string{"text"}}, {"width", []string{"svg", "png"}}, {"scale", []string{"png"}}}

// checkDrawing refuses a flag that the format does not heed, and a width that is none.
func checkDrawing(flags *pflag.FlagSet, as string, width int) error {
	for _, f := range drawingFlags {
		if flags.Changed(f.flag) && !slices.Contains(f.formats, as) {
			return &statusError{exitWrong, fmt.Errorf("--%s is for --as %s, and this is printed as %s", f.flag, strings.Join(f.formats, " or "), as)}
		}
	}
	if flags.Changed("width") && (width < 320 || width > 4000) {
		return &statusError{exitWrong, fmt.Errorf("--width %d is not a width from 320 to 4000", width)}
	}
	return nil
}

func (p *program) section() *cobra.Command {
	var flags sectionFlags
	c := &cobra.Command{
		Use:   "section SHEET",
		Short: "Draw the films of each zone in section",
		Long: `Section draws what a sheet builds, zone by zone, from the substrate up: every
film to scale with its number beside it, the tooth it lies on, what its surface
met, where a zone was cut through, and the places that the findings of fails
and risk are about.

No film is drawn thinner than a stated least; the foot of the drawing says how
it is to be read. With --after it shows the panel as it stands then.`,
		Example: `  guidecoat section sheets/door.toml
  guidecoat section --after "second clear" sheets/door.toml
  guidecoat section --as svg --out door.svg sheets/door.toml
  guidecoat section --as png --scale 3 --out door.png sheets/door.toml`,
		Args: oneSheet,
		RunE: func(c *cobra.Command, args []string) error {
			if err := oneOf("as", flags.as, "text", "json", "svg", "png"); err != nil {
				return err
			}
			if flags.as == "png" && flags.out == "" && p.Terminal {
				return &statusError{exitWrong, errors.New("a PNG is dots, and would fill the terminal with garbage: add --out FILE.png, or send it on through a pipe")}
			}
			if !(flags.scale >= 0.25 && flags.scale <= 8) {
				return &statusError{exitWrong, fmt.Errorf("--scale %v is not a scale from 0.25 to 8", flags.scale)}
			}
			if err := checkDrawing(c.Flags(), flags.as, flags.width); err != nil {
				return err
			}
			seen, err := p.sectionOf(c.Context(), args[0], &flags)
			if err != nil {
				return err
			}
			return p.deliver(flags.out, func(w io.Writer) error { return p.drawSection(w, seen, &flags) })
		},
	}
	f := c.Flags()
	f.StringVar(&flags.as, "as", "text", "how to draw: text, json, svg or png")
	f.StringVar(&flags.out, "out", "", "write to this `file` instead of the terminal")
	f.StringVar(&flags.zone, "zone", "", "this zone alone")
	f.StringVar(&flags.after, "after", "", "as it stands after this `step`: its number or its call")
	f.BoolVar(&flags.ascii, "ascii", false, "draw with ASCII alone")
	f.IntVar(&flags.width, "width", 800, "width of the drawing in `pixels`")
	f.Float64Var(&flags.scale, "scale", 2, "dots of a PNG for each pixel of the drawing")
	f.StringVar(&flags.house, "house", "", "use this house `file`")
	f.StringVar(&flags.rules, "rules", "", "`folder` of the shop's own rules, beside the built-in ones")
	f.StringVar(&flags.today, "today", "", "judge waivers as on this `date` (YYYY-MM-DD); the machine's date if not given")
	return c
}

// seen is a section ready to be drawn.
type seen struct {
	file, title string
	after       *stack.Step // nil: at the end of the sheet
	columns     []picture.Column
	elsewhere   []elsewhere
}

// elsewhere is a finding that is about nothing in the drawing.
type elsewhere struct {
	Rule  string `json:"rule"`
	Grade string `json:"grade"` // fails | risk
	Step  *int   `json:"step"`
}

// sectionOf reads and judges a sheet as inspect does, and finds what is to be drawn.
func (p *program) sectionOf(ctx context.Context, path string, flags *sectionFlags) (*seen, error) {
	j, err := p.judgeOne(ctx, path, &flags.judgingFlags)
	if err != nil {
		return nil, err
	}
	out := &seen{file: j.File, title: j.Title}
	marks, rest := picture.Marks(j.Doc, j.Result.Findings)
	doc := j.Doc
	if flags.after != "" {
		if out.after, err = stepNamed(doc, flags.after); err != nil {
			return nil, err
		}
		marks = picture.AsOf(marks, j.Doc, out.after.N)
		part := *j.Sheet
		part.Steps = append([]sheet.Step{}, part.Steps[:out.after.N]...)
		var problems []sheet.Problem
		if doc, problems = stack.Build(&part); len(problems) > 0 {
			return nil, p.refuse(path, problems)
		}
	}
	out.columns = picture.Columns(doc, marks)
	out.elsewhere = notDrawn(picture.Unseen(out.columns, marks), rest, j.Result.Findings, out.after)
	if flags.zone != "" {
		if out.columns, err = zoneNamed(out.columns, flags.zone); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// notDrawn lists, each once and in the order of the findings, those that point
// at nothing in the drawing; after a step, only those of the steps so far.
func notDrawn(unseen []picture.Mark, rest, all []rulebook.Finding, after *stack.Step) []elsewhere {
	missing := map[string]bool{}
	for _, m := range unseen {
		missing[m.Finding] = true
	}
	for _, f := range rest {
		missing[f.ID] = true
	}
	out := []elsewhere{}
	for _, f := range all {
		if missing[f.ID] && (after == nil || f.Step != nil && *f.Step <= after.N) {
			out = append(out, elsewhere{f.Rule, f.Grade, f.Step})
		}
	}
	return out
}

// stepNamed finds a step by its number or its call.
func stepNamed(d *stack.Document, name string) (*stack.Step, error) {
	if n, err := strconv.Atoi(strings.TrimSpace(name)); err == nil {
		if n < 1 || n > len(d.Steps) {
			return nil, &statusError{exitWrong, fmt.Errorf("--after %d: the sheet has %d steps", n, len(d.Steps))}
		}
		return &d.Steps[n-1], nil
	}
	var calls []string
	for i, s := range d.Steps {
		if s.Call == name {
			return &d.Steps[i], nil
		}
		if s.Call != "" {
			calls = append(calls, strconv.Quote(printable.Visible(s.Call)))
		}
	}
	hint := "none of its steps has a call; name the step by its number"
	if len(calls) > 0 {
		hint = "its calls are " + strings.Join(calls, ", ")
	}
	return nil, &statusError{exitWrong, fmt.Errorf("--after %q: no step of the sheet is called that; %s", printable.Visible(name), hint)}
}

func zoneNamed(columns []picture.Column, name string) ([]picture.Column, error) {
	var names []string
	for _, col := range columns {
		if col.Zone == name {
			return []picture.Column{col}, nil
		}
		names = append(names, strconv.Quote(printable.Visible(col.Zone)))
	}
	return nil, &statusError{exitWrong, fmt.Errorf("the sheet has no zone called %q; its zones are %s", printable.Visible(name), strings.Join(names, ", "))}
}

// heading is the drawing's title.
func (s *seen) heading() string {
	title := s.title
	if s.after != nil {
		title += ", after " + s.after.Name
	}
	return title
}

// notes tells what is not in the drawing.
func (s *seen) notes() []string {
	if len(s.elsewhere) == 0 {
		return nil
	}
	var said []string
	for _, e := range s.elsewhere {
		words := e.Rule
		if e.Step != nil {
			words += fmt.Sprintf(" (step %d)", *e.Step)
		}
		said = append(said, words)
	}
	return []string{"Found too, but nothing that a section can show: " + strings.Join(said, ", ") + ". 'guidecoat inspect' tells them."}
}

func (p *program) drawSection(w io.Writer, s *seen, flags *sectionFlags) error {
	options := picture.SVGOptions{Title: s.heading(), Width: flags.width, IDPrefix: "section-", Notes: s.notes()}
	switch flags.as {
	case "json":
		return writeJSON(w, sectionJSON(s))
	case "svg":
		return picture.SVG(w, s.columns, options)
	case "png":
		told := p.progress(false, shareDone("drawing"))
		err := picture.PNG(w, s.columns, options, picture.PNGOptions{Scale: flags.scale, Progress: told.set})
		told.done()
		var large *picture.TooLargeError
		if errors.As(err, &large) {
			return fmt.Errorf("%w; draw one zone with --zone, or use a smaller --scale", err)
		}
		return err
	}
	_, err := io.WriteString(w, picture.Terminal(s.columns, picture.TerminalOptions{
		Columns: p.columns(), ASCII: flags.ascii || p.asciiLocale(), Notes: s.notes()}))
	return err
}

// drawnSection is what `section --as json` prints. What does not apply is
// null, lists are never null; lengths are in mil unless a unit stands beside them.
type drawnSection struct {
	Guidecoat printedBy   `json:"guidecoat"`
	File      string      `json:"file"`
	Title     string      `json:"title"`
	After     *int        `json:"after"` // the step it stands after; null at the end of the sheet
	Zones     []drawnZone `json:"zones"`
	Elsewhere []elsewhere `json:"elsewhere"` // findings of fails and risk that are about nothing in the section
}

type drawnZone struct {
	Zone    string        `json:"zone"`
	Area    *string       `json:"area"`
	Parent  *string       `json:"parent"`   // the zone it was cut from
	CutStep *int          `json:"cut_step"` // the step that cut it
	Face    *drawnSurface `json:"face"`     // what became of its open face; null for nothing
	Films   []drawnFilm   `json:"films"`    // from the top down; the substrate is the last
}

type drawnFilm struct {
	ID        string        `json:"id"`
	Name      string        `json:"name"`
	Kind      string        `json:"kind"`
	Class     string        `json:"class"`
	Step      *int          `json:"step"` // null for what was there
	Call      *string       `json:"call"`
	Existing  bool          `json:"existing"`
	Substrate bool          `json:"substrate"`
	Film      *drawnLength  `json:"film"`    // what is left; null where nobody knows, and of a substrate
	Assumed   bool          `json:"assumed"` // no wet film is written: the card's or kind's film stands in
	Fades     bool          `json:"fades"`   // it fades out in this zone
	Beneath   *drawnSurface `json:"beneath"` // the surface it lies on; null where it was there before the sheet
	Marks     []drawnMark   `json:"marks"`
}

type drawnLength struct {
	Lo   float64 `json:"lo"`
	Hi   float64 `json:"hi"`
	Unit string  `json:"unit"` // mil
	Text string  `json:"text"` // in the sheet's unit and the other system's
}

type drawnSurface struct {
	Contact *string  `json:"contact"` // null of an open face
	Tooth   *string  `json:"tooth"`   // what roughened it: a grade, a pad, a blast
	Microns *float64 `json:"microns"` // median particle of that, µm
	Touched []string `json:"touched"` // what it met since, in order
	Water   bool     `json:"water"`   // water among it
}

type drawnMark struct {
	At        string `json:"at"` // "beneath": its contact with what is under it; "top": its open face; "within": the film itself
	Rule      string `json:"rule"`
	Grade     string `json:"grade"`     // fails | risk
	Certainty string `json:"certainty"` // will | may
	Label     string `json:"label"`
}

func sectionJSON(s *seen) drawnSection {
	out := drawnSection{Guidecoat: printed(), File: s.file, Title: s.title, Zones: []drawnZone{}, Elsewhere: s.elsewhere}
	if s.after != nil {
		out.After = &s.after.N
	}
	for _, c := range s.columns {
		z := drawnZone{Zone: c.Zone, Area: written(c.Area), Parent: written(c.Parent), CutStep: counted(c.CutStep), Films: []drawnFilm{}}
		for i, f := range c.Films {
			if i == 0 && (f.Face.Tooth != "" || len(f.Face.Touched) > 0) {
				z.Face = surfaceJSON(f.Face)
			}
			z.Films = append(z.Films, filmJSON(f))
		}
		out.Zones = append(out.Zones, z)
	}
	return out
}

func surfaceJSON(s picture.Surface) *drawnSurface {
	out := &drawnSurface{Tooth: written(s.Tooth), Touched: append([]string{}, s.Touched...), Water: s.Water}
	if s.Microns > 0 {
		microns := fourDigits(s.Microns)
		out.Microns = &microns
	}
	return out
}

func filmJSON(f picture.Film) drawnFilm {
	out := drawnFilm{ID: f.ID, Name: f.Name, Kind: f.Kind, Class: f.Class, Step: counted(f.Step), Call: written(f.Call), Existing: f.Existing,
		Substrate: f.Substrate, Assumed: f.Assumed, Fades: f.Fades, Marks: []drawnMark{}}
	if f.Known() {
		out.Film = &drawnLength{Lo: fourDigits(f.Lo), Hi: fourDigits(f.Hi), Unit: "mil", Text: f.Text}
	}
	if f.Contact != "" {
		out.Beneath = surfaceJSON(f.Surface)
		out.Beneath.Contact = &f.Contact
	}
	for _, at := range []struct {
		where string
		marks []picture.Mark
	}{{"top", f.OnTop}, {"within", f.Within}, {"beneath", f.Marks}} {
		for _, m := range at.marks {
			certainty := "may"
			if m.Will {
				certainty = "will"
			}
			out.Marks = append(out.Marks, drawnMark{at.where, m.Rule, m.Grade, certainty, m.Label})
		}
	}
	return out
}

// fourDigits rounds as every number that is printed is.
func fourDigits(v float64) float64 {
	r, err := strconv.ParseFloat(quantity.FormatNumber(v), 64)
	if err != nil {
		return v
	}
	return r
}

// written is a word, or null where there is none; counted a number.
func written(s string) *string {
	if s == "" {
		return nil
	}
	return &s
}

func counted(n int) *int {
	if n == 0 {
		return nil
	}
	return &n
}
