package picture

import (
	"math"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"guidecoat/internal/printable"
)

// drawing is a finished picture: plain shapes and words in the order they are
// laid, in units of a CSS pixel (1/96 in), y downwards. Each backend writes it
// and adds nothing of its own, so that all of them show the same.
type drawing struct {
	width, height float64
	title, desc   string // for those who do not see it
	items         []item
}

// item is a shape, or words; one of the two.
type item struct {
	paths  []path // one shape, or several lines
	closed bool
	fill   *hatch  // nil: not filled
	line   ink     // of the outline
	weight float64 // width of the outline; 0 for none
	dash   float64 // length of the dashes of the outline, and of the gaps between; 0 for a line without

	words  string
	at     point // left end of the base line, or its middle or right end
	size   float64
	bold   bool
	anchor anchor
}

type point struct{ x, y float64 }

type path []point

type anchor int

const (
	fromLeft anchor = iota
	fromMiddle
	fromRight
)

// ink is a color, 8 bits of red, green and blue.
type ink struct{ r, g, b uint8 }

var (
	black  = ink{0x1a, 0x1a, 0x1a}
	grey   = ink{0x55, 0x55, 0x55}
	pale   = ink{0xb8, 0xb8, 0xb8}
	white  = ink{0xff, 0xff, 0xff}
	danger = ink{0x8a, 0x1c, 0x00}
)

func (d *drawing) add(it item) { d.items = append(d.items, it) }

// stroke lays an open line.
func (d *drawing) stroke(p path, line ink, weight float64) {
	d.add(item{paths: []path{p}, line: line, weight: weight})
}

// area lays a filled shape with an outline; weight 0 for none.
func (d *drawing) area(p path, fill *hatch, line ink, weight float64) {
	d.add(item{paths: []path{p}, closed: true, fill: fill, line: line, weight: weight})
}

// broken lays an open line of dashes, each so long, with gaps as long between.
func (d *drawing) broken(p path, dash float64, line ink, weight float64) {
	d.add(item{paths: []path{p}, line: line, weight: weight, dash: dash})
}

// along is the point a share of the way from one to another.
func along(from, to point, share float64) point {
	return point{from.x + (to.x-from.x)*share, from.y + (to.y-from.y)*share}
}

// write lays one line of words as they are: made visible, but not wrapped.
func (d *drawing) write(at point, words string, size float64, bold bool, a anchor, line ink) {
	words = printable.Visible(words)
	if strings.TrimSpace(words) == "" {
		return
	}
	d.add(item{words: words, at: at, size: size, bold: bold, anchor: a, line: line})
}

// leading is the height of a line of words over its size.
const leading = 1.3

// paragraph lays words wrapped to a width, the top of the first line at y, and
// tells where it ends.
func (d *drawing) paragraph(x, y, width float64, words string, size float64, bold bool, line ink) float64 {
	for _, l := range wrap(words, width, size, bold) {
		d.write(point{x, y + size}, l, size, bold, fromLeft, line)
		y += size * leading
	}
	return y
}

// legend lays pieces of a key side by side, and on further lines where they
// have no room.
type legend struct {
	*drawing
	left, right float64
	x, y        float64 // where the next piece begins; a line is 22 high
}

// put adds one piece: a picture so wide, 14 high, and its words.
func (k *legend) put(wide float64, words string, draw func(x, y float64)) {
	all := wide + 6 + measure(words, noteSize, false)
	if k.x > k.left && k.x+all > k.right {
		k.x, k.y = k.left, k.y+22
	}
	draw(k.x, k.y)
	k.write(point{k.x + wide + 6, k.y + 11}, words, noteSize, false, fromLeft, black)
	k.x += all + 18
}

// end is where what follows may begin.
func (k *legend) end() float64 { return k.y + 26 }

func rectangle(x, y, w, h float64) path {
	return path{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
}

// circle is one drawn with corners enough that none is seen at these sizes.
func circle(x, y, r float64) path {
	const corners = 16
	p := make(path, corners)
	for i := range p {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / corners)
		p[i] = point{x + r*cos, y + r*sin}
	}
	return p
}

// typefaces are the bundled ones that words are measured with, and drawn with
// where there is no viewer to bring its own.
var typefaces = sync.OnceValue(func() [2]*sfnt.Font {
	read := func(text []byte) *sfnt.Font {
		f, err := opentype.Parse(text)
		if err != nil {
			panic("the bundled typeface cannot be read: " + err.Error()) // it is part of the program
		}
		return f
	}
	return [2]*sfnt.Font{read(goregular.TTF), read(gobold.TTF)}
})

func typeface(bold bool) *sfnt.Font {
	if bold {
		return typefaces()[1]
	}
	return typefaces()[0]
}

// advances keeps how far each character moves on, in em: regular and bold.
var advances [2]sync.Map

// advance is how wide a character is, in em. One that the typeface lacks is
// taken as a full em, as ideographs are.
func advance(r rune, bold bool) float64 {
	which := 0
	if bold {
		which = 1
	}
	if w, ok := advances[which].Load(r); ok {
		return w.(float64)
	}
	w := 1.0
	f := typeface(bold)
	var b sfnt.Buffer
	if i, err := f.GlyphIndex(&b, r); err == nil && i != 0 {
		const em = 1000
		if a, err := f.GlyphAdvance(&b, i, fixed.I(em), font.HintingNone); err == nil {
			w = float64(a) / 64 / em
		}
	}
	advances[which].Store(r, w)
	return w
}

// looseness is how much wider than the bundled typeface a viewer's own sans
// serif may be: the widest in common use was measured on lines of a drawing to
// be 1.12 times as wide, and 1.20 in bold.
func looseness(bold bool) float64 {
	if bold {
		return 1.22
	}
	return 1.14
}

// measure is about how wide words are at a size; no viewer should need more.
func measure(words string, size float64, bold bool) float64 {
	w := 0.0
	for _, r := range words {
		w += advance(r, bold)
	}
	return w * size * looseness(bold)
}

// wrap breaks words into lines of at most width, at spaces; a word that is
// longer is broken where it must be.
func wrap(words string, width, size float64, bold bool) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(printable.Visible(words)) {
		joined := word
		if line != "" {
			joined = line + " " + word
		}
		if measure(joined, size, bold) <= width {
			line = joined
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = word
		for measure(line, size, bold) > width {
			head := fitting(line, width, size, bold)
			if head == len(line) {
				break
			}
			lines = append(lines, line[:head])
			line = line[head:]
		}
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}

// fitting is how many bytes of a word fit a width: one character at least.
func fitting(word string, width, size float64, bold bool) int {
	w := 0.0
	for i, r := range word {
		w += advance(r, bold) * size * looseness(bold)
		if w > width && i > 0 {
			return i
		}
	}
	return len(word)
}
