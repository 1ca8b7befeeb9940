package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
	"strings"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"

	"guidecoat/internal/printable"
)

// PNGOptions says how a drawing is made into dots.
type PNGOptions struct {
	// Scale is how many dots stand for a pixel of the drawing, along each side; 0 is 2.
	Scale float64
	// Progress, where there is one, is told how much of the drawing is done.
	Progress func(done, of int)
}

// MostDots is how many dots a PNG may have: 40 million, 160 MB while it is drawn.
const MostDots = 40_000_000

// TooLargeError is that a PNG would have more than MostDots.
type TooLargeError struct{ Width, Height float64 }

func (e *TooLargeError) Error() string {
	return fmt.Sprintf("the drawing would be %.0f by %.0f dots, which is more than %d million", e.Width, e.Height, MostDots/1_000_000)
}

// PNG draws what SVG draws, as dots on white, with the program's own typeface.
// Characters that it lacks are shown as <U+XXXX>. The error is a
// *TooLargeError or the writer's; nothing is written where there is one.
func PNG(w io.Writer, columns []Column, o SVGOptions, dots PNGOptions) error {
	o.Title = drawable(o.Title)
	o.Notes = drawables(o.Notes)
	img, err := rasterize(drawSection(drawableColumns(columns), o), dots)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		return err
	}
	_, err = w.Write(b.Bytes())
	return err
}

// drawable spells out the characters that the bundled typeface lacks.
func drawable(s string) string {
	s = printable.Visible(s)
	var buf sfnt.Buffer
	has := func(r rune) bool {
		i, err := typeface(false).GlyphIndex(&buf, r)
		return err == nil && i != 0
	}
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == ' ' || has(r):
			b.WriteRune(r)
		case r >= 0x2400 && r <= 0x2421: // a picture of a control character
			fmt.Fprintf(&b, "<U+%04X>", controlOf(r))
		default:
			fmt.Fprintf(&b, "<U+%04X>", r)
		}
	}
	return b.String()
}

// controlOf is the control character that a control picture stands for.
func controlOf(r rune) rune {
	if r == 0x2421 {
		return 0x7f
	}
	return r - 0x2400
}

func drawables(list []string) []string {
	var out []string
	for _, s := range list {
		out = append(out, drawable(s))
	}
	return out
}

// drawableColumns is columns with every string fit for the bundled typeface.
func drawableColumns(columns []Column) []Column {
	out := make([]Column, len(columns))
	marked := func(ms []Mark) []Mark {
		var to []Mark
		for _, m := range ms {
			m.Label = drawable(m.Label)
			to = append(to, m)
		}
		return to
	}
	for i, c := range columns {
		c.Zone, c.Area, c.Parent = drawable(c.Zone), drawable(c.Area), drawable(c.Parent)
		films := make([]Film, len(c.Films))
		for j, f := range c.Films {
			f.Name, f.Text = drawable(f.Name), drawable(f.Text)
			for _, of := range []*Surface{&f.Surface, &f.Face} {
				of.Tooth, of.Touched = drawable(of.Tooth), drawables(of.Touched)
			}
			f.Marks, f.OnTop, f.Within = marked(f.Marks), marked(f.OnTop), marked(f.Within)
			films[j] = f
		}
		c.Films = films
		out[i] = c
	}
	return out
}

// raster is a drawing being made into dots.
type raster struct {
	img   *image.RGBA
	scale float64
	z     *vector.Rasterizer
	faces map[faceKey]font.Face
}

type faceKey struct {
	size float64
	bold bool
}

func rasterize(d *drawing, o PNGOptions) (*image.RGBA, error) {
	scale := o.Scale
	if scale == 0 {
		scale = 2
	}
	w, h := math.Ceil(d.width*scale), math.Ceil(d.height*scale)
	if !(w*h <= MostDots) || w < 1 || h < 1 {
		return nil, &TooLargeError{w, h}
	}
	r := &raster{img: image.NewRGBA(image.Rect(0, 0, int(w), int(h))), scale: scale, z: &vector.Rasterizer{}, faces: map[faceKey]font.Face{}}
	draw.Draw(r.img, r.img.Bounds(), uniform(white), image.Point{}, draw.Src)
	for i, it := range d.items {
		if o.Progress != nil {
			o.Progress(i, len(d.items))
		}
		if it.words != "" {
			if err := r.write(it); err != nil {
				return nil, err
			}
			continue
		}
		if it.fill != nil {
			for _, p := range it.paths {
				r.fill(p, it.fill)
			}
		}
		if it.weight > 0 {
			var all []path
			for _, p := range it.paths {
				for _, piece := range dashes(p, it.dash) {
					all = append(all, strokes(piece, it.closed, it.weight)...)
				}
			}
			r.paint(all, uniform(it.line))
		}
	}
	if o.Progress != nil {
		o.Progress(len(d.items), len(d.items))
	}
	return r.img, nil
}

func (c ink) color() color.RGBA { return color.RGBA{c.r, c.g, c.b, 0xff} }

func uniform(c ink) image.Image { return image.NewUniform(c.color()) }

// bounds is the smallest box of dots around shapes, within the picture.
func (r *raster) bounds(shapes []path) image.Rectangle {
	lo, hi := point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	for _, s := range shapes {
		for _, p := range s {
			lo = point{min(lo.x, p.x), min(lo.y, p.y)}
			hi = point{max(hi.x, p.x), max(hi.y, p.y)}
		}
	}
	if lo.x > hi.x {
		return image.Rectangle{}
	}
	box := image.Rect(int(math.Floor(lo.x*r.scale)), int(math.Floor(lo.y*r.scale)), int(math.Ceil(hi.x*r.scale)), int(math.Ceil(hi.y*r.scale)))
	return box.Intersect(r.img.Bounds())
}

// outline lays shapes into the rasterizer, the corner of box at its origin.
func (r *raster) outline(shapes []path, box image.Rectangle) {
	r.z.Reset(box.Dx(), box.Dy())
	at := func(p point) (x, y float32) {
		return float32(p.x*r.scale - float64(box.Min.X)), float32(p.y*r.scale - float64(box.Min.Y))
	}
	for _, s := range shapes {
		if len(s) < 3 {
			continue
		}
		r.z.MoveTo(at(s[0]))
		for _, p := range s[1:] {
			r.z.LineTo(at(p))
		}
		r.z.ClosePath()
	}
}

// paint fills shapes, all wound the same way, from src.
func (r *raster) paint(shapes []path, src image.Image) {
	box := r.bounds(shapes)
	if box.Empty() {
		return
	}
	r.outline(shapes, box)
	r.z.Draw(r.img, box, src, image.Point{})
}

// fill fills one shape with a hatch.
func (r *raster) fill(p path, h *hatch) {
	if !h.patterned() {
		r.paint([]path{p}, uniform(h.ground))
		return
	}
	box := r.bounds([]path{p})
	if box.Empty() {
		return
	}
	// The hatch over the whole box, then that through the shape.
	ground := &raster{img: image.NewRGBA(box), scale: r.scale, z: r.z}
	draw.Draw(ground.img, box, uniform(h.ground), image.Point{}, draw.Src)
	ground.z.Reset(box.Dx(), box.Dy())
	var shapes []path
	x0, y0 := float64(box.Min.X)/r.scale, float64(box.Min.Y)/r.scale
	x1, y1 := float64(box.Max.X)/r.scale, float64(box.Max.Y)/r.scale
	for j := math.Floor(y0 / h.h); j*h.h < y1; j++ {
		for i := math.Floor(x0 / h.w); i*h.w < x1; i++ {
			shapes = append(shapes, h.tile(i*h.w, j*h.h)...)
		}
	}
	ground.outline(shapes, box)
	ground.z.Draw(ground.img, box, uniform(h.marks), image.Point{})
	r.outline([]path{p}, box)
	r.z.Draw(r.img, box, ground.img, box.Min)
}

// tile is the strokes of one tile of a hatch as shapes, wound so that they can
// be filled together. They are cut off at its edges, as those of its neighbors are.
func (h *hatch) tile(x, y float64) []path {
	var out []path
	for _, l := range h.lines {
		s := segment(point{x + l.from.x, y + l.from.y}, point{x + l.to.x, y + l.to.y}, l.weight)
		if s = within(s, x, y, x+h.w, y+h.h); len(s) > 2 {
			out = append(out, s)
		}
	}
	for _, d := range h.dots {
		out = append(out, wound(circle(x+d.at.x, y+d.at.y, d.r+d.weight/2)))
		if d.weight > 0 { // a ring: the inner circle, wound the other way, is taken out
			out = append(out, turned(wound(circle(x+d.at.x, y+d.at.y, d.r-d.weight/2))))
		}
	}
	return out
}

// within is what of a convex shape lies in a box: Sutherland and Hodgman's
// clipping, edge by edge.
func within(p path, x0, y0, x1, y1 float64) path {
	type side struct {
		inside func(point) bool
		at     func(a, b point) point
	}
	atX := func(x float64) func(a, b point) point {
		return func(a, b point) point { return along(a, b, (x-a.x)/(b.x-a.x)) }
	}
	atY := func(y float64) func(a, b point) point {
		return func(a, b point) point { return along(a, b, (y-a.y)/(b.y-a.y)) }
	}
	for _, s := range []side{
		{func(p point) bool { return p.x >= x0 }, atX(x0)}, {func(p point) bool { return p.x <= x1 }, atX(x1)},
		{func(p point) bool { return p.y >= y0 }, atY(y0)}, {func(p point) bool { return p.y <= y1 }, atY(y1)},
	} {
		var out path
		for i, b := range p {
			a := p[(i+len(p)-1)%len(p)]
			if s.inside(a) != s.inside(b) {
				out = append(out, s.at(a, b))
			}
			if s.inside(b) {
				out = append(out, b)
			}
		}
		p = out
	}
	return p
}

// dashes cuts an open line into dashes, each so long, with gaps as long
// between; 0 leaves it whole.
func dashes(p path, dash float64) []path {
	if dash <= 0 {
		return []path{p}
	}
	var all []path
	var piece path
	left, on := dash, true
	for i := 0; i+1 < len(p); i++ {
		from, to := p[i], p[i+1]
		length := math.Hypot(to.x-from.x, to.y-from.y)
		for t := 0.0; t < length; {
			end := min(length, t+left)
			if on {
				if len(piece) == 0 {
					piece = path{along(from, to, t/length)}
				}
				piece = append(piece, along(from, to, end/length))
			}
			left -= end - t
			t = end
			if left <= 1e-9 {
				if on {
					all = append(all, piece)
				}
				piece, left, on = nil, dash, !on
			}
		}
	}
	if len(piece) > 1 {
		all = append(all, piece)
	}
	return all
}

// strokes is a line of some weight as shapes to be filled, all wound the same
// way: a bar for each piece, and a disc where two meet.
func strokes(p path, closed bool, weight float64) []path {
	var out []path
	n := len(p)
	pieces := n - 1
	if closed {
		pieces = n
	}
	for i := range pieces {
		if s := segment(p[i], p[(i+1)%n], weight); s != nil {
			out = append(out, s)
		}
		if weight >= 1 && (closed || i > 0) {
			out = append(out, wound(circle(p[i].x, p[i].y, weight/2)))
		}
	}
	return out
}

// segment is one straight piece of a line of some weight; nil for none.
func segment(a, b point, weight float64) path {
	length := math.Hypot(b.x-a.x, b.y-a.y)
	if length == 0 {
		return nil
	}
	nx, ny := -(b.y-a.y)/length*weight/2, (b.x-a.x)/length*weight/2
	return wound(path{{a.x + nx, a.y + ny}, {b.x + nx, b.y + ny}, {b.x - nx, b.y - ny}, {a.x - nx, a.y - ny}})
}

// wound turns a shape so that its corners run one way: shapes wound against
// each other would cancel where they overlap.
func wound(p path) path {
	twice := 0.0
	for i, b := range p {
		a := p[(i+len(p)-1)%len(p)]
		twice += a.x*b.y - b.x*a.y
	}
	if twice >= 0 {
		return p
	}
	return turned(p)
}

// turned is a shape wound the other way.
func turned(p path) path {
	out := make(path, len(p))
	for i := range p {
		out[i] = p[len(p)-1-i]
	}
	return out
}

// write draws a line of words.
func (r *raster) write(it item) error {
	key := faceKey{it.size, it.bold}
	face := r.faces[key]
	if face == nil {
		var err error
		face, err = opentype.NewFace(typeface(it.bold), &opentype.FaceOptions{Size: it.size * r.scale, DPI: 72, Hinting: font.HintingNone})
		if err != nil {
			return fmt.Errorf("the bundled typeface cannot be drawn: %w", err)
		}
		r.faces[key] = face
	}
	pen := font.Drawer{Dst: r.img, Src: uniform(it.line), Face: face}
	x := it.at.x * r.scale
	switch it.anchor {
	case fromMiddle:
		x -= float64(pen.MeasureString(it.words)) / 64 / 2
	case fromRight:
		x -= float64(pen.MeasureString(it.words)) / 64
	}
	pen.Dot = fixed.Point26_6{X: fixed.Int26_6(math.Round(x * 64)), Y: fixed.Int26_6(math.Round(it.at.y * r.scale * 64))}
	pen.DrawString(it.words)
	return nil
}
