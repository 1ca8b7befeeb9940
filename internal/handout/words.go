package handout

import (
	"fmt"
	"slices"
	"strings"

	"guidecoat/internal/plan"
	"guidecoat/internal/sheet"
)

// verbs are what a step does, as its heading says it.
var verbs = map[string]string{
	"strip": "Strip", "sand": "Sand", "block": "Block", "scuff": "Scuff", "clean": "Wipe", "tack": "Tack off", "blow_off": "Blow off",
	"treat": "Treat", "rinse": "Rinse", "neutralize": "Neutralize", "mask": "Mask", "solder": "Solder", "spray": "Spray", "brush": "Brush",
	"spread": "Spread", "caulk": "Caulk", "bake": "Bake", "wait": "Wait", "metalwork": "Metalwork", "store": "Store", "polish": "Polish", "inspect": "Stop and measure",
}

// material is what the step works with: what stands on the can, or the paper.
func (b *builder) material(st *sheet.Step) string {
	switch {
	case st.Product.Written:
		name := b.canName(st.Product.Value)
		if st.As.Written {
			name += " as " + st.As.Value
		}
		return name
	case st.With.Written:
		return b.canName(st.With.Value)
	case st.Grit.Written:
		return st.Grit.Name
	case st.Pad.Written:
		return st.Pad.Name
	}
	return ""
}

// title is a step's heading.
func (b *builder) title(st *sheet.Step) string {
	verb := verbs[st.Do]
	what := b.material(st)
	switch st.Do {
	case "sand", "block", "scuff", "clean", "treat", "neutralize", "polish":
		if what != "" {
			return verb + " with " + what
		}
	case "spray", "brush", "spread", "caulk":
		return verb + " " + what
	case "strip":
		if st.Tool.Value == "blast" {
			return "Blast"
		}
		return verb + " with " + withArticle(st.Tool.Value)
	case "bake":
		return verb + " at " + written(st.Metal)
	case "wait", "store":
		return verb + " " + written(st.For)
	case "inspect":
		return verb + ": " + strings.Join(st.Measure.Values, ", ")
	}
	return verb
}

func withArticle(noun string) string {
	if noun == "" {
		return "what the shop has"
	}
	if strings.ContainsRune("aeiou", rune(noun[0])) {
		return "an " + noun
	}
	return "a " + noun
}

// plain tells a step in a sentence or two, built from what it writes.
func (b *builder) plain(st *sheet.Step) string {
	var w sentence
	what := b.material(st)
	kind := ""
	if st.Card != nil {
		kind = st.Card.Kind
	}
	switch st.Do {
	case "strip":
		w.say("Take it down to " + b.filmNamed(st, st.DownTo.Value))
		switch {
		case st.Tool.Value == "blast":
			w.say("by blasting")
			if st.Media.Written {
				w.say("with " + st.Media.Value)
			}
		default:
			w.say("with " + withArticle(st.Tool.Value))
		}
		if st.Grit.Written {
			w.say("and " + st.Grit.Name)
		}
		if st.Profile.Written {
			w.also("to a profile of " + written(st.Profile))
		}
	case "sand", "block", "scuff":
		w.say(verbs[st.Do])
		if st.Wet.Written {
			w.say(map[bool]string{true: "wet", false: "dry"}[st.Wet.Value])
		}
		if what != "" {
			w.say("with " + what)
		}
		if st.Tool.Written {
			w.say("on " + toolWords(st.Tool.Value))
		}
		if st.GuideCoat.Value {
			w.also("over a guide coat, until the last of it is gone")
		}
		if st.TakesOff.Written {
			w.also("taking off " + written(st.TakesOff))
		}
		if st.Feathers.Value {
			w.also("feathering the edge")
		}
		for _, c := range st.CutsTo {
			w.also(b.cutWords(st, c))
		}
	case "clean":
		w.say("Wipe with " + b.withKind(st, what))
	case "tack":
		w.say("Take the dust off with a tack cloth")
	case "blow_off":
		w.say("Blow the dust off")
	case "treat":
		w.say("Treat the bare metal with " + b.withKind(st, what))
	case "rinse":
		w.say("Rinse with water")
		if st.DriedWithin.Written {
			w.also("and have it dry within " + written(st.DriedWithin))
		}
	case "neutralize":
		w.say("Neutralize with " + b.withKind(st, what))
	case "mask":
		w.say("Cover what is named here")
		if st.Over.Written {
			w.also("the tape lying on " + strings.Join(st.Over.Values, ", "))
		}
	case "solder":
		w.say("Lay the body solder, and mind the flux it leaves")
	case "spray", "brush":
		w.say(fmt.Sprintf("%s %s of %s", verbs[st.Do], coats(st.Coats.Value), what))
		if kind != "" {
			w.say("(" + kind + ")")
		}
		if st.WetFilm.Written {
			w.also(written(st.WetFilm) + " wet" + map[bool]string{true: " each", false: ""}[st.Coats.Value > 1])
		}
		if st.Between.Written {
			w.also(written(st.Between) + " between coats")
		}
		if st.Fades.All {
			w.also("fading out at the edge")
		} else if len(st.Fades.Zones) > 0 {
			w.also("fading out in " + strings.Join(st.Fades.Zones, ", "))
		}
	case "spread":
		w.say("Spread " + what)
		if kind != "" {
			w.say("(" + kind + ")")
		}
		w.say(written(st.Thickness) + " thick")
	case "caulk":
		w.say("Lay " + what + " into the seams")
	case "bake":
		w.say("Bring the metal itself to " + written(st.Metal) + " and hold it there " + written(st.For))
		if st.By.Written {
			w.say(map[string]string{"booth": "in the booth", "lamp": "under the lamp"}[st.By.Value])
		}
	case "wait":
		w.say("Leave it " + written(st.For))
	case "store":
		w.say("Take the panel off the line for " + written(st.For))
	case "metalwork":
		w.say("Work the metal")
		if st.Welding.Value {
			w.also("welding")
		}
	case "polish":
		w.say("Polish the last film")
		if what != "" {
			w.say("with " + what)
		}
		if st.TakesOff.Written {
			w.also("taking off " + written(st.TakesOff))
		}
	case "inspect":
		w.say("Measure " + strings.Join(st.Measure.Values, ", ") + ", and write it down before going on")
	}
	return w.text + "."
}

// sentence grows word by word.
type sentence struct{ text string }

func (s *sentence) say(words string) {
	if s.text != "" {
		s.text += " "
	}
	s.text += words
}

func (s *sentence) also(words string) { s.text += ", " + words }

// filmNamed is what a step goes down or through to; the substrate by its own name
// where all the step's zones are of one.
func (b *builder) filmNamed(st *sheet.Step, what string) string {
	if what != "" && what != "substrate" {
		return "the " + what
	}
	name := ""
	for _, z := range b.doc.Zones {
		if !slices.Contains(b.doc.Steps[st.N-1].Zones, z.Name) {
			continue
		}
		if name != "" && name != z.Substrate {
			return "what each zone is made of"
		}
		name = z.Substrate
	}
	if name == "" {
		return "what the panel is made of"
	}
	return "the " + name
}

func toolWords(tool string) string {
	if tool == "hand" {
		return "the hand"
	}
	return withArticle(tool)
}

func coats(n int) string {
	if n == 1 {
		return "1 coat"
	}
	return fmt.Sprintf("%d coats", n)
}

func (b *builder) withKind(st *sheet.Step, what string) string {
	if st.WithKind != "" && st.WithKind != what {
		return what + " (" + st.WithKind + ")"
	}
	return what
}

func (b *builder) cutWords(st *sheet.Step, c sheet.Cut) string {
	words := "through to " + b.filmNamed(st, c.To)
	if c.ToCall {
		words = "through to " + c.To
	}
	if c.Area.Written {
		words += " over " + written(c.Area)
	}
	if c.Call != "" {
		words += " (from here on called " + c.Call + ")"
	}
	return words
}

// mostNamed is how many zones are named where all are meant.
const mostNamed = 6

// stepFacts are the particulars of a step beside its sentence.
func (b *builder) stepFacts(st *sheet.Step) []fact {
	var facts []string
	add := func(name, value string) { facts = append(facts, name, value) }
	add("Starts", plan.Spoken(&b.in.Plan.Steps[st.N-1].Start, plan.Nearest))
	add("Called", st.Call)
	zones := b.doc.Steps[st.N-1].Zones
	switch {
	case st.Do == "mask":
		add("Covers", strings.Join(st.On.Values, ", "))
	case st.On.Written || st.Except.Written:
		add("On", strings.Join(zones, ", "))
	case len(b.s.Zones) > 0 || len(zones) > 1:
		words := "everything"
		if len(zones) <= mostNamed {
			words += " (" + strings.Join(zones, ", ") + ")"
		}
		add("On", words)
	}
	if c := b.cupsOf[st.N]; c != nil {
		mix := c.Mix
		for _, p := range c.Parts {
			if p.Part == "hardener" || p.Part == "reducer" {
				mix += ", " + p.Part + " " + p.Name
			}
		}
		add("Mix", mix)
		add("Pot life", amountText(c.PotLife))
	}
	if st.Additive.Written {
		add("With", b.canName(st.Additive.Value))
	}
	add("Stands after mixing", written(st.Stood))
	if st.FreshCup.Value {
		add("Cup", "a fresh one for each coat")
	}
	gun := st.Gun.Value
	if st.Tip.Written {
		gun = strings.TrimSpace(gun + " " + written(st.Tip) + " tip")
	}
	if st.Pressure.Written {
		gun = strings.TrimSpace(gun + " " + written(st.Pressure))
	}
	add("Gun", gun)
	if st.Do != "wait" && st.Do != "store" && st.Do != "bake" {
		add("Takes", written(st.For))
	}
	var place []string
	if st.Where.Written {
		place = append(place, st.Where.Value)
	}
	for _, w := range []struct {
		a     sheet.Amount
		words string
	}{{st.Air, "air"}, {st.Panel, "panel"}, {st.Humidity, "humidity"}} {
		if w.a.Written {
			place = append(place, w.words+" "+written(w.a))
		}
	}
	add("Here", strings.Join(place, ", "))
	return factsOf(facts...)
}
