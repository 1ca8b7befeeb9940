package rulebook

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// How hard a text is to read is told by two formulas, both from memory: the
// grade of J. P. Kincaid and others (Naval Technical Training Command, Research
// Branch Report 8-75, 1975), 0.39 words a sentence + 11.8 syllables a word −
// 15.59, which is the school year that reads it easily, and R. Flesch's reading
// ease (1948), 206.835 − 1.015 words a sentence − 84.6 syllables a word, where
// more is easier. A sentence ends at a full stop or a question mark; a thought,
// whose length is told too, also at a colon or a semicolon.
type reading struct {
	sentences, words, syllables int
	longest                     string // the thought of the most words
	most                        int    // how many those are
}

var (
	// A point inside of a number ends nothing.
	sentenceEnd = regexp.MustCompile(`[.!?]["'”’)]*\s+`)
	thoughtEnd  = regexp.MustCompile(`[:;]\s+`)
	aWord       = regexp.MustCompile(`[\pL\pN][\pL\pN'’.,-]*`)
)

func read(text string) reading {
	var r reading
	for _, sentence := range sentenceEnd.Split(strings.Join(strings.Fields(text), " "), -1) {
		words := aWord.FindAllString(sentence, -1)
		if len(words) == 0 {
			continue
		}
		r.sentences++
		r.words += len(words)
		for _, w := range words {
			r.syllables += syllables(w)
		}
		for _, thought := range thoughtEnd.Split(sentence, -1) {
			if n := len(aWord.FindAllString(thought, -1)); n > r.most {
				r.longest, r.most = thought, n
			}
		}
	}
	return r
}

func (r reading) perSentence() float64 { return float64(r.words) / float64(r.sentences) }
func (r reading) perWord() float64     { return float64(r.syllables) / float64(r.words) }
func (r reading) grade() float64       { return 0.39*r.perSentence() + 11.8*r.perWord() - 15.59 }
func (r reading) ease() float64        { return 206.835 - 1.015*r.perSentence() - 84.6*r.perWord() }

var (
	vowels = regexp.MustCompile(`[aeiouy]+`)
	// Two vowels that are said apart.
	apart = regexp.MustCompile(`ia|io(?:[^u]|$)|iu|ua[lt]|uou|[aeiou]ing|ien|[^aeiou]y[aeiou]`)
	// and together after all: -tion, -cial, -tious.
	together = regexp.MustCompile(`[tscg]i[ao]|ious`)
	silentE  = regexp.MustCompile(`[^aeioul]e$|[aeiou]le$|[^aeiou][^aeioudt]ed$|[aeiou][^aeioudt]ed$|[aeiou]les$|[^aeiouslxzcgh]es$`)
	// What no pattern of letters tells.
	odd = map[string]int{"area": 3, "safety": 2, "something": 2, "sometimes": 2, "everything": 3, "elsewhere": 2}
)

// syllables counts the groups of vowels of a word: a silent e at its end is
// none, and some pairs are two. A number counts as it is said only roughly, one
// a figure, and a word of capitals is spelt out.
func syllables(word string) int {
	if strings.ContainsAny(word, "0123456789") || word == strings.ToUpper(word) && len(word) > 1 {
		return len(strings.Trim(word, ".,-"))
	}
	n := 0
	for _, part := range strings.FieldsFunc(strings.ToLower(word), func(r rune) bool { return r == '-' || r == '.' || r == ',' }) {
		part = strings.TrimSuffix(strings.TrimSuffix(strings.ReplaceAll(part, "’", "'"), "'s"), "'")
		if k, ok := odd[part]; ok {
			n += k
			continue
		}
		k := len(vowels.FindAllString(part, -1)) + len(apart.FindAllString(part, -1)) - len(together.FindAllString(part, -1))
		if k > 1 && silentE.MatchString(part) {
			k--
		}
		n += max(k, 1)
	}
	return max(n, 1)
}

// The counter is held to words counted by hand, out of the rules' own texts.
func TestSyllablesAreCountedAsTheyAreSaid(t *testing.T) {
	hand := map[string]int{
		"paint": 1, "filler": 2, "primer": 2, "polyester": 4, "isocyanate": 5, "urethane": 3, "adhesion": 3, "scratch": 1,
		"surface": 2, "lacquer": 2, "solvent": 2, "moisture": 2, "temperature": 4, "humidity": 4, "sanded": 2, "wiped": 1,
		"laid": 1, "baked": 1, "flashes": 2, "holes": 1, "edges": 2, "table": 2, "single": 2, "clear": 1, "ready": 2,
		"material": 4, "aluminum": 4, "galvanized": 3, "protection": 3, "special": 2, "area": 3, "being": 2, "drying": 2,
		"epoxy": 3, "peroxide": 3, "respirator": 4, "chromate": 2, "safety": 2, "licensed": 2, "practice": 2, "delamination": 5,
		"vapor": 2, "blister": 2, "rust": 1, "does": 1, "gauge": 1, "people": 2, "year": 1, "oil": 1, "quite": 1, "wrinkles": 2,
	}
	right := 0
	for word, want := range hand {
		if got := syllables(word); got == want {
			right++
		} else {
			t.Logf("%s: %d, by hand %d", word, got, want)
		}
	}
	if right < len(hand)*95/100 {
		t.Errorf("%d of %d words are counted right", right, len(hand))
	}
}

func TestTheFormulasAreThoseOfTheirBooks(t *testing.T) {
	// Two sentences of six words and seven syllables each, worked out by hand.
	r := read("Wipe it dry with a towel. Wipe it dry with a towel.")
	if r.sentences != 2 || r.words != 12 || r.syllables != 14 || r.most != 6 {
		t.Fatalf("got %+v", r)
	}
	if got, want := fmt.Sprintf("%.2f %.2f", r.grade(), r.ease()), "0.52 102.05"; got != want {
		t.Errorf("grade and ease are %s, by hand %s", got, want)
	}
}

// What a rule says is for a second-year apprentice. These are the bounds it is
// written to.
const (
	hardest     = 9.0 // school year, of a description alone and of all a rule says
	thoughtMost = 25  // words a thought
)

// words of chemistry and of the office, each with what tells in the same text
// what it is. Trade words that an apprentice learns in the first week (filler,
// scuff, flash, feather edge, pot life) are not among them.
var explained = map[string]string{
	"isocyanate":           `hardener`,
	"styrene":              `solvent`,
	"peroxide":             `hardener|hardens`,
	"amine":                `hardener`,
	"alkali":               `opposite of acid`,
	"induction":            `stand in the cup`,
	"dew point":            `settles|damp|water`,
	"VOC":                  `solvent that leaves`,
	"fisheye":              `craters`,
	"flux":                 `acid`,
	"olefin":               `plastic`,
	"chromate":             `salt of chromium|dust`,
	"hydrolysis":           `water`,
	"profile":              `peaks`,
	"volume solids":        `stays on the panel`,
	"phosphate":            `acid`,
	"cross-hatch":          `grid`,
	"delaminat":            `lets go|comes off|peel`,
	"sensitis":             `allerg|each time`,
	"plasticizer":          `soft`,
	"catalyst":             `hardener`,
	"polymer":              `resin`,
	"substrate":            `metal|plastic`,
	"dieback":              `gloss|dull`,
	"coalesc":              `run together`,
	"thixotrop":            `thick`,
	"hygroscop":            `draws`,
	"electrochem":          `rust`,
	"passivat":             `skin`,
	"interfac":             `touch`,
	"viscosity":            `thick|thin`,
	"exotherm":             `heat|warm`,
	"crosslink|cross-link": `tie|bond`,
}

// What a description has to tell beside the mechanism, which no pattern finds.
var tells = []struct{ what, pattern string }{
	{"what it looks like", `(?i)\b(it|they|color|film|paint|poor hold|this)?\s*(looks?|shows as|can look)\b|\byou (will )?(see|feel|find)\b`},
	{"how to tell in the shop", `In the shop:`},
}

func TestEveryRuleIsWrittenForASecondYearApprentice(t *testing.T) {
	rules, err := builtinBook(t).Rules()
	if err != nil {
		t.Fatal(err)
	}
	var all, why reading
	type measured struct {
		name string
		reading
	}
	var each []measured
	for _, r := range rules {
		whole := read(strings.Join([]string{r.Title + ".", r.Description, r.Remedy, r.Safety.Text}, " "))
		description := read(r.Description)
		each = append(each, measured{r.Name, whole})
		for sum, part := range map[*reading]reading{&all: whole, &why: description} {
			sum.sentences, sum.words, sum.syllables = sum.sentences+part.sentences, sum.words+part.words, sum.syllables+part.syllables
		}
		for what, x := range map[string]reading{"its description": description, "all it says": whole} {
			if g := x.grade(); g > hardest {
				t.Errorf("%s: %s is of grade %.1f; %.0f is the hardest", r.Name, what, g, hardest)
			}
			if x.most > thoughtMost {
				t.Errorf("%s: %d words in one thought, and %d are the most: %s", r.Name, x.most, thoughtMost, x.longest)
			}
		}
		flat := strings.Join(strings.Fields(r.Description), " ")
		for _, c := range tells {
			if !regexp.MustCompile(c.pattern).MatchString(flat) {
				t.Errorf("%s: its description does not say %s", r.Name, c.what)
			}
		}
		if !strings.Contains(r.Safety.Text, "safety data sheet") {
			t.Errorf("%s: its caution does not defer to the safety data sheet", r.Name)
		}
		for term, pattern := range explained {
			if regexp.MustCompile(`(?i)\b(`+term+`)`).MatchString(flat) && !regexp.MustCompile(`(?i)`+pattern).MatchString(flat) {
				t.Errorf("%s: its description says %q and not what that is", r.Name, term)
			}
		}
	}
	slices.SortFunc(each, func(a, b measured) int {
		return cmp.Or(-cmp.Compare(a.grade(), b.grade()), cmp.Compare(a.name, b.name))
	})
	t.Logf("%d rules, %d words: %.1f words a sentence, grade %.1f, reading ease %.0f; the descriptions alone: %.1f words, grade %.1f, ease %.0f",
		len(rules), all.words, all.perSentence(), all.grade(), all.ease(), why.perSentence(), why.grade(), why.ease())
	for _, m := range each[:5] {
		t.Logf("hardest: %s, grade %.1f, ease %.0f, %.1f words a sentence", m.name, m.grade(), m.ease(), m.perSentence())
	}
}
