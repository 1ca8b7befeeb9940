package picture

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"guidecoat/internal/printable"
)

// How a section is drawn to scale: heights in pixels. The foot of every
// drawing says the same in words.
const (
	perMil   = 10.0  // a mil of film
	thinnest = 12.0  // no film is drawn thinner than this
	thickest = 100.0 // a film that would be thicker is drawn with a break
	metal    = 30.0  // the substrate, whose thickness nobody asks for
)

const (
	margin   = 16.0
	bodySize = 13.0
	noteSize = 11.5
)

// heightOf is how high a film is drawn, and whether it is cut short.
func heightOf(f Film) (h float64, short bool) {
	switch {
	case f.Substrate:
		return metal, false
	case f.Mil*perMil > thickest:
		return thickest, true
	}
	return max(thinnest, f.Mil*perMil), false
}

// drawSection lays out the section of all columns.
func drawSection(columns []Column, o SVGOptions) *drawing {
	d := &drawing{width: o.width(), title: o.Title, desc: describe(columns)}
	if d.title == "" {
		d.title = "The films in section"
	}
	s := &sectioner{drawing: d, inner: o.width() - 2*margin}
	y := margin
	if !o.Bare {
		y = s.paragraph(margin, y, s.inner, d.title, 16, true, black) + 4
	}
	if len(columns) > 1 && float64(len(columns))*minAcross <= s.inner {
		y = s.across(y, columns) + 10
	}
	for _, c := range columns {
		y = s.column(y, c) + 16
	}
	if len(columns) == 0 {
		y = s.paragraph(margin, y, s.inner, "There is no zone to draw.", bodySize, false, black)
	}
	if !o.Bare {
		y = s.key(y, rolesOf(columns))
		y = s.notes(y)
	}
	for _, note := range o.Notes {
		y = s.paragraph(margin, y+2, s.inner, note, noteSize, false, black)
	}
	d.height = math.Ceil(y + margin/2)
	return d
}

// drawKey is the key alone, of every fill.
func drawKey(o SVGOptions) *drawing {
	d := &drawing{width: o.width(), title: o.Title, desc: "What the fills and signs of the sections stand for."}
	if d.title == "" {
		d.title = "Key to the sections"
	}
	s := &sectioner{drawing: d, inner: o.width() - 2*margin}
	all := make([]role, roleCount)
	for i := range all {
		all[i] = role(i)
	}
	y := margin
	if !o.Bare {
		y = s.paragraph(margin, y, s.inner, d.title, 16, true, black) + 4
	}
	d.height = math.Ceil(s.notes(s.key(y, all)) + margin/2)
	return d
}

func rolesOf(columns []Column) []role {
	var used [roleCount]bool
	for _, c := range columns {
		for _, f := range c.Films {
			used[roleOf(f)] = true
		}
	}
	var out []role
	for r, is := range used {
		if is {
			out = append(out, role(r))
		}
	}
	return out
}

type sectioner struct {
	*drawing
	inner float64
}

// label is what stands beside a place of the bar.
type label struct {
	at     float64 // the height it points to
	top    float64
	height float64
	draw   func(x, y, width float64)
	heavy  bool // its leader is drawn heavy
}

// column draws one zone: its films as a bar, and the words beside it.
func (s *sectioner) column(y float64, c Column) float64 {
	y = s.paragraph(margin, y, s.inner, headOf(c), 14, true, black) + 6
	if len(c.Films) > 0 && c.Films[0].Face.Water {
		y += 8 // for the drop
	}
	bar := min(max(s.inner*0.28, 84), 250)
	left := margin
	right := left + bar
	words := right + 30
	width := s.width - margin - words

	top := y
	across := detailsAt(c.Films, width)
	var labels []label
	contacts := make([]float64, len(c.Films)) // heights of the lower edges
	h := top
	for i, f := range c.Films {
		tall, _ := heightOf(f)
		if l, ok := s.surfaceLabel("open face, ", f.Face, h, width); ok {
			labels = append(labels, l)
		}
		for _, m := range f.OnTop {
			labels = append(labels, s.markLabel(m, h, width))
		}
		labels = append(labels, s.filmLabel(f, h+tall/2, across, width))
		for _, m := range f.Within {
			labels = append(labels, s.markLabel(m, h+tall/2, width))
		}
		h += tall
		contacts[i] = h
		if f.Substrate {
			continue
		}
		if l, ok := s.surfaceLabel("", f.Surface, h, width); ok {
			labels = append(labels, l)
		}
		for _, m := range f.Marks {
			labels = append(labels, s.markLabel(m, h, width))
		}
	}
	s.bar(left, right, top, c, contacts)
	spread(labels, top)
	bottom := h
	for _, l := range labels {
		first := l.top + bodySize*0.6
		weight, line := 0.8, grey
		if l.heavy {
			weight, line = 1.8, danger
		}
		s.stroke(path{{right, l.at}, {right + 8, l.at}, {words - 8, first}, {words - 4, first}}, line, weight)
		l.draw(words, l.top, width)
		bottom = max(bottom, l.top+l.height)
	}
	return bottom
}

func headOf(c Column) string {
	head := "zone " + c.Zone
	if c.Area != "" {
		head += ", " + c.Area
	}
	if c.Parent != "" {
		head += fmt.Sprintf(", cut from %s at step %d", c.Parent, c.CutStep)
	}
	return head
}

// bar draws the films of a zone between two edges, each down to the profile of
// what it lies on.
func (s *sectioner) bar(left, right, top float64, c Column, contacts []float64) {
	upper := path{{left, top}, {right, top}}
	if len(c.Films) > 0 {
		upper = profile(left, right, top, c.Films[0].Face)
	}
	face := upper
	y := top
	for i, f := range c.Films {
		lower := profile(left, right, contacts[i], f.Surface)
		if f.Substrate {
			lower = tear(left, right, contacts[i])
		}
		shape := append(path{}, upper...)
		for j := len(lower) - 1; j >= 0; j-- {
			shape = append(shape, lower[j])
		}
		s.area(shape, hatches[roleOf(f)], black, 1)
		if _, short := heightOf(f); short {
			s.breakMark(left, right, (y+contacts[i])/2)
		}
		upper, y = lower, contacts[i]
	}
	s.stroke(face, black, 1.6)
	for i, f := range c.Films {
		// Signs of contacts that lie close stand beside each other.
		shift := 0.06 * float64(2*(i%2)-1)
		s.signs(profile(left, right, contacts[i], f.Surface), contacts[i], shift, f.Marks)
		tall, _ := heightOf(f)
		if len(f.Within) > 0 {
			s.sign(left+(right-left)*(0.35-shift), contacts[i]-tall/2, certain(f.Within))
		}
		if len(f.OnTop) > 0 {
			s.signs(path{{left, contacts[i] - tall}, {right, contacts[i] - tall}}, contacts[i]-tall, -shift, f.OnTop)
		}
		if f.Water {
			s.drop(left+12, contacts[i]-1)
		}
		if f.Face.Water {
			s.drop(left+12, top-1)
		}
	}
}

// tear is a ragged edge: what is drawn goes on beyond it.
func tear(left, right, y float64) path {
	const step, rise = 7.0, 3.0
	var p path
	up := -rise
	for x := left; ; x += step {
		x = min(x, right)
		p = append(p, point{x, y + up})
		up = -up
		if x >= right {
			return p
		}
	}
}

// breakMark is the gap of a film that is drawn shorter than it is.
func (s *sectioner) breakMark(left, right, y float64) {
	const gap = 5.0
	a, b := tear(left, right, y-gap/2), tear(left, right, y+gap/2)
	shape := append(path{}, a...)
	for i := len(b) - 1; i >= 0; i-- {
		shape = append(shape, b[i])
	}
	s.area(shape, plain(white), white, 0.5)
	s.stroke(a, black, 1)
	s.stroke(b, black, 1)
}

// profile is the line a film and what is under it share, from left to right:
// level where nothing roughened it, teeth where paper did, ragged where a
// blast did. Coarser is drawn deeper; depth is not to scale, and never eats
// more of a film than the thinnest has.
func profile(left, right, y float64, of Surface) path {
	if of.Tooth == "" {
		return path{{left, y}, {right, y}}
	}
	depth := 3.0
	if of.Microns > 0 {
		// from 10 µm (about P1500) to 250 µm (about P60) the depth grows evenly with each grade
		depth = 1.6 + 4.4*min(max(math.Log(of.Microns/10)/math.Log(25), 0), 1)
	}
	pitch := 2.4 + depth
	ragged := strings.Contains(of.Tooth, "blast")
	seed := uint32(2463534242)
	p := path{{left, y}}
	down := true
	for x := left + pitch/2; x < right-1; x += pitch / 2 {
		d := depth / 2
		if ragged { // a fixed row of chance numbers, the same for every drawing
			seed ^= seed << 13
			seed ^= seed >> 17
			seed ^= seed << 5
			d *= 0.3 + 1.1*float64(seed%1000)/1000
		}
		if !down {
			d = -d
		}
		down = !down
		p = append(p, point{x, y + d})
	}
	return append(p, point{right, y})
}

// drop is the sign of water at a contact.
func (s *sectioner) drop(x, y float64) {
	const r = 4.6
	p := path{{x, y - 10}}
	for i := 0; i <= 12; i++ {
		sin, cos := math.Sincos(math.Pi * (-0.12 + 1.24*float64(i)/12))
		p = append(p, point{x + r*cos, y - 0.5 + r*sin})
	}
	s.area(p, plain(white), black, 1.3)
}

// signs draws marks on a line: it heavy, and their sign on it.
func (s *sectioner) signs(p path, y, shift float64, marks []Mark) {
	if len(marks) == 0 {
		return
	}
	will := certain(marks)
	s.stroke(p, white, 4.6)
	if will {
		s.stroke(p, danger, 2.4)
	} else {
		s.broken(p, 6, danger, 2.4)
	}
	left, right := p[0].x, p[len(p)-1].x
	for _, at := range []float64{0.2, 0.5, 0.8} {
		s.sign(left+(right-left)*(at+shift), y, will)
	}
}

// certain: one of the marks is.
func certain(marks []Mark) bool {
	return slices.ContainsFunc(marks, func(m Mark) bool { return m.Will })
}

// sign is a cross in a ring for what will happen, a question mark for what may.
func (s *sectioner) sign(x, y float64, will bool) {
	s.area(circle(x, y, 6.5), plain(white), danger, 1.5)
	if will {
		s.stroke(path{{x - 3, y - 3}, {x + 3, y + 3}}, danger, 2)
		s.stroke(path{{x - 3, y + 3}, {x + 3, y - 3}}, danger, 2)
		return
	}
	s.write(point{x, y + 4}, "?", 11, true, fromMiddle, danger)
}

// apart is the least room between a name and what is said beside it.
const apart = 12.0

// detailsAt is where, right of the names, what is said of the films begins, so
// that most of it stands in a column.
func detailsAt(films []Film, width float64) float64 {
	name := 0.0
	for _, f := range films {
		if n := measure(f.Name, bodySize, true) + apart; n > name && n+measure(filmDetails(f), bodySize, false) <= width {
			name = n
		}
	}
	return name
}

// filmLabel names a film and says how thick it is: in the column beside the
// names, where that has no room right behind its name, else under it.
func (s *sectioner) filmLabel(f Film, at, across, width float64) label {
	details := filmDetails(f)
	name, long := measure(f.Name, bodySize, true)+apart, measure(details, bodySize, false)
	if across+long > width {
		across = name
	}
	if name <= across && across+long <= width || details == "" && name <= width {
		return label{at: at, height: bodySize*leading + 1, draw: func(x, y, _ float64) {
			s.write(point{x, y + bodySize}, f.Name, bodySize, true, fromLeft, black)
			s.write(point{x + across, y + bodySize}, details, bodySize, false, fromLeft, black)
		}}
	}
	n := len(wrap(f.Name, width, bodySize, true)) + len(wrap(details, width, bodySize, false))
	return label{at: at, height: float64(n)*bodySize*leading + 1, draw: func(x, y, width float64) {
		y = s.paragraph(x, y, width, f.Name, bodySize, true, black)
		s.paragraph(x, y, width, details, bodySize, false, black)
	}}
}

// filmDetails is what is said of a film beside its name.
func filmDetails(f Film) string {
	var said []string
	if step := stepText(f); step != "" {
		said = append(said, step)
	}
	if f.Text != "" {
		said = append(said, f.Text)
	}
	if f.Assumed {
		said = append(said, "assumed")
	}
	if f.Fades {
		said = append(said, "fades out here")
	}
	return strings.Join(said, ", ")
}

// surfaceLabel says what became of a face: its tooth, and what it met.
func (s *sectioner) surfaceLabel(which string, of Surface, at, width float64) (label, bool) {
	words := surfaceText(toothNamed, of)
	if words == "" {
		return label{}, false
	}
	words = which + words
	n := len(wrap(words, width, noteSize, false))
	return label{at: at, height: float64(n) * noteSize * leading, draw: func(x, y, width float64) {
		s.paragraph(x, y, width, words, noteSize, false, grey)
	}}, true
}

const toothNamed = "tooth: "

// counted are the words of a list, with those that come again and again in a
// row said once: "tack", "degreaser twice", "degreaser 3 times".
func counted(list []string) []string {
	var out []string
	for i := 0; i < len(list); {
		n := 1
		for i+n < len(list) && list[i+n] == list[i] {
			n++
		}
		switch n {
		case 1:
			out = append(out, list[i])
		case 2:
			out = append(out, list[i]+" twice")
		default:
			out = append(out, fmt.Sprintf("%s %d times", list[i], n))
		}
		i += n
	}
	return out
}

// surfaceText is what a face was roughened with, behind its name, and what it met.
func surfaceText(tooth string, of Surface) string {
	var said []string
	if of.Tooth != "" {
		said = append(said, tooth+of.Tooth)
	}
	if len(of.Touched) > 0 {
		said = append(said, "met "+strings.Join(counted(of.Touched), ", "))
	}
	return strings.Join(said, "; ")
}

func (s *sectioner) markLabel(m Mark, at, width float64) label {
	const sign = 20
	n := len(wrap(m.Label, width-sign, bodySize, true))
	return label{at: at, heavy: true, height: float64(n)*bodySize*leading + 2, draw: func(x, y, width float64) {
		s.sign(x+7, y+bodySize*0.6, m.Will)
		s.paragraph(x+sign, y, width-sign, m.Label, bodySize, true, danger)
	}}
}

// spread moves labels as little as can be so that none lies on another and
// none above the top: blocks of labels that touch lie about the middle of
// where they want to be.
func spread(labels []label, top float64) {
	type run struct {
		first, last int
		y, height   float64 // top and height of the whole block
		want        float64 // sum of wanted tops less the offsets within the block
	}
	var runs []run
	for i := range labels {
		want := labels[i].at - bodySize*0.6
		r := run{first: i, last: i, height: labels[i].height, want: want}
		r.y = max(top, want)
		for len(runs) > 0 {
			before := runs[len(runs)-1]
			if before.y+before.height <= r.y {
				break
			}
			n := float64(r.last - r.first + 1)
			r = run{first: before.first, last: r.last, height: before.height + r.height, want: before.want + r.want - n*before.height}
			r.y = max(top, r.want/float64(r.last-r.first+1))
			runs = runs[:len(runs)-1]
		}
		runs = append(runs, r)
	}
	for _, r := range runs {
		y := r.y
		for i := r.first; i <= r.last; i++ {
			labels[i].top = y
			y += labels[i].height
		}
	}
}

const minAcross = 56.0 // least width of a zone in the picture of the whole panel

// across draws all zones side by side on one substrate, so that a cut shows as
// the step it makes.
func (s *sectioner) across(y float64, columns []Column) float64 {
	y = s.paragraph(margin, y, s.inner, "The panel across", 14, true, black) + 4
	tallest := 0.0
	for _, c := range columns {
		tallest = max(tallest, heightOfAll(c))
	}
	each := s.inner / float64(len(columns))
	floor := y + tallest
	bottom := floor
	for i, c := range nested(columns) {
		left := margin + float64(i)*each
		right := left + each
		top := floor - heightOfAll(c)
		contacts := make([]float64, len(c.Films))
		h := top
		for j, f := range c.Films {
			tall, _ := heightOf(f)
			h += tall
			contacts[j] = h
		}
		s.bar(left, right, top, c, contacts)
		words := c.Zone
		if c.Parent != "" {
			words += fmt.Sprintf(" (cut, step %d)", c.CutStep)
		}
		end := floor + 4
		for _, l := range wrap(words, each-6, noteSize, false) {
			s.write(point{left + each/2, end + noteSize}, l, noteSize, false, fromMiddle, black)
			end += noteSize * leading
		}
		bottom = max(bottom, end)
	}
	return bottom
}

func heightOfAll(c Column) float64 {
	h := 0.0
	for _, f := range c.Films {
		tall, _ := heightOf(f)
		h += tall
	}
	return h
}

// nested puts each cut right after the zone it was cut from.
func nested(columns []Column) []Column {
	known := map[string]bool{}
	for _, c := range columns {
		known[c.Zone] = true
	}
	cuts := map[string][]Column{}
	var out []Column
	var follow func(c Column)
	follow = func(c Column) {
		out = append(out, c)
		for _, cut := range cuts[c.Zone] {
			follow(cut)
		}
	}
	for _, c := range columns {
		if known[c.Parent] && c.Parent != c.Zone {
			cuts[c.Parent] = append(cuts[c.Parent], c)
		}
	}
	for _, c := range columns {
		if !known[c.Parent] || c.Parent == c.Zone {
			follow(c)
		}
	}
	return out
}

// key draws a swatch for each fill.
func (s *sectioner) key(y float64, roles []role) float64 {
	s.stroke(path{{margin, y}, {margin + s.inner, y}}, pale, 1)
	k := &legend{drawing: s.drawing, left: margin, right: margin + s.inner, x: margin, y: y + 8}
	for _, r := range roles {
		k.put(28, roleNames[r], func(x, y float64) { s.area(rectangle(x, y, 28, 14), hatches[r], black, 1) })
	}
	return k.end()
}

// notes says how the drawing is to be read.
func (s *sectioner) notes(y float64) float64 {
	k := &legend{drawing: s.drawing, left: margin, right: margin + s.inner, x: margin, y: y}
	k.put(8, "2 mil (51 µm)", func(x, y float64) {
		top := y + 7 - perMil
		s.stroke(path{{x + 4, top}, {x + 4, top + 2*perMil}}, black, 1.4)
		for i := range 3 {
			s.stroke(path{{x, top + float64(i)*perMil}, {x + 8, top + float64(i)*perMil}}, black, 1.4)
		}
	})
	k.put(14, "will come", func(x, y float64) { s.sign(x+7, y+7, true) })
	k.put(14, "may come", func(x, y float64) { s.sign(x+7, y+7, false) })
	k.put(12, "met water", func(x, y float64) { s.drop(x+6, y+10) })
	y = k.end()
	return s.paragraph(margin, y, s.inner, scaleNote(), noteSize, false, grey)
}

func scaleNote() string {
	return fmt.Sprintf("Films are to scale, except that none is drawn thinner than %s mil, and one thicker than %s mil is drawn short, with a break across it; "+
		"the middle of what is left is drawn, and the number beside tells the truth. "+
		"\"Assumed\" means that nobody wrote how much, and the film of the card, or what is usual of its kind, stands in. "+
		"Teeth show what roughened a surface, coarser deeper, not to scale; the substrate is not to scale. "+
		"Nothing here says that the work is safe.", num(thinnest/perMil), num(thickest/perMil))
}

// describe tells the section in words, for those who do not see it.
func describe(columns []Column) string {
	var b strings.Builder
	for i, c := range columns {
		if i > 0 {
			b.WriteString(" ")
		}
		b.WriteString(strings.ToUpper(headOf(c)[:1]) + headOf(c)[1:] + ", from the top:")
		for j, f := range c.Films {
			if j > 0 {
				b.WriteString(";")
			}
			b.WriteString(" " + f.Name)
			if details := filmDetails(f); details != "" {
				b.WriteString(", " + details)
			}
			if face := surfaceText(toothNamed, f.Face); face != "" {
				b.WriteString(" (its open face, " + face + ")")
			}
			if on := surfaceText(toothNamed, f.Surface); on != "" {
				b.WriteString(" (beneath it, " + on + ")")
			}
			for _, m := range f.allMarks() {
				b.WriteString(" [" + m.Label + "]")
			}
		}
		b.WriteString(".")
	}
	return printable.Visible(b.String())
}
