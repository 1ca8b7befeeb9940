package rulebook_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"guidecoat/internal/quantity"
	"guidecoat/internal/trade"
)

// How far past a limit a process is taken: hardly, and well.
var pasts = []float64{0.02, 0.3}

// breaker breaks the limits of one process. Its makers are found by the name
// of the key, or of the step, that holds the limit.
type breaker struct {
	t   *testing.T
	p   process
	out []breach
}

// breaches are all ways to break one limit of a process, in the order of its
// shelf, house file and sheet. A key that no maker knows and that is not listed
// as a plain fact stops the test: a number must not be left out unseen.
func (p process) breaches(t *testing.T) []breach {
	t.Helper()
	b := &breaker{t: t, p: p}
	known := map[string]bool{}
	walk := func(file string, tables []table, makers map[string]func(string, table, int, key), facts []string) {
		for i, tb := range tables {
			for _, k := range tb.keys {
				at := fmt.Sprintf("%s/%s %s %s", p.name, file, spot(tables, i), k.name)
				switch mk := makers[k.name]; {
				case mk != nil:
					mk(at, tb, i, k)
				case !slices.Contains(facts, k.name):
					t.Errorf("%s: nothing here breaks %q, and it is not listed as a fact", at, k.name)
				}
				known[k.name] = true
			}
		}
	}
	walk("shelf.toml", p.shelf, map[string]func(string, table, int, key){
		"mix": b.mix, "reduce_up_to": b.reduced, "pot_life": b.potLife, "induction": b.induction, "film": b.film,
		"wet_max": b.wetMost, "flash": b.flash, "recoat": b.recoat, "air": b.temperature, "humidity": b.humidity,
		"grit_beneath": b.scratch, "direct_to_metal": b.offMetal, "goes_on": b.unlisted, "keep_off": b.forbidden,
	}, []string{"format", "kind", "hazards", "volume_solids"})
	walk("guidecoat.toml", p.house, map[string]func(string, table, int, key){
		"bare_steel_open": b.steelOpen, "dew_margin": b.dewMargin, "wipe_before_color": b.wipeOld, "wipe_good_for": b.wipeOld,
		"water_flash": b.washDrying,
	}, []string{"format"})
	walk("sheet.toml", p.sheet, map[string]func(string, table, int, key){
		"do": b.step, "with": b.cleaner, "then_wait": b.wait, "grit": b.grit, "wet_film": b.wetFilm, "coats": b.coats,
		"between": b.between, "wear": b.wear, "stood": b.stood, "humidity": b.boothDamp, "panel": b.boothCold,
	}, []string{
		"format", "title", "number", "date", "author", "work", "shelf", "air", "where", "part", "substrate", "carries",
		"rust", "area", "faces", "tool", "product", "call", "measure",
	})
	return b.out
}

// spot names a table: a step by its number and what it does.
func spot(tables []table, i int) string {
	if tables[i].head != "[[step]]" {
		return tables[i].head
	}
	n := 0
	for _, tb := range tables[:i+1] {
		if tb.head == "[[step]]" {
			n++
		}
	}
	return fmt.Sprintf("step %d (%s)", n, tables[i].word("do"))
}

func (b *breaker) add(of string, k key, how string, sheet []table, names func(f finding) bool) {
	b.out = append(b.out, breach{of, k.note, how, sheet, names})
}

// set is the sheet with a key of one table set.
func (b *breaker) set(i int, name, value string) []table {
	out := slices.Clone(b.p.sheet)
	out[i] = out[i].with(name, value)
	return out
}

func (b *breaker) drop(i int) []table { return slices.Delete(slices.Clone(b.p.sheet), i, i+1) }

// insert is the sheet with tables put before the i-th, and a card of the sheet's own.
func (b *breaker) insert(i int, card table, steps ...table) []table {
	out := slices.Insert(slices.Clone(b.p.sheet), i, steps...)
	if card.head != "" {
		out = append(out, card)
	}
	return out
}

// laying are the places of the steps that lay a product of the shelf.
func (b *breaker) laying(head string) []int {
	name := strings.TrimSuffix(strings.TrimPrefix(head, "[product."), "]")
	var out []int
	for i, tb := range b.p.sheet {
		if tb.head == "[[step]]" && tb.word("product") == name {
			out = append(out, i)
		}
	}
	if len(out) == 0 {
		b.t.Fatalf("%s: no step lays %s", b.p.name, name)
	}
	return out
}

// nextLay is the place of the next step after i that lays a film, or -1.
func (b *breaker) nextLay(i int) int {
	for j := i + 1; j < len(b.p.sheet); j++ {
		if b.p.sheet[j].get("product") != "" {
			return j
		}
	}
	return -1
}

// card is the shelf's table of the product that a step lays.
func (b *breaker) card(step table) table {
	for _, tb := range b.p.shelf {
		if tb.head == "[product."+step.word("product")+"]" {
			return tb
		}
	}
	return table{}
}

// read reads a quantity, in its canonical unit.
func (b *breaker) read(dim quantity.Dimension, text string) quantity.Quantity {
	b.t.Helper()
	q, err := quantity.Parse(dim, strings.Trim(text, `"`))
	if err != nil {
		b.t.Fatalf("%s: %s: %v", b.p.name, text, err)
	}
	return q
}

func minutes(v float64) string { return fmt.Sprintf(`"%.6g min"`, v) }
func mils(v float64) string    { return fmt.Sprintf(`"%.6g mil"`, v) }

func past(p float64, of string) string { return fmt.Sprintf("%g %% past %s", 100*p, of) }

// ends are a range's two ends with which way is past them; an open end is none.
type end struct {
	name string
	v    float64
	way  float64
}

func endsOf(iv quantity.Interval) []end {
	out := []end{}
	if iv.Lo > 0 {
		out = append(out, end{"the least", iv.Lo, -1})
	}
	if !iv.IsOpen() {
		out = append(out, end{"the most", iv.Hi, 1})
	}
	return out
}

// The cards.

func (b *breaker) mix(of string, tb table, _ int, k key) {
	written := strings.Trim(k.value, `"`)
	m, err := quantity.ParseMix(written)
	if err != nil {
		b.t.Fatal(err)
	}
	for _, i := range b.laying(tb.head) {
		if m.Hardener == 0 {
			b.add(of, k, "a hardener in what has none", b.set(i, "mix", `"4:1"`), isRule("", "hardener-in-one-part"))
			continue
		}
		names := isRule(written, "ratio-off-card")
		for _, off := range []float64{0.94, 1.06, 0.5, 2} {
			mix := fmt.Sprintf(`"%.6g:%.6g"`, m.Base, m.Hardener*off)
			b.add(of, k, fmt.Sprintf("hardener at %g of the card's", off), b.set(i, "mix", mix), names)
		}
		b.add(of, k, "no hardener", b.set(i, "mix", fmt.Sprintf(`"%.6g:0"`, m.Base)), isRule("", "hardener-missing"))
	}
}

func (b *breaker) reduced(of string, tb table, _ int, k key) {
	most := b.read(quantity.Share, k.value).Hi
	mix := tb.word("mix")
	for _, i := range b.laying(tb.head) {
		for _, p := range pasts {
			b.add(of, k, past(p, "the most"), b.set(i, "mix", fmt.Sprintf(`"%s + %.6g %%"`, mix, most*(1+p))), isLimit(quantity.Share, most))
		}
	}
}

func (b *breaker) potLife(of string, tb table, _ int, k key) {
	most := b.read(quantity.Time, k.value).Hi
	for _, i := range b.laying(tb.head) {
		for _, p := range pasts {
			b.add(of, k, past(p, "the most"), b.set(i, "stood", minutes(most*(1+p))), isLimit(quantity.Time, most))
		}
	}
}

func (b *breaker) induction(of string, tb table, _ int, k key) {
	least := b.read(quantity.Time, k.value).Lo
	for _, i := range b.laying(tb.head) {
		for _, p := range pasts {
			b.add(of, k, past(p, "the least"), b.set(i, "stood", minutes(least*(1-p))), isLimit(quantity.Time, least))
		}
		skipped := slices.Clone(b.p.sheet)
		skipped[i] = skipped[i].without("stood")
		b.add(of, k, "skipped", skipped, isRule(k.value[1:len(k.value)-1], "induction-skipped"))
	}
}

// wetFor is the wet film of each coat of a step that dries to so many mil in all.
func (b *breaker) wetFor(step table, dry float64) float64 {
	coats := 1.0
	if c := step.get("coats"); c != "" {
		coats = b.read(quantity.Count, c).Lo
	}
	return dry / coats / b.read(quantity.Share, b.card(step).get("volume_solids")).Lo * 100
}

func (b *breaker) film(of string, tb table, _ int, k key) {
	for _, i := range b.laying(tb.head) {
		for _, e := range endsOf(b.read(quantity.Film, k.value).Interval) {
			for _, p := range pasts {
				wet := b.wetFor(b.p.sheet[i], e.v*(1+e.way*p))
				b.add(of, k, past(p, e.name), b.set(i, "wet_film", mils(wet)), isFilm(e.v))
			}
		}
	}
}

// isFilm tells a finding whose limit is a film of v mil, or that says so: one
// that is graver past half as much again shows that as its limit.
func isFilm(v float64) func(finding) bool {
	return func(f finding) bool {
		return isLimit(quantity.Film, v)(f) || isRule(fmt.Sprintf(" %.4g mil", v), "film-too-thick", "film-too-thin")(f)
	}
}

func (b *breaker) wetMost(of string, tb table, _ int, k key) {
	most := b.read(quantity.Film, k.value).Hi
	for _, i := range b.laying(tb.head) {
		for _, p := range pasts {
			b.add(of, k, past(p, "the most"), b.set(i, "wet_film", mils(most*(1+p))), isRule(strings.Trim(k.value, `"`), "coat-too-wet"))
		}
	}
}

func (b *breaker) flash(of string, tb table, _ int, k key) {
	least := b.read(quantity.Time, k.value).Lo
	for _, i := range b.laying(tb.head) {
		step := b.p.sheet[i]
		if step.get("coats") == "" { // the same film in two coats
			step = step.with("coats", "2").with("wet_film", mils(b.read(quantity.Film, step.get("wet_film")).Lo/2))
		}
		for _, p := range append([]float64{0.6}, pasts...) {
			sheet := slices.Clone(b.p.sheet)
			sheet[i] = step.with("between", minutes(least*(1-p)))
			b.add(of, k, past(p, "the least"), sheet, isLimit(quantity.Time, least))
		}
	}
}

// recoat stretches or shortens every wait from the film to the next. Where none
// follows, the film is laid once more.
func (b *breaker) recoat(of string, tb table, _ int, k key) {
	for _, i := range b.laying(tb.head) {
		before, next := b.p.sheet, b.nextLay(i)
		if next < 0 {
			next = i + 1
			before = slices.Insert(slices.Clone(before), next, before[i])
		}
		for _, e := range endsOf(b.read(quantity.Time, k.value).Interval) {
			for _, p := range pasts {
				b.add(of, k, past(p, e.name), b.spaced(before, i, next, e.v*(1+e.way*p)), isLimit(quantity.Time, e.v))
			}
		}
	}
}

// spaced is a sheet whose waits from step i to step next add up to so many minutes.
func (b *breaker) spaced(sheet []table, i, next int, gap float64) []table {
	wait := func(step table) float64 {
		if w := step.get("then_wait"); w != "" {
			return b.read(quantity.Time, w).Lo
		}
		return 0
	}
	written := 0.0
	for _, step := range sheet[i:next] {
		written += wait(step)
	}
	sheet = slices.Clone(sheet)
	for j := i; j < next; j++ {
		if w := wait(sheet[j]); w > 0 {
			sheet[j] = sheet[j].with("then_wait", minutes(w*gap/written))
		}
	}
	return sheet
}

func (b *breaker) temperature(of string, tb table, _ int, k key) {
	for _, i := range b.laying(tb.head) {
		for _, e := range endsOf(b.read(quantity.Temperature, k.value).Interval) {
			for _, what := range []string{"air", "panel"} {
				for _, degrees := range []float64{0.5, 8} {
					b.add(of, k, fmt.Sprintf("%s %g °C past %s", what, degrees, e.name),
						b.set(i, what, fmt.Sprintf(`"%.6g C"`, e.v+e.way*degrees)), isLimit(quantity.Temperature, e.v))
				}
			}
		}
	}
}

func (b *breaker) humidity(of string, tb table, _ int, k key) {
	for _, i := range b.laying(tb.head) {
		for _, e := range endsOf(b.read(quantity.Share, k.value).Interval) {
			for _, share := range []float64{1, 15} {
				b.add(of, k, fmt.Sprintf("%g %% RH past %s", share, e.name),
					b.set(i, "humidity", fmt.Sprintf(`"%.6g %%"`, e.v+e.way*share)), isLimit(quantity.Share, e.v))
			}
		}
	}
}

// scratch sands what lies beneath with the grade next past either end, and one
// far past it. The finer end counts once the film beneath is past its window.
func (b *breaker) scratch(of string, tb table, _ int, k key) {
	r, err := quantity.ParseAbrasiveRange(strings.Trim(k.value, `"`))
	if err != nil {
		b.t.Fatal(err)
	}
	grades := quantity.Grades(quantity.FEPA)
	for _, i := range b.laying(tb.head) {
		from, wiped := i, i
		for from > 0 && b.p.sheet[from-1].get("product") == "" {
			from--
		}
		for _, tb := range b.p.sheet[from:i] {
			if tb.word("do") == "clean" && wiped == i {
				wiped = from + slices.IndexFunc(b.p.sheet[from:i], func(tb table) bool { return tb.word("do") == "clean" })
			}
		}
		scuff := slices.IndexFunc(b.p.sheet[from:i], func(tb table) bool { return tb.word("do") == "scuff" })
		for _, side := range []struct {
			name  string
			grade quantity.Abrasive
			step  int
		}{{"coarser", r.Coarse, -1}, {"finer", r.Fine, 1}} {
			at := slices.Index(grades, side.grade.Number)
			for _, n := range []int{1, 3} {
				grit := fmt.Sprintf(`"P%d"`, grades[at+side.step*n])
				var sheet []table
				switch {
				case scuff >= 0:
					sheet = b.set(from+scuff, "grit", grit)
				default:
					sand := table{head: "[[step]]", keys: []key{{"do", `"sand"`, ""}, {"grit", grit, ""}, {"wear", `["particulate respirator"]`, ""}}}
					sheet = b.insert(wiped, table{}, sand)
					if side.step > 0 && from > 0 { // past its window
						sheet[from-1] = sheet[from-1].with("then_wait", `"100 h"`)
					}
				}
				b.add(of, k, fmt.Sprintf("%d grades %s", n, side.name), sheet, isRule(side.grade.Name, "scratch-too-coarse", "scratch-too-fine"))
			}
		}
	}
}

// other is a card of the sheet's own, and a step that lays it.
func other(kind string) (card, lay table) {
	card = table{head: "[product.other]", keys: []key{{"kind", `"` + kind + `"`, ""}}}
	lay = table{head: "[[step]]", keys: []key{
		{"do", `"spray"`, ""}, {"product", `"other"`, ""}, {"then_wait", `"5 h"`, ""},
		{"wear", `["supplied-air respirator", "gloves", "eye protection", "coverall"]`, ""},
	}}
	return card, lay
}

func (b *breaker) offMetal(of string, tb table, _ int, k key) {
	for _, i := range b.laying(tb.head) {
		card, lay := other("urethane surfacer")
		b.add(of, k, "laid on paint", b.insert(i, card, lay), isRule("urethane surfacer", "acid-primer-on-paint"))
		treat := table{head: "[[step]]", keys: []key{
			{"do", `"treat"`, ""}, {"with", `"acid wash"`, ""}, {"for", `"5 min"`, ""}, {"wear", `["gloves", "eye protection"]`, ""},
		}}
		rinse := table{head: "[[step]]", keys: []key{{"do", `"rinse"`, ""}, {"dried_within", `"5 min"`, ""}}}
		k.note = "TM 43-0139 3-4a: not on steel treated with phosphoric conditioner (read)"
		b.add(of, k, "laid over conditioner", b.insert(i, table{}, treat, rinse), isRule("", "acid-primer-on-acid-wash"))
	}
}

func (b *breaker) unlisted(of string, tb table, _ int, k key) {
	for _, i := range b.laying(tb.head) {
		for _, kind := range []string{"urethane surfacer", "waterborne primer", "two-part refinish"} {
			card, lay := other(kind)
			b.add(of, k, "laid on "+kind, b.insert(i, card, lay), isRule(kind, "card-does-not-list"))
		}
		for j := i - 1; j >= 0; j-- {
			if b.p.sheet[j].get("product") != "" {
				b.add(of, k, "laid on bare steel", b.drop(j), isRule("steel", "card-does-not-list"))
				break
			}
		}
	}
}

func (b *breaker) forbidden(of string, tb table, _ int, k key) {
	for _, i := range b.laying(tb.head) {
		for kind := range strings.SplitSeq(strings.Trim(k.value, `[]`), ", ") {
			kind = strings.Trim(kind, `"`)
			card, lay := other(kind)
			b.add(of, k, "laid on "+kind, b.insert(i, card, lay), isRule(kind, "card-forbids"))
		}
	}
}

// The house file.

func (b *breaker) steelOpen(of string, _ table, _ int, k key) {
	most := b.read(quantity.Time, k.value).Hi
	i := b.nextLay(0) // the first film; before it stands the wipe of the sanded steel
	for _, p := range pasts {
		b.add(of, k, past(p, "the most"), b.set(i-1, "then_wait", minutes(most*(1+p))), isLimit(quantity.Time, most))
	}
}

func (b *breaker) dewMargin(of string, _ table, _ int, k key) {
	least := b.read(quantity.TempMargin, k.value).Lo
	for i, step := range b.p.sheet {
		if step.get("product") == "" {
			continue
		}
		for _, margin := range []float64{least - 0.1, 0.5, -2} {
			sheet := slices.Clone(b.p.sheet)
			booth := b.p.sheet[slices.IndexFunc(b.p.sheet, func(tb table) bool { return tb.head == "[booth]" })]
			dew := trade.DewPoint(b.read(quantity.Temperature, booth.get("air")).Lo, b.read(quantity.Share, booth.get("humidity")).Lo)
			sheet[i] = step.with("panel", fmt.Sprintf(`"%.6g C"`, dew+margin))
			b.add(of, k, fmt.Sprintf("%s %.3g °C over the dew point", spot(b.p.sheet, i), margin), sheet, isLimit(quantity.TempMargin, least))
		}
	}
}

// wipeOld lets the last wipe before a film of that class grow old.
func (b *breaker) wipeOld(of string, _ table, _ int, k key) {
	most := b.read(quantity.Time, k.value).Hi
	for i, step := range b.p.sheet {
		color := step.get("product") != "" && strings.Contains(b.card(step).word("kind"), "single-stage")
		if step.get("product") == "" || color != (k.name == "wipe_before_color") {
			continue
		}
		for j := i - 1; j >= 0 && b.p.sheet[j].get("product") == ""; j-- {
			if b.p.sheet[j].word("do") != "clean" {
				continue
			}
			for _, p := range pasts {
				b.add(of, k, past(p, "the most"), b.set(j, "then_wait", minutes(most*(1+p))), isLimit(quantity.Time, most))
			}
			break
		}
	}
}

func (b *breaker) washDrying(of string, _ table, _ int, k key) {
	least := b.read(quantity.Time, k.value).Lo
	for i, step := range b.p.sheet {
		if step.word("with") != "wash" {
			continue
		}
		for _, p := range append([]float64{0.25}, pasts...) { // 3 h of 4
			b.add(of, k, past(p, "the least"), b.set(i, "then_wait", minutes(least*(1-p))), isLimit(quantity.Time, least))
		}
	}
}

// The sheet.

// step leaves a step out.
func (b *breaker) step(of string, tb table, i int, k key) {
	k.note = "common practice"
	for _, of := range tb.keys {
		if of.name == "with" || of.name == "measure" || of.name == "product" || of.name == "grit" {
			k.note = of.note
		}
	}
	names := map[string]func(finding) bool{
		"clean":   isRule("", "bare-metal-not-degreased", "sanded-before-degreased", "clean-again-after-break", "dust-left-under-film"),
		"tack":    isRule("", "dust-left-under-film", "clean-again-after-break"),
		"sand":    isRule("", "smooth-bare-metal", "bare-metal-not-degreased"),
		"strip":   isRule("", "gloss-not-scuffed", "rust-left-in-place", "acid-primer-on-paint"),
		"scuff":   isRule("", "gloss-not-scuffed"),
		"spray":   isRule("", "card-does-not-list", "color-on-acid-primer", "ends-unprotected", "scuffed-not-covered"),
		"inspect": isRule("", "no-measuring-stop"),
	}[tb.word("do")]
	if names == nil {
		b.t.Errorf("%s: nothing says what finds a %s left out", of, tb.word("do"))
		return
	}
	b.add(of, k, "left out", b.drop(i), names)
}

// cleaner wipes bare metal, just before its first film, with what takes no oil
// off it. On a film the documents ask for a wipe and not for a cleaner; there
// the breach is to leave it out.
func (b *breaker) cleaner(of string, _ table, i int, k key) {
	abraded := slices.ContainsFunc(b.p.sheet[:i], func(tb table) bool { return slices.Contains([]string{"sand", "strip"}, tb.word("do")) })
	if i > b.nextLay(0) || !abraded {
		return
	}
	for _, with := range []string{"soap and water", "alcohol wipe"} {
		b.add(of, k, with+" instead", b.set(i, "with", `"`+with+`"`), isRule("", "water-on-bare-steel", "bare-metal-not-degreased"))
	}
}

// wait leaves hardly any of a wait: after a film, of what its card wants before
// the next; after the last wipe before a film, of what the cleaner wants. After
// any other wipe it is no limit, but a matter of the day.
func (b *breaker) wait(of string, tb table, i int, k key) {
	next := b.nextLay(i)
	switch {
	case tb.get("product") != "" && next >= 0:
		least := b.read(quantity.Time, b.card(tb).get("recoat")).Lo
		b.add(of, k, "a tenth of the least", b.spaced(b.p.sheet, i, next, least/10), isLimit(quantity.Time, least))
	case tb.get("product") != "":
		b.add(of, k, "two minutes", b.set(i, "then_wait", `"2 min"`), func(finding) bool { return false })
	case !slices.ContainsFunc(b.p.sheet[i+1:next], func(tb table) bool { return tb.word("do") != "tack" }):
		b.add(of, k, "two minutes", b.set(i, "then_wait", `"2 min"`), isRule("", "cleaner-not-flashed"))
	}
}

// grit takes a grade that is no tooth, and one that is too much of it.
func (b *breaker) grit(of string, tb table, i int, k key) {
	if tb.word("do") == "scuff" {
		b.add(of, k, "P60", b.set(i, "grit", `"P60"`), isRule("P60", "scratch-too-coarse"))
		b.add(of, k, "P800", b.set(i, "grit", `"P800"`), isRule("P800", "scratch-too-fine"))
		return
	}
	b.add(of, k, "P400", b.set(i, "grit", `"P400"`), isRule("P320", "tooth-too-fine"))
	b.add(of, k, "P24", b.set(i, "grit", `"P24"`), isRule("P36", "tooth-too-deep"))
}

// wetFilm lays much less and much more than the card's film wants.
func (b *breaker) wetFilm(of string, tb table, i int, k key) {
	film := b.read(quantity.Film, b.card(tb).get("film"))
	b.add(of, k, "a fifth short of the least", b.set(i, "wet_film", mils(0.8*b.wetFor(tb, film.Lo))), isFilm(film.Lo))
	b.add(of, k, "twice the most", b.set(i, "wet_film", mils(2*b.wetFor(tb, film.Hi))), isFilm(film.Hi))
}

func (b *breaker) coats(of string, tb table, i int, k key) {
	film := b.read(quantity.Film, b.card(tb).get("film"))
	b.add(of, k, "one", b.set(i, "coats", "1"), isFilm(film.Lo))
	b.add(of, k, "four", b.set(i, "coats", "4"), isFilm(film.Hi))
}

func (b *breaker) between(of string, tb table, i int, k key) {
	least := b.read(quantity.Time, b.card(tb).get("flash")).Lo
	b.add(of, k, "one minute", b.set(i, "between", `"1 min"`), isLimit(quantity.Time, least))
}

func (b *breaker) stood(of string, tb table, i int, k key) {
	least := b.read(quantity.Time, b.card(tb).get("induction")).Lo
	b.add(of, k, "one minute", b.set(i, "stood", `"1 min"`), isLimit(quantity.Time, least))
}

// wear leaves out one protection at a time; who finds it names it.
func (b *breaker) wear(of string, tb table, i int, k key) {
	if k.note == "" {
		k.note = "common practice"
	}
	all := strings.Split(strings.Trim(k.value, "[]"), ", ")
	for j, w := range all {
		left := strings.Join(slices.Delete(slices.Clone(all), j, j+1), ", ")
		says := strings.Trim(w, `"`)
		if says == "particulate respirator" {
			says = "respirator"
		}
		b.add(of, k, "no "+strings.Trim(w, `"`), b.set(i, "wear", "["+left+"]"),
			isRule(says, "isocyanate-without-supplied-air", "skin-unprotected", "acid-without-protection", "dust-without-respirator", "chromate-handled"))
	}
}

// boothDamp is air so damp that the panel is near its dew point.
func (b *breaker) boothDamp(of string, _ table, i int, k key) {
	b.add(of, k, "86 % in all of the booth", b.set(i, "humidity", `"86 %"`), isLimit(quantity.TempMargin, 3))
}

// boothCold is a panel colder than any of the cans lets it be.
func (b *breaker) boothCold(of string, tb table, i int, k key) {
	if tb.head != "[booth]" {
		return
	}
	b.add(of, k, "8 °C", b.set(i, "panel", `"8 C"`), isRule("panel", "too-cold"))
}
