package picture

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"guidecoat/internal/printable"
)

// SVGOptions says how a drawing is written as SVG.
type SVGOptions struct {
	// Title is the drawing's name, shown at its head and read out by a screen reader.
	Title string
	// Width of the drawing in CSS pixels; the height follows. 0 is 800; less
	// than 320 is taken as 320.
	Width int
	// IDPrefix begins every id in the drawing, so that several on one page do
	// not take each other's fills. Characters that an id cannot hold become "-".
	IDPrefix string
	// Embedded leaves out the XML head, for a drawing inside an HTML page.
	Embedded bool
	// Bare leaves out the title, the key of the fills and the notes at the
	// foot, for pages that say these once (see KeySVG).
	Bare bool
	// Notes are said at the foot.
	Notes []string
}

func (o SVGOptions) width() float64 {
	if o.Width == 0 {
		return 800
	}
	return float64(max(o.Width, 320))
}

// SVG draws the columns as SVG: every film to scale with its number beside it,
// what it lies on, and the marks. It uses presentation attributes alone: no
// style, no script, no font, nothing fetched. The same columns give the same
// bytes. The error is the writer's.
func SVG(w io.Writer, columns []Column, o SVGOptions) error {
	return writeSVG(w, drawSection(columns, o), o)
}

// KeySVG draws the key of all fills and signs, for a page that holds several
// bare drawings.
func KeySVG(w io.Writer, o SVGOptions) error {
	return writeSVG(w, drawKey(o), o)
}

// idOf makes a prefix fit for an XML id.
func idOf(prefix string) string {
	var b strings.Builder
	for i, r := range prefix {
		letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z'
		if i == 0 && !letter {
			b.WriteByte('g')
		}
		if letter || r >= '0' && r <= '9' || r == '-' || r == '_' {
			b.WriteRune(r)
		} else {
			b.WriteByte('-')
		}
	}
	return b.String()
}

func writeSVG(w io.Writer, d *drawing, o SVGOptions) error {
	var b bytes.Buffer
	id := idOf(o.IDPrefix)
	if !o.Embedded {
		b.WriteString(xml.Header)
	}
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-labelledby="%stitle" aria-describedby="%sdesc" width="%s" height="%s" viewBox="0 0 %s %s" font-family="sans-serif">`+"\n",
		id, id, num(d.width), num(d.height), num(d.width), num(d.height))
	fmt.Fprintf(&b, "<title id=\"%stitle\">%s</title>\n<desc id=\"%sdesc\">%s</desc>\n", id, escaped(printable.Visible(d.title)), id, escaped(d.desc))
	defs(&b, d, id)
	fmt.Fprintf(&b, `<rect width="%s" height="%s" fill="%s"/>`+"\n", num(d.width), num(d.height), white.hex())
	for _, it := range d.items {
		if it.words != "" {
			wordsSVG(&b, it)
		} else {
			pathSVG(&b, it, id)
		}
	}
	b.WriteString("</svg>\n")
	_, err := w.Write(b.Bytes())
	return err
}

// defs writes the fills that the drawing uses.
func defs(b *bytes.Buffer, d *drawing, id string) {
	var used []*hatch // in the order of their first use
	for _, it := range d.items {
		if it.fill.patterned() && !slices.Contains(used, it.fill) {
			used = append(used, it.fill)
		}
	}
	if len(used) == 0 {
		return
	}
	b.WriteString("<defs>\n")
	for _, h := range used {
		fmt.Fprintf(b, `<pattern id="%s%s" patternUnits="userSpaceOnUse" width="%s" height="%s"><rect width="%s" height="%s" fill="%s"/>`,
			id, h.name, num(h.w), num(h.h), num(h.w), num(h.h), h.ground.hex())
		if len(h.lines) > 0 {
			fmt.Fprintf(b, `<path fill="none" stroke="%s" stroke-width="%s" d="`, h.marks.hex(), num(h.lines[0].weight))
			for _, l := range h.lines {
				fmt.Fprintf(b, "M%s %sL%s %s", num(l.from.x), num(l.from.y), num(l.to.x), num(l.to.y))
			}
			b.WriteString(`"/>`)
		}
		for _, dot := range h.dots {
			paint := fmt.Sprintf(`fill="%s"`, h.marks.hex())
			if dot.weight > 0 {
				paint = fmt.Sprintf(`fill="none" stroke="%s" stroke-width="%s"`, h.marks.hex(), num(dot.weight))
			}
			fmt.Fprintf(b, `<circle cx="%s" cy="%s" r="%s" %s/>`, num(dot.at.x), num(dot.at.y), num(dot.r), paint)
		}
		b.WriteString("</pattern>\n")
	}
	b.WriteString("</defs>\n")
}

func pathSVG(b *bytes.Buffer, it item, id string) {
	fill := "none"
	switch {
	case it.fill.patterned():
		fill = "url(#" + id + it.fill.name + ")"
	case it.fill != nil:
		fill = it.fill.ground.hex()
	}
	fmt.Fprintf(b, `<path fill="%s"`, fill)
	if it.weight > 0 {
		fmt.Fprintf(b, ` stroke="%s" stroke-width="%s" stroke-linejoin="round"`, it.line.hex(), num(it.weight))
		if it.dash > 0 {
			fmt.Fprintf(b, ` stroke-dasharray="%s"`, num(it.dash))
		}
	}
	b.WriteString(` d="`)
	for _, p := range it.paths {
		// From corner to corner in tenths of a pixel, counted so that nothing adds up.
		at := [2]float64{}
		for i, c := range p {
			to := [2]float64{math.Round(c.x * 10), math.Round(c.y * 10)}
			step := "l"
			if i == 0 {
				step = "M"
			}
			b.WriteString(step + num((to[0]-at[0])/10) + " " + num((to[1]-at[1])/10))
			at = to
		}
		if it.closed {
			b.WriteByte('z')
		}
	}
	b.WriteString("\"/>\n")
}

func wordsSVG(b *bytes.Buffer, it item) {
	fmt.Fprintf(b, `<text x="%s" y="%s" font-size="%s" fill="%s"`, num(it.at.x), num(it.at.y), num(it.size), it.line.hex())
	if it.bold {
		b.WriteString(` font-weight="bold"`)
	}
	switch it.anchor {
	case fromMiddle:
		b.WriteString(` text-anchor="middle"`)
	case fromRight:
		b.WriteString(` text-anchor="end"`)
	}
	fmt.Fprintf(b, ">%s</text>\n", escaped(it.words))
}

func (c ink) hex() string { return fmt.Sprintf("#%02x%02x%02x", c.r, c.g, c.b) }

// num writes a coordinate to a hundredth of a pixel.
func num(v float64) string {
	r := math.Round(v*100) / 100
	if r == 0 {
		return "0" // and never "-0"
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}

func escaped(s string) string {
	var b bytes.Buffer
	_ = xml.EscapeText(&b, []byte(s)) // a buffer does not fail
	return b.String()
}
