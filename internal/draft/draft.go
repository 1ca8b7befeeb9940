package draft

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/internal/trade"
)

// House is the house file of a wish's sheet, or nil. Its errors are those of Run.
func House(w Wish, reader *sheet.Reader, file string) (*sheet.House, error) {
	w, err := w.filled()
	if err != nil {
		return nil, err
	}
	base, err := w.read(reader, file)
	if err != nil {
		return nil, err
	}
	return base.House, nil
}

// Run searches for a sheet. Its error is a *FlagError where the wish itself is
// wrong, a *FileError where a shelf or the house file cannot be read, and else
// that of the context or the rulebook. That nothing passes is no error: see
// Outcome.
func Run(ctx context.Context, w Wish, shop Shop) (Outcome, error) {
	if w.Least == "" {
		w.Least = LeastDays
	}
	if shop.Budget <= 0 {
		shop.Budget = DefaultBudget
	}
	s, err := newSearcher(w, shop)
	if err != nil {
		return Outcome{}, err
	}
	out := Outcome{Runners: []Way{}, Reasons: []Reason{}, Nearest: []string{}, Missing: []string{}, Bound: shop.Budget}
	if out.Missing = s.missing(); len(out.Missing) > 0 {
		return out, nil
	}
	whole, reached, err := s.search(ctx)
	out.Judged, out.Reached, out.Cut = s.judged, reached && len(whole) == 0, reached && len(whole) > 0
	if err != nil {
		return out, err
	}
	if len(whole) == 0 {
		return out, nil
	}
	best := whole[0]
	if best.cost.grave > 0 {
		out.Reasons, out.Nearest = s.together(best.reasons), best.layers
		return out, nil
	}
	for i, n := range whole {
		way, err := s.wayOf(n, best)
		if err != nil {
			return out, err
		}
		if i == 0 {
			out.Best = &way
		} else {
			out.Runners = append(out.Runners, way)
		}
	}
	return out, nil
}

// search runs the search, twice where the panel carries a finish that is fit to
// be kept: it is stripped only where no sheet that keeps it is found with half of
// what may be judged. What solvent lifts, or nobody knows, may be stripped at once.
func (s *searcher) search(ctx context.Context) (whole []*node, reached bool, err error) {
	s.strips = s.wish.Strip || slices.ContainsFunc(s.base.Panel.Carries, func(c sheet.Carried) bool {
		k := trade.KindOf(c.Kind)
		return k == nil || k.Parts != 2
	})
	if s.strips || !s.keeps() {
		return s.run(ctx, s.shop.Budget)
	}
	whole, reached, err = s.run(ctx, s.shop.Budget/2)
	if err != nil || len(whole) > 0 && whole[0].cost.grave == 0 {
		return whole, reached, err
	}
	s.strips = true
	return s.run(ctx, s.shop.Budget)
}

// called is a title where nobody gives one.
func (w Wish) called() string {
	from := w.Substrate
	if len(w.Carries) > 0 {
		from = w.Carries[len(w.Carries)-1].Kind + " on " + from
	}
	to := map[Ending]string{Solid: "solid color", Metallic: "metallic and clear", Primed: "primed"}[w.Ending]
	if w.Repair != "" {
		from += ", dent filled"
	}
	r := []rune(from + " to " + to)
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

// read reads the head of the sheet that is wished for, with the cards in reach.
func (w Wish) read(reader *sheet.Reader, file string) (*sheet.Sheet, error) {
	base, problems := reader.ReadText(file, []byte(w.stub()))
	if len(problems) == 0 {
		return base, nil
	}
	for _, p := range problems {
		if p.Place.File == file {
			if flag := flagOf(p); flag != "" {
				return nil, &FlagError{flag, p.Message}
			}
		}
	}
	return nil, &FileError{problems}
}

// filled is the wish with a title, once it is one that a sheet can be written for.
func (w Wish) filled() (Wish, error) {
	if err := w.check(); err != nil {
		return w, err
	}
	if w.Title == "" {
		w.Title = w.called()
	}
	return w, nil
}

// check is what the sheet's own reader cannot say.
func (w Wish) check() error {
	switch {
	case w.Substrate == "":
		return &FlagError{"substrate", `what the panel is made of is needed, such as "mild steel"`}
	case !slices.Contains(Endings, w.Ending):
		return &FlagError{"ending", fmt.Sprintf("%q is none of solid, metallic and primed", string(w.Ending))}
	case w.Least != "" && !slices.Contains(Leasts, w.Least):
		return &FlagError{"least", fmt.Sprintf("%q is none of days, film, passes and litres", string(w.Least))}
	case w.Least == LeastLitres && w.Area == "":
		return &FlagError{"least", "litres can be counted only where --area is given"}
	case w.Deep != "" && w.Repair == "":
		return &FlagError{"deep", "how deep a dent is says something only with --repair, the dent's area"}
	}
	if w.Deep != "" {
		if _, err := quantity.Parse(quantity.Film, w.Deep); err != nil {
			return &FlagError{"deep", err.Error()}
		}
	}
	return nil
}

func newSearcher(w Wish, shop Shop) (*searcher, error) {
	w, err := w.filled()
	if err != nil {
		return nil, err
	}
	base, err := w.read(shop.Reader, shop.File)
	if err != nil {
		return nil, err
	}
	doc, problems := stack.Build(base)
	if len(problems) > 0 {
		return nil, &FileError{problems}
	}
	s := &searcher{
		wish: w, shop: shop, base: base, limits: doc.Limits, head: w.writeHead(),
		temper: temper{panel: base.Booth.Panel.Quantity, air: base.Booth.Air.Quantity},
		coats:  map[string][]coat{}, volumes: map[volumeKey]float64{}, ahead: map[string]cost{}, heard: map[string]heard{}, never: map[pairing]bool{},
	}
	color := false
	for _, p := range productsOf(base) {
		color = color || p.name == w.Color && p.class() == "color"
		if s.mayLay(p) {
			s.products = append(s.products, p)
			s.coats[p.ref] = s.coatsOf(p)
		}
	}
	for _, name := range w.Lays {
		k, err := laidKind(name)
		if err != nil {
			return nil, err
		}
		if !slices.Contains(s.lays, k.Name) {
			s.lays = append(s.lays, k.Name)
		}
	}
	if w.Color != "" && !color {
		return nil, &FlagError{"color", s.noColor()}
	}
	return s, nil
}

// undercoats are the classes of what may go under a color.
var undercoats = []string{"promoter", "primer", "filler", "surfacer", "sealer"}

// laidKind is a kind that is asked for under the color.
func laidKind(name string) (*trade.Kind, error) {
	k, ok := trade.Kinds().Lookup(name)
	switch {
	case !ok:
		near := trade.Kinds().Near(name, "film")
		if len(near) == 0 {
			return nil, &FlagError{"lays", fmt.Sprintf("there is no kind %q; 'guidecoat rulebook --kinds' lists them", name)}
		}
		return nil, &FlagError{"lays", fmt.Sprintf("there is no kind %q; did you mean %q?", name, strings.Join(near, `" or "`))}
	case !slices.Contains(undercoats, k.Class):
		return nil, &FlagError{"lays", fmt.Sprintf("%s is none of what goes under a color; the color and its clear follow from --ending and --color", k.Name)}
	}
	return k, nil
}

// noColor says which colors there are.
func (s *searcher) noColor() string {
	var names []string
	for _, p := range productsOf(s.base) {
		if p.class() == "color" && !slices.Contains(names, p.name) {
			names = append(names, p.name)
		}
	}
	if len(names) == 0 {
		return fmt.Sprintf("no color is called %q; there is none in reach", s.wish.Color)
	}
	return fmt.Sprintf("no color is called %q; there is %s", s.wish.Color, strings.Join(names, ", "))
}

// mayLay: products that lead to the ending that is wished for, in the place
// they are made for.
func (s *searcher) mayLay(p *product) bool {
	finished := s.wish.Ending != Primed
	switch p.class() {
	case "primer", "surfacer":
		return true
	case "sealer", "clear":
		return finished
	case "promoter":
		return trade.KindOf(s.base.Panel.Substrate.Value).Has("plastic") || s.base.Panel.Substrate.Value == "sheet molding compound"
	case "filler":
		return s.wish.Repair != "" && s.fits(p)
	case "color":
		return finished && p.hasEffect(s.wish.Ending) && p.kind.Name != "mid coat" && (s.wish.Color == "" || s.wish.Color == p.name)
	}
	return false
}

// puttyDepth is how deep a dent a putty is for: pinholes and scratches.
const puttyDepth = "0.5 mm"

// fits: putties are for what filler leaves, not for dents; and what gives is
// filled with what gives.
func (s *searcher) fits(p *product) bool {
	if s.bends() && !p.card.Flexible.Value && !p.kind.Has("flexible") {
		return false
	}
	if p.kind.Name != "finishing putty" && p.kind.Name != "one-part putty" {
		return true
	}
	deep, err := quantity.Parse(quantity.Film, s.deep())
	most, fault := quantity.Parse(quantity.Film, puttyDepth)
	return err == nil && fault == nil && deep.Hi <= most.Hi
}

// bends says whether the panel is a plastic that gives, or may be one.
func (s *searcher) bends() bool {
	rigid := []string{"ABS", "PC", "nylon", "SMC"}
	return s.base.Panel.Substrate.Value == "bare plastic" && !slices.Contains(rigid, s.base.Panel.Plastic.Value)
}

// deep is how thick the filler is laid.
func (s *searcher) deep() string {
	if s.wish.Deep == "" {
		return DefaultDeep
	}
	return s.wish.Deep
}

// missing are the kinds of product without which the ending cannot be laid,
// whatever a rule says; nil when the shelf has something for every stage.
func (s *searcher) missing() []string {
	asked := []string{}
	for _, kind := range s.lays {
		if !slices.ContainsFunc(s.products, func(p *product) bool { return p.kind.Name == kind && len(s.coats[p.ref]) > 0 }) {
			asked = append(asked, kind+" (asked for, and of no use here or not on the shelf)")
		}
	}
	if len(asked) > 0 {
		return asked
	}
	var fewest []string
	for i, row := range s.stagesOf(nil, false, false, nil) {
		var lacks []string
		for k, st := range row {
			if len(st) == 0 {
				lacks = append(lacks, s.lacking(k, len(row)))
			}
		}
		if len(lacks) == 0 {
			return []string{}
		}
		if i == 0 || len(lacks) < len(fewest) {
			fewest = lacks
		}
	}
	return fewest
}

// lacking names the product of a stage that the shelf has none of.
func (s *searcher) lacking(stage, of int) string {
	if s.wish.Repair != "" {
		if stage == 0 && s.bends() {
			return "a filler that bends with the plastic (plastic repair filler)"
		}
		if stage == 0 {
			return "a filler (body filler or fiber filler; a finishing putty for a dent no deeper than " + puttyDepth + ")"
		}
		stage, of = stage-1, of-1
		if s.wish.Ending != Primed {
			if stage == 0 {
				return "a primer or surfacer to cover the filler (epoxy primer, epoxy surfacer or urethane surfacer)"
			}
			stage, of = stage-1, of-1
		}
	}
	color := map[Ending]string{Solid: "a solid", Metallic: "a metallic or pearl"}[s.wish.Ending]
	switch {
	case s.wish.Ending == Primed:
		return "a primer or surfacer that holds out water (epoxy primer, epoxy surfacer or urethane surfacer)"
	case of == 1:
		return "a solid single-stage color"
	case stage == 0:
		return color + " basecoat"
	}
	return "a clear (urethane clear or one-part clear)"
}

// reason is a finding as a draft tells it.
func (s *searcher) reason(f rulebook.Finding) Reason {
	r := Reason{Rule: f.Rule, Grade: f.Grade, Message: f.Message, Missing: []string{}}
	for _, e := range f.Mend {
		for _, key := range []string{"product_kind", "with_kind"} {
			for _, k := range kindsIn(e, key) {
				if !s.onShelf(k) && !slices.Contains(r.Missing, k) {
					r.Missing = append(r.Missing, k)
				}
			}
		}
	}
	sort.Strings(r.Missing)
	return r
}

// kindsIn are the kinds of product that an offered edit asks for.
func kindsIn(e rulebook.Edit, key string) []string {
	v := e.Set[key]
	if e.Key == key {
		v = e.Value
	}
	return rulebook.WordsOf(v)
}

func (s *searcher) onShelf(kind string) bool {
	for _, c := range s.base.Cards {
		if c.Kind == kind {
			return true
		}
		for _, as := range c.Uses {
			if as.Kind == kind {
				return true
			}
		}
	}
	return false
}

// together tells each rule once, the gravest first and else in the order of the sheet.
func (s *searcher) together(reasons []Reason) []Reason {
	var out []Reason
	for _, r := range reasons {
		if !slices.ContainsFunc(out, func(o Reason) bool { return o.Rule == r.Rule }) {
			out = append(out, r)
		}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Grade == "fails" && out[j].Grade != "fails" })
	return out
}

// errChanged: a fault of the program itself.
var errChanged = errors.New("the drafted sheet was judged otherwise when it was read again")

// wayOf is a sheet that was found, read and judged once more as it is handed over.
func (s *searcher) wayOf(n, best *node) (Way, error) {
	w := Way{Begun: n.began(), Layers: n.layers, Advice: append([]Reason{}, n.advice...)}
	_, doc, err := s.build(s.text(n))
	if err != nil {
		return w, err
	}
	w.Cost = Cost{
		Minutes: doc.Sheet.Elapsed.Lo, Film: float64(n.cost.film) / 1000, Passes: int(n.cost.passes),
		Advice: n.cost.advice, Steps: n.cost.steps,
	}
	if l := doc.Sheet.Litres; l != nil {
		v := float64(n.cost.litres) / 1000
		w.Cost.Litres = &v
	}
	if n != best {
		w.Lost = lost(n.cost, best.cost, s.wish.Least)
	}
	w.Text = s.headComment(w, n) + s.text(n)
	sh, doc, err := s.build(w.Text)
	if err != nil {
		return w, err
	}
	r, err := s.shop.Book.Judge(context.Background(), doc, sh, rulebook.Options{Today: s.shop.Today, House: s.shop.House})
	if err != nil {
		return w, err
	}
	for _, f := range r.Findings {
		if rulebook.AtLeast(f.Grade, "risk") {
			return w, fmt.Errorf("%w: %s: %s", errChanged, f.Rule, f.Message)
		}
	}
	return w, nil
}

// headComment says what the sheet is, and what it is not.
func (s *searcher) headComment(w Way, n *node) string {
	var b strings.Builder
	comment(&b, "A DRAFT, for a painter to read and change. A search over the rulebook put it together from the shelf; nobody has sprayed it.")
	comment(&b, fmt.Sprintf("It is the one with the least %s: %s.", s.wish.Least, w.Cost.Words()))
	comment(&b, "The rulebook finds nothing in it that fails or is a risk. That does not say that the work is safe, or that the finish will hold: "+
		"there are faults no rulebook knows. Before a can is opened, the safety data sheet and the data sheet of each product, the local code and licensed practice decide.")
	comment(&b, "What is worn is the least a step should say; who sprays is fitted, trained and supplied by the shop.")
	if len(w.Advice) > 0 {
		comment(&b, "Left for a person to decide:")
		for _, a := range w.Advice {
			comment(&b, "- "+a.Message+" ("+a.Rule+")")
		}
	}
	return b.String() + "\n"
}

// Words tells a cost for a person.
func (c Cost) Words() string {
	litres := "litres not known without --area"
	if c.Litres != nil {
		litres = strconv.FormatFloat(*c.Litres, 'f', 2, 64) + " L mixed"
	}
	return fmt.Sprintf("%s of waiting, %s mil of film, %d passes, %s", stretch(c.Minutes), tenth(c.Film), c.Passes, litres)
}

// tenth writes a film to a tenth of a mil, or as fine as it takes not to write nothing.
func tenth(mil float64) string {
	if r := math.Round(mil*10) / 10; r > 0 {
		return quantity.FormatNumber(r)
	}
	return quantity.FormatNumber(mil)
}

// stretch writes a length of time in days and hours.
func stretch(minutes float64) string {
	if minutes < 120 {
		return quantity.FormatNumber(math.Round(minutes)) + " min"
	}
	if minutes < 48*60 {
		return quantity.FormatNumber(math.Round(minutes/60*10)/10) + " h"
	}
	return quantity.FormatNumber(math.Round(minutes/60/24*10)/10) + " days"
}

// lost says where a sheet first costs more than the best, in the order that counts.
func lost(c, best cost, least Least) string {
	more := map[Least]string{
		LeastDays:   stretch(float64(c.minutes-best.minutes)/1000) + " longer",
		LeastFilm:   tenth(float64(c.film-best.film)/1000) + " mil more film",
		LeastPasses: plural(int(c.passes-best.passes), "pass more", "passes more"),
		LeastLitres: strconv.FormatFloat(float64(c.litres-best.litres)/1000, 'f', 2, 64) + " L more",
	}
	parts := map[Least]int64{
		LeastDays: c.minutes - best.minutes, LeastFilm: c.film - best.film, LeastPasses: c.passes - best.passes, LeastLitres: c.litres - best.litres,
	}
	var words []string
	if parts[least] > 0 {
		words = append(words, more[least])
	} else if c.advice > best.advice {
		words = append(words, plural(c.advice-best.advice, "piece of advice more", "pieces of advice more"))
	}
	for _, l := range Leasts {
		if l != least && parts[l] > 0 {
			words = append(words, more[l])
		}
	}
	if len(words) == 0 {
		return "equal in all that is counted; the best was tried first"
	}
	return strings.Join(words, ", ")
}

func plural(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
