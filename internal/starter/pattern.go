package starter

import (
	"slices"
	"strconv"
	"strings"

	"guidecoat/internal/quantity"
)

// The patterns of texts. Each lets through every text that the program reads
// for its sort of value; what it lets through beyond that differs from those by
// the size of a number alone, as far as a pattern can tell. They keep to what
// every dialect of regular expressions reads alike: no look-around, no classes
// by name, no flags.

const (
	// blank is one character of white space, every one that the program takes
	// for such.
	blank = "[\t-\r \u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]"
	// written is a text that is not all blank.
	written = "[^\t-\r \u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]"
	blanks  = blank + "*" // there may be some
	gap     = blank + "+" // there is some

	// figure is a number: digits, or a point with digits behind it, or both.
	figure   = mantissa + `(?:[eE][+-]?[0-9]+)?`
	mantissa = `(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)`
	// between parts the two ends of a range.
	between = "(?:" + blanks + "[-–]" + blanks + "|" + gap + "[tT][oO]" + gap + ")"
)

// whole is the pattern of a text that is one of some, blanks around it apart.
func whole(ways ...string) string { return "^" + blanks + either(ways...) + blanks + "$" }

func either(ways ...string) string {
	if len(ways) == 1 {
		return ways[0]
	}
	return "(?:" + strings.Join(ways, "|") + ")"
}

// anyCase is a word in capitals or small letters, its blanks of any width.
func anyCase(word string) string {
	var b strings.Builder
	for _, r := range strings.ToLower(word) {
		if r == ' ' {
			b.WriteString(gap)
			continue
		}
		b.WriteString(oneOf(quantity.Alike(r)))
	}
	return b.String()
}

// oneOf is a character out of some, which stands for itself alone.
func oneOf(runes []rune) string {
	if len(runes) == 1 {
		if strings.ContainsRune(`\.+*?()|[]{}^$/-`, runes[0]) {
			return `\` + string(runes[0])
		}
		return string(runes[0])
	}
	return "[" + string(runes) + "]"
}

// anyCaseOf are words in capitals or small letters.
func anyCaseOf(words []string) []string {
	ways := make([]string, len(words))
	for i, w := range words {
		ways[i] = anyCase(w)
	}
	return ways
}

// wholes are the patterns of texts that are one of some: one a way, so that
// each can be read.
func wholes(ways []string) []string {
	all := make([]string, len(ways))
	for i, way := range ways {
		all[i] = whole(way)
	}
	return all
}

// wordPattern lets through the words of a closed list however they are cased.
func wordPattern(words []string) string { return whole(anyCaseOf(words)...) }

// ends are what the two ends of a quantity may look like.
type ends struct {
	number string // one number, sign included
	low    string // a unit behind the lower end; "" for a plain number
	last   string // a unit that the whole may be in
}

func endsOf(dim quantity.Dimension, only []string) ends {
	e := ends{number: figure}
	if dim == quantity.Temperature {
		e.number = "[-−]?" + figure
	}
	if dim != quantity.Count {
		e.low = blanks + either(anyCaseOf(dim.Spellings())...)
		e.last = blanks + either(anyCaseOf(dim.Spellings(only...))...)
	}
	return e
}

// one is one number with its unit.
func (e ends) one() string { return e.number + e.last }

// numbers are one number, or two with a unit behind either or both.
func (e ends) numbers() []string {
	if e.last == "" {
		return []string{e.number + "(?:" + between + e.number + ")?"}
	}
	return []string{
		e.number + e.last + "(?:" + between + e.number + ")?",
		e.number + "(?:" + e.low + ")?" + between + e.number + e.last,
	}
}

// closed are the quantities that have an upper end and are no condition.
func closed(dim quantity.Dimension, only []string) []string {
	e := endsOf(dim, only)
	ways := append(e.numbers(), "[uU][pP]"+gap+"[tT][oO]"+gap+e.one())
	if dim == quantity.Time {
		for _, w := range quantity.Waits() {
			if !strings.HasPrefix(w, "until ") {
				ways = append(ways, anyCase(w))
			}
		}
	}
	return ways
}

// quantityPatterns are a quantity of a dimension, in some of its units alone if
// any are named.
func quantityPatterns(dim quantity.Dimension, only ...string) []string {
	e := endsOf(dim, only)
	ways := append(closed(dim, only),
		"[aA][tT]"+gap+"[lL][eE][aA][sS][tT]"+gap+e.one(),
		e.one()+between+"[aA][nN][yY]",
		anyCase("any"))
	if dim == quantity.Time {
		for _, w := range quantity.Waits() {
			if strings.HasPrefix(w, "until ") {
				ways = append(ways, anyCase(w))
			}
		}
	}
	return wholes(ways)
}

// limitPatterns are a quantity that limits: it has an upper end.
func limitPatterns(dim quantity.Dimension) []string { return wholes(closed(dim, nil)) }

// mostDigits is how many digits the number of a grade may have, noughts before
// it included.
const mostDigits = 9

func gradeNumbers(numbers []int) string {
	ways := make([]string, len(numbers))
	for i, n := range numbers {
		digits := strconv.Itoa(n)
		ways[i] = "0{0," + strconv.Itoa(mostDigits-len(digits)) + "}" + digits
	}
	return either(ways...)
}

// grades are the ways to write a grade that has a number.
func grades() []string {
	p, grit := gradeNumbers(quantity.Grades(quantity.FEPA)), gradeNumbers(quantity.Grades(quantity.CAMI))
	return []string{
		anyCase("p") + blanks + p,
		grit + blanks + anyCase("grit"),
		p,
	}
}

// gradePatterns are an abrasive: a grade that has a number, or a pad.
func gradePatterns() []string {
	return wholes(append(grades(), either(anyCaseOf(quantity.PadNames())...)))
}

// padPattern is a pad, by its whole name or without the word.
func padPattern() string {
	var ways []string
	for _, name := range quantity.PadNames() {
		short, _ := strings.CutSuffix(name, " pad")
		ways = append(ways, anyCase(short)+"(?:"+gap+anyCase("pad")+")?")
	}
	return whole(ways...)
}

// numberedPatterns are a grade that is no pad.
func numberedPatterns() []string { return wholes(grades()) }

// gradesPatterns are a grade, or a range of them.
func gradesPatterns() []string {
	end := either(append(grades(), anyCaseOf(quantity.PadNames())...)...)
	return append(gradePatterns(), whole(end+between+end))
}

// mixPatterns are a mix: parts by volume, the first two with a share of reducer
// perhaps, or a share of paste hardener by weight.
func mixPatterns() []string {
	// A plus parts the mix from its share of reducer, in an exponent too.
	const power = `(?:[eE]-?[0-9]+)?`
	// The base is not nothing: there is a digit that is no nought.
	const base = blanks + `(?:[0-9]*[1-9][0-9]*(?:\.[0-9]+)?|[0-9]*\.[0-9]*[1-9][0-9]*)` + power + blanks
	const part = blanks + mantissa + power + blanks
	colons := func(n int) string { return base + "(?::" + part + "){0," + strconv.Itoa(n) + "}" }
	share := closed(quantity.Share, nil)
	paste := make([]string, len(share))
	for i, way := range share {
		paste[i] = strings.ReplaceAll(way, "[eE][+-]?", "[eE]-?")
	}
	return []string{whole(colons(2)), whole(colons(1) + `\+` + blanks + either(share...)), whole(paste...)}
}

// kindPattern is a kind by one of its names, which may be parted by blanks or
// dashes, and have & for `and`.
func kindPattern(names []string) string {
	const apart = "[-–\t-\r \u0085\u00a0\u1680\u2000-\u200a\u2028\u2029\u202f\u205f\u3000]"
	var ways []string
	for _, name := range names {
		var b strings.Builder
		words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r == ' ' || r == '-' || r == '–' })
		for i := 0; i < len(words); i++ {
			if w := words[i]; (w == "and" || w == "&") && i > 0 && i < len(words)-1 {
				b.WriteString("(?:" + apart + "+" + anyCase("and") + apart + "+|" + apart + "*&" + apart + "*)")
				continue
			}
			if i > 0 && words[i-1] != "and" && words[i-1] != "&" {
				b.WriteString(apart + "+")
			}
			b.WriteString(anyCase(words[i]))
		}
		ways = append(ways, b.String())
	}
	slices.Sort(ways)
	return "^" + apart + "*" + either(slices.Compact(ways)...) + apart + "*$"
}
