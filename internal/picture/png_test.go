package picture

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func dotsOf(t *testing.T, columns []Column, o SVGOptions, dots PNGOptions) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := PNG(&b, columns, o, dots); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&b)
	if err != nil {
		t.Fatalf("it is no PNG: %v", err)
	}
	return img
}

func TestAPNGIsTheDrawingAtItsScale(t *testing.T) {
	s := example(t, "bad/water-on-steel.toml")
	d := drawSection(s.columns, SVGOptions{})
	for _, scale := range []float64{0.5, 1, 2, 2.5} {
		box := dotsOf(t, s.columns, SVGOptions{}, PNGOptions{Scale: scale}).Bounds()
		if w, h := int(math.Ceil(d.width*scale)), int(math.Ceil(d.height*scale)); box.Dx() != w || box.Dy() != h {
			t.Errorf("at scale %v it is %v by %v dots, want %v by %v", scale, box.Dx(), box.Dy(), w, h)
		}
	}
	if box := dotsOf(t, s.columns, SVGOptions{}, PNGOptions{}).Bounds(); box.Dx() != 1600 {
		t.Errorf("where no scale is asked for it is %d dots wide", box.Dx())
	}
}

// The kept PNG was looked at beside the SVG in a browser. Dots are compared
// and not bytes, for a compressor may pack them otherwise, and a processor may
// round them otherwise by a little.
func TestTheDotsAreThoseThatWereLookedAt(t *testing.T) {
	s := example(t, "bad/water-on-steel.toml")
	file := filepath.Join("testdata", "water-on-steel.png")
	var b bytes.Buffer
	if err := PNG(&b, s.columns, SVGOptions{Title: s.doc.Sheet.Title, Width: 640}, PNGOptions{Scale: 1}); err != nil {
		t.Fatal(err)
	}
	if *refresh {
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	want, err := png.Decode(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	got, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	if got.Bounds() != want.Bounds() {
		t.Fatalf("%s is %v, drawn are %v", file, want.Bounds(), got.Bounds())
	}
	off := 0
	for y := range want.Bounds().Dy() {
		for x := range want.Bounds().Dx() {
			if math.Abs(greyOf(got.At(x, y))-greyOf(want.At(x, y))) > 0.02 {
				off++
			}
		}
	}
	if off > 0 {
		t.Errorf("%d dots are drawn otherwise; look at the drawing and refresh it with -args -refresh", off)
	}
}

// greyOf is how light a printer without color makes a dot, from 0 to 1: the
// luma weights of ITU-R BT.601, as most printers' drivers take them.
func greyOf(c color.Color) float64 {
	r, g, b, _ := c.RGBA()
	return (0.299*float64(r) + 0.587*float64(g) + 0.114*float64(b)) / 0xffff
}

// swatch is a fill as dots, as large as a piece of film.
func swatch(t *testing.T, h *hatch) *image.RGBA {
	t.Helper()
	d := &drawing{width: 120, height: 60}
	d.area(rectangle(0, 0, 120, 60), h, black, 0)
	img, err := rasterize(d, PNGOptions{Scale: 2})
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// texture is what is left of a fill in black and white: how light it is, how
// much of it is strokes, and which way its edges run (across, down, and along
// both diagonals), each about from 0 to 1.
func texture(img *image.RGBA) [6]float64 {
	box := img.Bounds()
	at := func(x, y int) float64 { return greyOf(img.At(x, y)) }
	var mean, square float64
	n := float64(box.Dx() * box.Dy())
	for y := range box.Dy() {
		for x := range box.Dx() {
			mean += at(x, y)
			square += at(x, y) * at(x, y)
		}
	}
	mean /= n
	out := [6]float64{mean, math.Sqrt(max(0, square/n-mean*mean))}
	for i, step := range []image.Point{{1, 0}, {0, 1}, {1, 1}, {1, -1}} {
		for y := 1; y < box.Dy()-1; y++ {
			for x := 1; x < box.Dx()-1; x++ {
				out[2+i] += math.Abs(at(x+step.X, y+step.Y)-at(x, y)) / n
			}
		}
	}
	return out
}

func TestEveryFillIsToldFromEveryOtherInBlackAndWhite(t *testing.T) {
	fills := map[string]*hatch{}
	var names []string
	for r, h := range hatches {
		fills[roleNames[r]] = h
		names = append(names, roleNames[r])
	}
	tellable(t, names, fills)
	tellable(t, []string{"act", "wait", "perhaps", "open", "maybe", "dead", "night"}, map[string]*hatch{
		"act": fillAct, "wait": fillWait, "perhaps": fillPerhaps, "open": fillOpen, "maybe": fillMaybe, "dead": fillDead, "night": fillNight})
}

func tellable(t *testing.T, names []string, fills map[string]*hatch) {
	t.Helper()
	textures := map[string][6]float64{}
	for _, n := range names {
		textures[n] = texture(swatch(t, fills[n]))
	}
	for i, a := range names {
		for _, b := range names[i+1:] {
			// Either one is clearly lighter, a tenth of the way from black to white, or its strokes run clearly otherwise.
			light := math.Abs(textures[a][0] - textures[b][0])
			grain := 0.0
			for k := 1; k < 6; k++ {
				grain += math.Abs(textures[a][k] - textures[b][k])
			}
			if light < 0.1 && grain < 0.1 {
				t.Errorf("in black and white %s and %s look alike: lightness %.2f apart, grain %.3f", a, b, light, grain)
			}
		}
	}
}

// Films that often lie on each other are to part in lightness too, so that
// even a poor copy that loses the strokes shows the seam: its line is black, and
// one of the two beside it is not.
func TestAFilmsEdgeIsSeenAgainstItsFill(t *testing.T) {
	for r, h := range hatches {
		light := texture(swatch(t, h))[0]
		if r != int(roleColor) && r != int(roleCoating) && light < 0.45 {
			t.Errorf("%s is so dark (%.2f) that the black lines on it are lost", roleNames[r], light)
		}
	}
}

// contrast is the ratio of WCAG 2.2, 1.4.3, of two colors.
func contrast(a, b ink) float64 {
	lum := func(c ink) float64 {
		part := func(v uint8) float64 {
			s := float64(v) / 255
			if s <= 0.04045 {
				return s / 12.92
			}
			return math.Pow((s+0.055)/1.055, 2.4)
		}
		return 0.2126*part(c.r) + 0.7152*part(c.g) + 0.0722*part(c.b)
	}
	x, y := lum(a), lum(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func TestWordsAreReadableOnTheirGround(t *testing.T) {
	if c := contrast(black, white); c < 15 {
		t.Fatalf("the measure is off: near black on white is %v", c)
	}
	s := example(t, "bad/filler-over-etch.toml")
	for _, d := range []*drawing{drawSection(s.columns, SVGOptions{}), drawDays(days(t, s), SVGOptions{})} {
		for _, it := range d.items {
			if it.words == "" {
				continue
			}
			// WCAG 2.2, 1.4.3: at least 4.5 to 1. Words stand on white, or on the grey of a night.
			if c := min(contrast(it.line, white), contrast(it.line, fillNight.ground)); c < 4.5 {
				t.Errorf("%q has a contrast of %.1f", it.words, c)
			}
			if it.size < 10 {
				t.Errorf("%q is %v px high", it.words, it.size)
			}
		}
	}
}

// A line of weight w at every s of distance covers w/s of its ground: what the
// strokes of a hatch are made of must neither cancel nor count twice.
func TestStrokesCoverWhatTheyShould(t *testing.T) {
	ground, marks := ink{0, 0, 0}, ink{255, 255, 255}
	for _, c := range []struct {
		name string
		h    hatch
		want float64
	}{
		{"rising", hatch{lines: rising(8, 8, 1.6), w: 8, h: 8}, 1.6 / (8 / math.Sqrt2)},
		{"falling", hatch{lines: falling(8, 8, 1.6), w: 8, h: 8}, 1.6 / (8 / math.Sqrt2)},
		{"level", hatch{lines: []hatchLine{{point{-1, 2}, point{9, 2}, 1}}, w: 8, h: 4}, 1.0 / 4},
		{"dots", hatch{dots: []hatchDot{{at: point{4, 4}, r: 2}}, w: 8, h: 8}, math.Pi * 4 / 64},
		{"rings", hatch{dots: []hatchDot{{at: point{4, 4}, r: 2, weight: 1}}, w: 8, h: 8}, math.Pi * (2.5*2.5 - 1.5*1.5) / 64},
	} {
		c.h.name, c.h.ground, c.h.marks = c.name, ground, marks
		if got := texture(swatch(t, &c.h))[0]; math.Abs(got-c.want) > 0.05*c.want+0.005 {
			t.Errorf("%s covers %.3f of the ground, want %.3f", c.name, got, c.want)
		}
	}
}

func TestTilesOfAHatchJoinWithoutASeam(t *testing.T) {
	// What is filled in two pieces looks as what is filled in one.
	for r, h := range hatches {
		one := swatch(t, h)
		d := &drawing{width: 120, height: 60}
		d.area(rectangle(0, 0, 50, 60), h, black, 0)
		d.area(rectangle(50, 0, 70, 60), h, black, 0)
		two, err := rasterize(d, PNGOptions{Scale: 2})
		if err != nil {
			t.Fatal(err)
		}
		for y := range 120 {
			for x := range 240 {
				if math.Abs(greyOf(one.At(x, y))-greyOf(two.At(x, y))) > 0.02 {
					t.Fatalf("%s has a seam at %d, %d", roleNames[r], x, y)
				}
			}
		}
	}
}

func TestAPNGTooLargeIsRefusedBeforeItIsDrawn(t *testing.T) {
	cols := make([]Column, 900)
	for i := range cols {
		cols[i] = Column{Zone: "z", Films: []Film{{Name: "a", Mil: 20}, {Name: "b", Mil: 20}}}
	}
	var b bytes.Buffer
	err := PNG(&b, cols, SVGOptions{}, PNGOptions{Scale: 4})
	var large *TooLargeError
	if !errors.As(err, &large) || b.Len() > 0 || !strings.Contains(err.Error(), "40 million") {
		t.Errorf("the error is %v, and %d bytes were written", err, b.Len())
	}
}

func TestWhatTheTypefaceLacksIsSpelledOut(t *testing.T) {
	for in, want := range map[string]string{
		"door µm 2 ft²": "door µm 2 ft²", "膜 film": "<U+819C> film", "a\x1b[31m\tb": "a<U+001B>[31m<U+0009>b", "\u202e\x7f": "<U+202E><U+007F>", "дверь": "дверь",
	} {
		if got := drawable(in); got != want {
			t.Errorf("%q is drawn as %q, want %q", in, got, want)
		}
	}
}

func TestProgressIsToldToTheEnd(t *testing.T) {
	last, of := -1, 0
	var b bytes.Buffer
	err := PNG(&b, example(t, "bad/water-on-steel.toml").columns, SVGOptions{}, PNGOptions{Scale: 0.5, Progress: func(done, all int) {
		if done < last {
			t.Errorf("%d comes after %d", done, last)
		}
		last, of = done, all
	}})
	if err != nil || last != of || of == 0 {
		t.Errorf("%d of %d: %v", last, of, err)
	}
}

func TestDashesAreAsLongAsTheirGapsAndEndWithTheLine(t *testing.T) {
	got := dashes(path{{0, 0}, {7, 0}, {7, 6}}, 3)
	want := []path{{{0, 0}, {3, 0}}, {{6, 0}, {7, 0}, {7, 2}}, {{7, 5}, {7, 6}}}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("got %v, want %v", got, want)
	}
	if got := dashes(path{{0, 0}, {7, 0}}, 0); len(got) != 1 {
		t.Errorf("a line without dashes is cut: %v", got)
	}
}

func BenchmarkPNG(b *testing.B) {
	s := example(b, "good/spot-rub-through.toml")
	for b.Loop() {
		if err := PNG(io.Discard, s.columns, SVGOptions{}, PNGOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSVG(b *testing.B) {
	s := example(b, "good/spot-rub-through.toml")
	for b.Loop() {
		if err := SVG(io.Discard, s.columns, SVGOptions{}); err != nil {
			b.Fatal(err)
		}
	}
}
