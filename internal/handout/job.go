package handout

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"guidecoat/internal/plan"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// builder fills the view from one judged sheet.
type builder struct {
	in  Input
	s   *sheet.Sheet
	doc *stack.Document
	v   *view

	mixes   map[int]*stack.Mix // by step
	cupsOf  map[int]*plan.Cup
	about   map[int][]ref    // findings by the step they are about
	hazards map[string][]int // the steps that have to do with each
}

// written is a quantity as the sheet writes it, "" where it does not.
func written(a sheet.Amount) string {
	if !a.Written {
		return ""
	}
	if text := strings.TrimSpace(a.Text); text != "" {
		return text
	}
	return a.String()
}

var workWords = map[string]string{"restoration": "restoration", "collision": "collision repair"}

var endWords = map[string]string{"finished": "finished", "primed": "in primer, not finished", "sealed": "in sealer, not finished"}

// job tells what is to be painted and where.
func (b *builder) job() {
	s, p := b.s, b.s.Panel
	substrate := p.Substrate.Value
	if substrate == "bare plastic" {
		substrate += ", " + p.Plastic.Value
	}
	year := ""
	if p.Year.Written {
		year = fmt.Sprint(p.Year.Value)
	}
	b.v.Job = factsOf(
		"Part", p.Part.Value, "Made of", substrate, "It carries", carried(p.Carries), "Rust", p.Rust.Value, "Year", year,
		"Area", written(p.Area), "Work", workWords[s.Work], "It leaves", endWords[s.EndsAs],
		"Date", b.doc.Sheet.Date, "Written by", s.Author.Value,
	)
	region := s.Region
	if region == "" {
		region = "none named, so no VOC limit is shown"
	}
	b.v.Booth = factsOf("Air", written(s.Booth.Air), "Panel", written(s.Booth.Panel), "Humidity", written(s.Booth.Humidity),
		"Where", s.Booth.Where.Value, "VOC limits of", region)
	if len(s.Zones) == 0 {
		return
	}
	for _, z := range b.doc.Zones {
		if z.Parent != "" {
			continue // cut later, and told at its step
		}
		area := "not written"
		if !z.Area.Open {
			area = z.Area.Text
		}
		note := []string{}
		if z.Role != "" {
			note = append(note, z.Role)
		}
		if z.Rust != "none" {
			note = append(note, "rust: "+z.Rust)
		}
		if z.Faces != "weather" {
			note = append(note, "faces the "+z.Faces)
		}
		if z.Edge == "open" {
			note = append(note, "color and clear end in the open")
		}
		if z.Name == sheet.RestZone {
			note = append(note, "the rest of the panel")
		}
		var carries []string
		for _, id := range z.Carried {
			carries = append(carries, b.doc.LayersByID[id].Name)
		}
		if len(carries) == 0 {
			carries = []string{"nothing"}
		}
		b.v.Zones = append(b.v.Zones, zone{Name: said(z.Name), Area: said(area), Substrate: said(z.Substrate),
			Carries: said(strings.Join(carries, ", ")), Note: said(strings.Join(note, "; "))})
	}
}

func carried(list []sheet.Carried) string {
	var out []string
	for _, c := range list {
		words := c.Kind
		var more []string
		if c.Film.Written {
			more = append(more, written(c.Film))
		}
		if c.Condition != "" && c.Condition != "sound" {
			more = append(more, c.Condition)
		}
		if len(more) > 0 {
			words += " (" + strings.Join(more, ", ") + ")"
		}
		out = append(out, words)
	}
	if len(out) == 0 {
		return "nothing: it is bare"
	}
	return strings.Join(out, ", then ")
}

// cardNumbers are the keys of a card that the bench works by, in the order it
// needs them, and what the page calls them.
var cardNumbers = [][2]string{
	{"mix", "Mix"}, {"hardener", "Hardener"}, {"reducer", "Reducer"}, {"reduce_up_to", "Reduce up to"}, {"induction", "Stands after mixing"}, {"pot_life", "Pot life"},
	{"grit_beneath", "Wants beneath it"}, {"coats", "Coats"}, {"film", "Dry film in all"}, {"wet_max", "Most wet film a coat"},
	{"flash", "Between coats"}, {"recoat", "Next film"}, {"no_recoat", "Lifts if recoated"}, {"sand_after", "Sand after"}, {"fill_after", "Fill after"},
	{"settles", "Settled after"}, {"tape_after", "Tape after"}, {"polish_after", "Polish after"}, {"bake", "Bake"},
	{"times_at", "Times hold at"}, {"air", "Air"}, {"humidity", "Humidity"}, {"lowest_cure", "Cures down to"},
	{"tip", "Tip"}, {"pressure", "Pressure"}, {"volume_solids", "Volume solids"}, {"voc", "VOC"},
	{"data_sheet", "Data sheet"}, {"safety_sheet", "Safety data sheet"},
}

// products are the cards the steps use, those that are laid first.
func (b *builder) products() {
	var refs []string
	for ref, c := range b.doc.Cards {
		if c.Used {
			refs = append(refs, ref)
		}
	}
	first := func(ref string) int {
		c := b.doc.Cards[ref]
		at := 1 << 30
		if len(c.Steps) > 0 {
			at = slices.Min(c.Steps)
		}
		if !c.Laid {
			at += 1 << 20
		}
		return at
	}
	slices.SortFunc(refs, func(x, y string) int {
		if d := first(x) - first(y); d != 0 {
			return d
		}
		return strings.Compare(x, y)
	})
	for _, ref := range refs {
		c := b.doc.Cards[ref]
		title := c.Label
		if title == "" {
			title = c.Name
		}
		p := product{Title: said(title), Kind: said(c.Kind), Steps: c.Steps, Hazards: said(strings.Join(c.Traits.Hazards, ", "))}
		if title != c.Ref {
			p.Name = said(c.Ref)
		}
		for _, k := range cardNumbers {
			p.Facts = append(p.Facts, factsOf(k[1], b.cardText(k[0], c.Card[k[0]]))...)
		}
		for _, k := range c.Compared {
			p.Assumed = append(p.Assumed, factsOf(strings.ReplaceAll(k, "_", " "), c.Typical[k])...)
		}
		b.v.Products = append(b.v.Products, p)
		if text := c.Card["data_sheet"]; text != "" {
			b.rests(title, "data sheet "+text)
		} else if c.Laid {
			b.rests(title, "no data sheet stands on its card")
		}
	}
}

// cardText is what a card writes, with the names of other cards as they stand
// on the can.
func (b *builder) cardText(key, text string) string {
	if key == "bake" || key == "recoat" {
		return strings.ReplaceAll(text, "_", " ")
	}
	if key != "hardener" && key != "reducer" {
		return text
	}
	names := strings.Split(text, ", ")
	for i, n := range names {
		names[i] = b.canName(n)
	}
	return strings.Join(names, " or ")
}

// canName is what stands on the can that the shop calls name.
func (b *builder) canName(name string) string {
	if c := b.s.Cards[name]; c != nil && c.Label.Value != "" {
		return c.Label.Value
	}
	return name
}

// cups is the mixing table.
func (b *builder) cups() {
	b.mixes = map[int]*stack.Mix{}
	for i := range b.doc.Mixes {
		b.mixes[b.doc.Mixes[i].Step] = &b.doc.Mixes[i]
	}
	t := plan.Mixes(b.doc, plan.Units{Metric: true, US: true})
	b.cupsOf = map[int]*plan.Cup{}
	for i := range t.Cups {
		c := &t.Cups[i]
		b.cupsOf[c.Step] = c
		out := cup{Step: c.Step, Name: said(c.Film)}
		area := "not known: the sheet does not write it"
		if c.Area != nil {
			area = both(c.Area)
		}
		mix := c.Mix
		switch c.MixOf {
		case "step", "card":
			mix += ", as the " + c.MixOf + " says"
		default:
			mix = "none written: as it comes from the can"
		}
		dry := both(c.AllDry)
		if dry != "" && c.Assumed {
			dry += " (no wet film is written: of the card or its kind)"
		}
		wet := both(c.Wet)
		if wet != "" && c.Reckoned {
			wet += " (reckoned from the dry film)"
		}
		voc := "not known: a part's own is not on its card"
		if c.Voc != nil {
			voc = both(c.Voc)
		}
		out.Facts = factsOf("Mix", mix, "For", area+", "+strings.Join(c.Zones, ", "), "Coats", fmt.Sprint(c.Coats), "Wet film a coat", wet, "Dry film in all", dry,
			"Stands after mixing", amountText(c.Stand), "Pot life", amountText(c.PotLife), "Batch on the sheet", both(c.Batch), "VOC as applied", voc)
		for _, p := range c.Parts {
			row := part{Part: said(p.Part), Name: said(p.Name), Metric: said(p.Weight)}
			if p.Volume != nil {
				row.Metric, row.US = said(amountText(p.Volume.Metric)), said(amountText(p.Volume.US))
			}
			out.Parts = append(out.Parts, row)
		}
		if c.Pour != nil && len(c.Parts) > 1 {
			out.Parts = append(out.Parts, part{Part: "in all", Metric: said(amountText(c.Pour.Metric)), US: said(amountText(c.Pour.US))})
		}
		for _, l := range c.Limits {
			words := fmt.Sprintf("VOC limit %s for %s, region %s, binds the %s", both(&l.Limit), l.Category, l.Region, l.Binds)
			if len(l.Steps) > 1 {
				words += fmt.Sprintf("; %s taken together %s", stepsNamed(l.Steps), orUnknown(both(l.Voc)))
			}
			out.Limit = append(out.Limit, said(words))
			b.rests("VOC limits of "+l.Region, l.Source)
		}
		b.v.Cups = append(b.v.Cups, out)
	}
	for _, can := range t.Buy {
		r := row{Name: said(can.Name), Steps: can.Steps, Metric: said(can.Weight)}
		if can.Volume != nil {
			r.Metric, r.US = said(amountText(can.Volume.Metric)), said(amountText(can.Volume.US))
		}
		b.v.Buy = append(b.v.Buy, r)
	}
	for _, u := range t.Uncounted {
		b.v.Unsure = append(b.v.Unsure, said(fmt.Sprintf("Step %d, %s: %s", u.Step, u.Name, u.Why)))
	}
}

// cautions are those of every hazard of the sheet, the gravest first.
func (b *builder) cautions() {
	for _, h := range slices.SortedFunc(maps.Keys(b.hazards), graver) {
		c := cautions[h]
		b.v.Hazards = append(b.v.Hazards, hazard{said(c.name), said(c.signal), said(c.text), b.hazards[h]})
		b.rests("Caution: "+strings.ToLower(c.name), c.source...)
	}
	var wear []string
	for _, st := range b.s.Steps {
		for _, w := range st.Wear.Values {
			if !slices.Contains(wear, w) {
				wear = append(wear, w)
			}
		}
	}
	slices.Sort(wear)
	b.v.Wear = said(strings.Join(wear, ", "))
}

// rests notes what some words or numbers of the page rest on, each text once.
func (b *builder) rests(on string, texts ...string) {
	at := slices.IndexFunc(b.v.Sources, func(s source) bool { return s.For == said(on) })
	if at < 0 {
		at = len(b.v.Sources)
		b.v.Sources = append(b.v.Sources, source{For: said(on)})
	}
	s := &b.v.Sources[at]
	for _, t := range texts {
		if !slices.Contains(s.Texts, said(t)) {
			s.Texts = append(s.Texts, said(t))
		}
	}
}

func both(q *plan.Both) string {
	if q == nil || q.Metric == nil || q.US == nil {
		return ""
	}
	return q.Metric.Text + " (" + q.US.Text + ")"
}

func amountText(a *plan.Amount) string {
	if a == nil {
		return ""
	}
	return a.Text
}

func orUnknown(text string) string {
	if text == "" {
		return "not known"
	}
	return text
}

func stepsNamed(list []int) string {
	var names []string
	for _, n := range list {
		names = append(names, fmt.Sprint(n))
	}
	return "steps " + strings.Join(names, " and ")
}
