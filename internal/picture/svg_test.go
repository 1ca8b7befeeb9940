package picture

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"pgregory.net/rapid"

	"guidecoat/internal/generate"
	"guidecoat/internal/plan"
	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

var refresh = flag.Bool("refresh", false, "write what is drawn into the expected files; look at the drawings before committing them")

var book = sync.OnceValues(rulebook.Builtin)

// seen is an example sheet as it is drawn.
type seen struct {
	name    string
	doc     *stack.Document
	marks   []Mark
	columns []Column
}

var judged sync.Map // examples by name, which many tests look at and none changes

// example is one of the example sheets, built and judged.
func example(t testing.TB, name string) seen {
	t.Helper()
	if s, ok := judged.Load(name); ok {
		return s.(seen)
	}
	s := judge(t, name)
	judged.Store(name, s)
	return s
}

// read reads an example sheet.
func read(t testing.TB, name string) *sheet.Sheet {
	t.Helper()
	root, err := filepath.Abs("../../specs-examples")
	if err != nil {
		t.Fatal(err)
	}
	reader := sheet.NewReader(sheet.Options{Root: root})
	defer reader.Close()
	s, problems := reader.Read(name)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return s
}

func judge(t testing.TB, name string) seen {
	t.Helper()
	s := read(t, name)
	doc, problems := stack.Build(s)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	b, err := book()
	if err != nil {
		t.Fatal(err)
	}
	result, err := b.Judge(context.Background(), doc, s, rulebook.Options{Today: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC)})
	if err != nil {
		t.Fatal(err)
	}
	marks, _ := Marks(doc, result.Findings)
	return seen{name, doc, marks, Columns(doc, marks)}
}

// examples are all of them, in order.
var examples = sync.OnceValue(func() []string {
	var out []string
	for _, kind := range []string{"good", "bad"} {
		found, err := filepath.Glob("../../specs-examples/" + kind + "/*.toml")
		if err != nil {
			panic(err)
		}
		for _, f := range found {
			out = append(out, kind+"/"+filepath.Base(f))
		}
	}
	return out
})

func days(t *testing.T, s seen) *plan.Plan {
	t.Helper()
	p, err := plan.Days(s.doc, plan.Options{From: time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC), Day: plan.Day{Opens: 480, Shuts: 1020}})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func drawn(t *testing.T, columns []Column, o SVGOptions) string {
	t.Helper()
	var b bytes.Buffer
	if err := SVG(&b, columns, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func drawnDays(t *testing.T, p *plan.Plan, o SVGOptions) string {
	t.Helper()
	var b bytes.Buffer
	if err := ClockSVG(&b, p, o); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// element is one element of a drawing, with the text in it.
type element struct {
	name string
	attr map[string]string
	text string
	in   string // name of the element around it
}

// parsed reads a drawing as an XML reader does, every element in order.
func parsed(t *testing.T, svg string) []element {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	var out []element
	var open []int
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatalf("the drawing is no XML: %v\n%s", err, svg)
		}
		switch x := token.(type) {
		case xml.StartElement:
			e := element{name: x.Name.Local, attr: map[string]string{}}
			if len(open) > 0 {
				e.in = out[open[len(open)-1]].name
			}
			for _, a := range x.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			open = append(open, len(out))
			out = append(out, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].text += string(x)
			}
		case xml.Comment, xml.Directive:
			t.Errorf("a drawing holds %T: %v", x, x)
		}
	}
}

// Elements and attributes that a drawing may hold. None of them runs, fetches
// or styles, and none needs leave of a page's content security policy.
var (
	allowedElements = []string{"svg", "title", "desc", "defs", "pattern", "rect", "path", "circle", "text"}
	allowedAttrs    = []string{
		"xmlns", "role", "aria-labelledby", "aria-describedby", "width", "height", "viewBox", "font-family", "id", "fill", "stroke", "stroke-width", "stroke-linejoin", "stroke-dasharray",
		"d", "x", "y", "cx", "cy", "r", "font-size", "font-weight", "text-anchor", "patternUnits",
	}
	plainFill = regexp.MustCompile(`^(none|#[0-9a-f]{6}|url\(#[A-Za-z][A-Za-z0-9_-]*\))$`)
)

// harmless fails where a drawing holds anything that could run or fetch.
func harmless(t *testing.T, svg string) []element {
	t.Helper()
	all := parsed(t, svg)
	for _, e := range all {
		if !slices.Contains(allowedElements, e.name) {
			t.Errorf("the drawing holds an element <%s>", e.name)
		}
		for name, value := range e.attr {
			if !slices.Contains(allowedAttrs, name) {
				t.Errorf("<%s> has an attribute %s=%q", e.name, name, value)
			}
			if name == "fill" && !plainFill.MatchString(value) {
				t.Errorf("a fill is %q", value)
			}
		}
		for _, r := range e.text {
			if r != '\n' && r < 0x20 || r == 0x7f || r >= 0x80 && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 {
				t.Errorf("<%s> holds %U", e.name, r)
			}
		}
	}
	return all
}

func TestADrawingOfEveryExampleIsXMLThatRunsAndFetchesNothing(t *testing.T) {
	for _, name := range examples() {
		s := example(t, name)
		harmless(t, drawn(t, s.columns, SVGOptions{Title: s.doc.Sheet.Title, IDPrefix: "a-"}))
		harmless(t, drawnDays(t, days(t, s), SVGOptions{IDPrefix: "b-"}))
	}
}

func TestXmllintReadsTheDrawings(t *testing.T) {
	lint, err := exec.LookPath("xmllint")
	if err != nil {
		t.Skip("xmllint is not installed; encoding/xml has read the drawings already")
	}
	s := example(t, "bad/filler-over-etch.toml")
	for _, svg := range []string{drawn(t, s.columns, SVGOptions{}), drawnDays(t, days(t, s), SVGOptions{}), drawn(t, hostileColumns(), SVGOptions{Title: hostile})} {
		c := exec.Command(lint, "--noout", "--nonet", "-")
		c.Stdin = strings.NewReader(svg)
		if out, err := c.CombinedOutput(); err != nil {
			t.Errorf("xmllint: %v\n%s", err, out)
		}
	}
}

// hostile tries to leave every place that a string can be written to.
const hostile = "</text></svg><script>alert(1)</script>\"'><image href=\"//x\" onload=alert(1)> ]]> &lt; <!-- \x1b[31m\x00\u202eevil\u2066 \xff \ufffe \u0085 url(#x) העברית"

// filled puts a string of its own into every string of a value, by reflection,
// so that no field is forgotten, and tells what it put in.
func filled(v reflect.Value, text string, path string, said *[]string) {
	switch v.Kind() {
	case reflect.String:
		if v.CanSet() {
			v.SetString(path + " " + text)
			*said = append(*said, path)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			filled(v.Elem(), text, path, said)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				filled(v.Field(i), text, path+v.Type().Field(i).Name, said)
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			filled(v.Index(i), text, path+strconv.Itoa(i), said)
		}
	}
}

func hostileColumns() []Column {
	cols := []Column{
		{Zone: "a", Films: []Film{{Class: "clear", Surface: Surface{Touched: []string{"x"}}, Face: Surface{Touched: []string{"x"}}, Marks: []Mark{{}}, OnTop: []Mark{{}}, Within: []Mark{{Will: true}}, Mil: 2}}},
		{Zone: "b", Parent: "a", Films: []Film{{Class: "color", Step: 3}}},
	}
	var said []string
	filled(reflect.ValueOf(&cols).Elem(), hostile, "", &said)
	return cols
}

func TestNoStringOfASheetCanBeMoreThanWordsInASection(t *testing.T) {
	cols := hostileColumns()
	for _, o := range []SVGOptions{{}, {Width: 330}, {Embedded: true, Bare: true}} {
		o.Title, o.IDPrefix, o.Notes = "title "+hostile, hostile, []string{"note " + hostile}
		svg := drawn(t, cols, o)
		all := harmless(t, svg)
		words := ""
		for _, e := range all {
			if e.name == "text" {
				words += e.text + "\n"
			}
		}
		flat := strings.ReplaceAll(strings.ReplaceAll(words, "\n", ""), " ", "")
		for _, want := range []string{"0Zone", "0Films0Name", "0Films0Text", "0Films0SurfaceTooth", "0Films0SurfaceTouched0", "0Films0FaceTooth", "0Films0FaceTouched0", "0Films0Marks0Label", "0Films0OnTop0Label", "0Films0Within0Label", "1Parent", "note"} {
			if !strings.Contains(flat, want) {
				t.Errorf("%s is not in the drawing at width %d", want, o.Width)
			}
		}
		if !strings.Contains(words, "<script>") {
			t.Error("the words of the sheet are not shown as they are")
		}
	}
	// A short name takes another way than one that is broken into lines.
	harmless(t, drawn(t, []Column{{Zone: "\x1b", Films: []Film{{Name: "a\x1b\u202e<b>", Class: "clear", Text: "\x07"}}}}, SVGOptions{Title: "\u2066"}))
	if got := Terminal(cols, TerminalOptions{}); strings.ContainsAny(got, "\x1b\x00\u202e\u2066") {
		t.Error("a control character reaches the terminal")
	}
	var b bytes.Buffer
	if err := PNG(&b, cols, SVGOptions{Title: hostile, Notes: []string{hostile}}, PNGOptions{Scale: 0.5}); err != nil {
		t.Errorf("no PNG of it can be drawn: %v", err)
	}
}

func TestNoStringOfASheetCanBeMoreThanWordsInAPlan(t *testing.T) {
	s := example(t, "bad/window-missed.toml")
	p := days(t, s)
	var said []string
	filled(reflect.ValueOf(&p.Steps).Elem(), hostile, "Steps", &said)
	filled(reflect.ValueOf(&p.Windows).Elem(), hostile, "Windows", &said)
	p.Title = hostile
	all := harmless(t, drawnDays(t, p, SVGOptions{Notes: []string{hostile}}))
	words := ""
	for _, e := range all {
		words += e.text
	}
	flat := strings.ReplaceAll(words, " ", "")
	for _, want := range []string{"Steps0What", "Steps0Zones0", "Windows0Film"} {
		if !strings.Contains(flat, want) {
			t.Errorf("%s is not in the drawing", want)
		}
	}
}

func TestADrawingTellsItselfToThoseWhoDoNotSeeIt(t *testing.T) {
	s := example(t, "bad/filler-over-etch.toml")
	p := days(t, s)
	for _, c := range []struct {
		svg  string
		says []string
	}{
		{drawn(t, s.columns, SVGOptions{Title: "The door", IDPrefix: "q-"}), []string{"Body filler L (body filler), step 4, 1.5 mm", "FAILS: Body filler L (body filler) lies on Etch 1", "tooth: P320"}},
		{drawnDays(t, p, SVGOptions{Title: "The door", IDPrefix: "q-"}), []string{"Step 4, spread Body filler L (body filler): starts", "Next film on"}},
	} {
		all := parsed(t, c.svg)
		root, title, desc := all[0], all[1], all[2]
		if root.attr["role"] != "img" || root.attr["aria-labelledby"] != "q-title" || root.attr["aria-describedby"] != "q-desc" {
			t.Errorf("the root is %v", root)
		}
		if title.name != "title" || title.attr["id"] != "q-title" || title.text != "The door" {
			t.Errorf("the title is %v", title)
		}
		if desc.name != "desc" || desc.attr["id"] != "q-desc" {
			t.Errorf("the description is %v", desc)
		}
		for _, want := range c.says {
			if !strings.Contains(desc.text, want) {
				t.Errorf("the description does not say %q: %s", want, desc.text)
			}
		}
	}
}

func TestSeveralDrawingsOnOnePageDoNotShareIDs(t *testing.T) {
	s := example(t, "bad/filler-over-etch.toml")
	ids := map[string]bool{}
	page := "<div>" + drawn(t, s.columns, SVGOptions{IDPrefix: "one ", Embedded: true}) + drawn(t, s.columns, SVGOptions{IDPrefix: "2", Embedded: true}) +
		drawnDays(t, days(t, s), SVGOptions{IDPrefix: "three-", Embedded: true}) + "</div>"
	for _, e := range parsed(t, page) {
		if id := e.attr["id"]; id != "" {
			if ids[id] {
				t.Errorf("the id %q comes twice", id)
			}
			if !regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_-]*$`).MatchString(id) {
				t.Errorf("%q is no id", id)
			}
			ids[id] = true
		}
	}
	for _, e := range parsed(t, page) {
		if fill, ok := strings.CutPrefix(e.attr["fill"], "url(#"); ok && !ids[strings.TrimSuffix(fill, ")")] {
			t.Errorf("a fill is %q, which nothing in the drawing is called", fill)
		}
	}
	if strings.Contains(page, "<?xml") {
		t.Error("an embedded drawing has an XML head")
	}
}

// num reads a coordinate.
func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

var steps = regexp.MustCompile(`([Ml])(-?[0-9.]+) (-?[0-9.]+)`)

// onPaper fails where a line or words of a drawing leave its paper.
func onPaper(t *testing.T, what, svg string) {
	t.Helper()
	all := parsed(t, svg)
	w, h := number(t, all[0].attr["width"]), number(t, all[0].attr["height"])
	for _, e := range all {
		if e.in == "pattern" {
			continue
		}
		x, y := 0.0, 0.0
		for _, m := range steps.FindAllStringSubmatch(e.attr["d"], -1) {
			if m[1] == "M" {
				x, y = 0, 0
			}
			if x, y = x+number(t, m[2]), y+number(t, m[3]); x < 0 || y < 0 || x > w || y > h {
				t.Errorf("%s at width %v: a line goes to %v, %v of %v by %v", what, w, x, y, w, h)
			}
		}
		if e.name != "text" {
			continue
		}
		x, size := number(t, e.attr["x"]), number(t, e.attr["font-size"])
		long := measure(e.text, size, e.attr["font-weight"] == "bold")
		if e.attr["text-anchor"] == "middle" {
			x -= long / 2
		}
		if y := number(t, e.attr["y"]); x < 0 || x+long > w || y-size < 0 || y > h {
			t.Errorf("%s at width %v: %q stands at %v to %v, %v of %v by %v", what, w, e.text, x, x+long, y, w, h)
		}
	}
}

func TestNothingIsDrawnBesideThePaper(t *testing.T) {
	for _, name := range examples() {
		s := example(t, name)
		p := days(t, s)
		for _, width := range []int{320, 420, 800} {
			onPaper(t, "section of "+name, drawn(t, s.columns, SVGOptions{Title: s.doc.Sheet.Title, Width: width}))
			onPaper(t, "days of "+name, drawnDays(t, p, SVGOptions{Width: width}))
		}
	}
}

// Sheets made up from seeds build what no shop would: cuts of cuts, dozens of
// films, waits without an end. Marks are put on every contact and film.
func TestAnySheetThatCanBeBuiltCanBeDrawn(t *testing.T) {
	for seed := range uint64(30) {
		name := fmt.Sprintf("the sheet of seed %d", seed)
		read, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "made-up.toml", []byte(generate.Sheet(seed, generate.Options{})))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		doc, problems := stack.Build(read)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		var marks []Mark
		for i, c := range doc.Contacts {
			label := "FAILS: " + c.UpperName + " lies on " + c.LowerName
			marks = append(marks, Mark{Contact: c.ID, Label: label, Will: i%2 == 0}, Mark{Film: c.Zone + "/" + c.Upper, Label: label}, Mark{Surface: c.Zone + "/" + c.Upper, Label: label})
		}
		s := seen{name: name, doc: doc, columns: Columns(doc, marks)}
		if left := Unseen(s.columns, nil); left != nil {
			t.Errorf("%s: marks out of nothing: %v", name, left)
		}
		svg, plan := drawn(t, s.columns, SVGOptions{Width: 500}), drawnDays(t, days(t, s), SVGOptions{Width: 700})
		harmless(t, svg)
		harmless(t, plan)
		onPaper(t, "section of "+name, svg)
		onPaper(t, "days of "+name, plan)
		for _, l := range strings.Split(Terminal(s.columns, TerminalOptions{ASCII: seed%2 == 0}), "\n") {
			if n := printable.Width(l); n > 80 {
				t.Errorf("%s: %d columns: %s", name, n, l)
			}
		}
	}
}

func TestNoFilmVanishesAndHeightsAreToScale(t *testing.T) {
	for _, c := range []struct {
		mil   float64
		want  float64
		short bool
	}{{0.02, thinnest, false}, {0.78, thinnest, false}, {2, 20, false}, {4, 40, false}, {60, thickest, true}, {0, thinnest, false}} {
		if h, short := heightOf(Film{Mil: c.mil}); h != c.want || short != c.short {
			t.Errorf("%v mil is drawn %v high, cut short %v; want %v, %v", c.mil, h, short, c.want, c.short)
		}
	}
	if note := scaleNote(); !strings.Contains(note, num(thinnest/perMil)+" mil") || !strings.Contains(note, num(thickest/perMil)+" mil is drawn short") {
		t.Errorf("the foot does not say so: %s", note)
	}
	// The tooth must not eat a thin film.
	for microns := 0.0; microns < 2000; microns += 7 {
		for _, p := range profile(0, 200, 100, Surface{Tooth: "grit blast", Microns: microns}) {
			if math.Abs(p.y-100) > thinnest/2 {
				t.Errorf("a scratch of %v µm is drawn %v deep", microns, p.y-100)
			}
		}
	}
}

func TestCoarserScratchIsDrawnDeeper(t *testing.T) {
	deep := func(microns float64) float64 {
		d := 0.0
		for _, p := range profile(0, 200, 0, Surface{Tooth: "x", Microns: microns}) {
			d = max(d, p.y)
		}
		return d
	}
	// Medians of P80, P180, P320, P800 by ISO 6344: 201, 82, 46.2, 21.8 µm.
	if grades := []float64{deep(201), deep(82), deep(46.2), deep(21.8)}; !slices.IsSortedFunc(grades, func(a, b float64) int { return int(math.Copysign(1, b-a)) }) || grades[3] >= grades[0] {
		t.Errorf("depths of P80, P180, P320, P800: %v", grades)
	}
	if flat := profile(0, 200, 5, Surface{}); len(flat) != 2 {
		t.Errorf("what nothing roughened is drawn with %d corners", len(flat))
	}
}

func TestEveryFilmAndItsNumberIsInTheSection(t *testing.T) {
	for _, name := range examples() {
		s := example(t, name)
		words := ""
		for _, e := range parsed(t, drawn(t, s.columns, SVGOptions{})) {
			words += e.text + " "
		}
		for _, c := range s.columns {
			for _, f := range c.Films {
				if !strings.Contains(words, f.Name) || !strings.Contains(words, f.Text) {
					t.Errorf("%s: %s, %s is not in the drawing", name, f.Name, f.Text)
				}
				if !f.Substrate && f.Known() && !(strings.Contains(f.Text, "mil") && (strings.Contains(f.Text, "µm") || strings.Contains(f.Text, "mm"))) {
					t.Errorf("%s: the film of %s is given as %q alone", name, f.Name, f.Text)
				}
			}
		}
	}
}

func TestEveryExampleThatFailsShowsWhere(t *testing.T) {
	for _, c := range []struct{ file, contact, says string }{
		{"bad/filler-over-etch.toml", "dent/4:body-filler", "filler-on-acid-primer"},
		{"bad/water-on-steel.toml", "panel/4:grey-epoxy", "water-on-bare-steel"},
		{"bad/window-missed.toml", "panel/6:seal-grey", "window-missed"},
		{"bad/surfacer-on-lacquer.toml", "panel/4:quick-surfacer", "strong-solvent-on-reversible"},
	} {
		s := example(t, c.file)
		found := false
		for _, col := range s.columns {
			for _, f := range col.Films {
				for _, m := range f.Marks {
					found = found || f.Contact == c.contact && strings.Contains(m.Label, c.says)
				}
			}
		}
		if !found {
			var have []string
			for _, m := range s.marks {
				have = append(have, m.Contact+m.Surface+m.Film+" "+m.Rule)
			}
			t.Errorf("%s: %s is not marked at %s; marked: %v", c.file, c.says, c.contact, have)
		}
	}
}

func TestASurfaceShowsWhatBecameOfItBeforeItIsCovered(t *testing.T) {
	whole := example(t, "bad/water-on-steel.toml")
	for _, c := range []struct {
		step          int
		tooth, touch  string
		water         bool
		marked, films int
	}{
		{1, "P80", "", false, 0, 1},                                          // sand
		{2, "P80", "waterborne cleaner", true, 1, 1},                         // clean with water
		{3, "P80", "waterborne cleaner, wax and grease remover", true, 1, 1}, // clean with solvent
		{4, "", "", false, 0, 2},                                             // epoxy over it: its own face
		{5, "P320", "", false, 0, 2},                                         // block
		{7, "P320", "wax and grease remover, tack", false, 0, 2},             // clean, tack
	} {
		doc := after(t, "bad/water-on-steel.toml", c.step)
		cols := Columns(doc, AsOf(whole.marks, whole.doc, c.step))
		top := cols[0].Films[0]
		if got := strings.Join(top.Face.Touched, ", "); top.Face.Tooth != c.tooth || got != c.touch || top.Face.Water != c.water || len(top.OnTop) != c.marked || len(cols[0].Films) != c.films {
			t.Errorf("after step %d the face is %+v with %d marks, of %d films", c.step, top.Face, len(top.OnTop), len(cols[0].Films))
		}
	}
}

// after is the stack of an example once a step is done.
func after(t *testing.T, name string, step int) *stack.Document {
	t.Helper()
	s := read(t, name)
	s.Steps = s.Steps[:step]
	doc, problems := stack.Build(s)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return doc
}

func TestWhatASurfaceMetAgainAndAgainIsSaidOnce(t *testing.T) {
	got := surfaceText("", Surface{Touched: []string{"a", "a", "b", "a", "c", "c", "c"}})
	if want := "met a twice, b, a, c 3 times"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestACutKeepsTheToothItsParentWasGiven(t *testing.T) {
	s := example(t, "good/spot-rub-through.toml")
	of := func(zone string) Film {
		for _, c := range s.columns {
			if c.Zone == zone {
				return c.Films[len(c.Films)-2]
			}
		}
		t.Fatalf("there is no zone %s", zone)
		return Film{}
	}
	parent, cut := of("spot"), of("rub-through")
	if cut.Tooth != "P80" || cut.Tooth != parent.Tooth || cut.Microns != parent.Microns {
		t.Errorf("under the first film the cut shows %q, its parent %q", cut.Tooth, parent.Tooth)
	}
}

// Labels keep their order, do not lie on each other, and where there is room
// stand where they point.
func TestLabelsAreSpreadWithoutTouching(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 30).Draw(t, "n")
		top := rapid.Float64Range(0, 50).Draw(t, "top")
		var labels []label
		at := top
		for range n {
			at += rapid.Float64Range(0, 40).Draw(t, "step")
			labels = append(labels, label{at: at, height: rapid.Float64Range(5, 60).Draw(t, "height")})
		}
		spread(labels, top)
		end := top
		for i, l := range labels {
			if l.top < end-1e-6 {
				t.Fatalf("label %d begins at %v, the one before ends at %v", i, l.top, end)
			}
			end = l.top + l.height
		}
	})
	far := []label{{at: 100, height: 10}, {at: 200, height: 10}, {at: 300, height: 10}}
	spread(far, 0)
	for _, l := range far {
		if want := l.at - bodySize*0.6; l.top != want {
			t.Errorf("a label with room stands at %v, not at %v", l.top, want)
		}
	}
}

func TestTheSameSheetGivesTheSameBytes(t *testing.T) {
	a, b := judge(t, "good/spot-rub-through.toml"), judge(t, "good/spot-rub-through.toml")
	if drawn(t, a.columns, SVGOptions{}) != drawn(t, b.columns, SVGOptions{}) {
		t.Error("two sections of one sheet differ")
	}
	if drawnDays(t, days(t, a), SVGOptions{}) != drawnDays(t, days(t, b), SVGOptions{}) {
		t.Error("two plans of one sheet differ")
	}
	var c, d bytes.Buffer
	if err := errors.Join(PNG(&c, a.columns, SVGOptions{}, PNGOptions{Scale: 0.5}), PNG(&d, b.columns, SVGOptions{}, PNGOptions{Scale: 0.5})); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(c.Bytes(), d.Bytes()) {
		t.Error("two PNG of one sheet differ")
	}
}

// The kept drawings were looked at in a browser, in color and in grey.
func TestTheDrawingsAreThoseThatWereLookedAt(t *testing.T) {
	for _, name := range []string{"bad/filler-over-etch.toml", "good/spot-rub-through.toml"} {
		s := example(t, name)
		base := strings.TrimSuffix(filepath.Base(name), ".toml")
		kept(t, base+".svg", drawn(t, s.columns, SVGOptions{Title: s.doc.Sheet.Title, IDPrefix: "section-"}))
		kept(t, base+"-days.svg", drawnDays(t, days(t, s), SVGOptions{IDPrefix: "clock-"}))
		kept(t, base+".txt", Terminal(s.columns, TerminalOptions{})+"\n"+Terminal(s.columns, TerminalOptions{ASCII: true, Columns: 38}))
	}
	var b bytes.Buffer
	if err := KeySVG(&b, SVGOptions{IDPrefix: "key-"}); err != nil {
		t.Fatal(err)
	}
	kept(t, "key.svg", b.String())
}

func kept(t *testing.T, name, got string) {
	t.Helper()
	file := filepath.Join("testdata", name)
	if *refresh {
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("%s is drawn otherwise; look at it and refresh it with -args -refresh", file)
	}
}

func TestAWriterThatFailsIsToldOf(t *testing.T) {
	if err := SVG(broken{}, nil, SVGOptions{}); err == nil {
		t.Error("a section was written to nowhere")
	}
	if err := PNG(broken{}, nil, SVGOptions{}, PNGOptions{}); err == nil {
		t.Error("a PNG was written to nowhere")
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, fmt.Errorf("the disk is full") }

func TestASectionWithoutZonesSaysSo(t *testing.T) {
	if svg := drawn(t, nil, SVGOptions{}); !strings.Contains(svg, "There is no zone to draw.") {
		t.Error(svg)
	}
	if w := printable.Width(Terminal(nil, TerminalOptions{})); w == 0 {
		t.Error("the terminal says nothing")
	}
}
