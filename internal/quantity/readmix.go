package quantity

import (
	"regexp"
	"strconv"
	"strings"
)

// What a part of a mix may amount to.
const (
	mostParts  = 1e6
	leastParts = 1e-6
)

// wantMix says what a mix looks like.
const wantMix = `write parts by volume, base first, such as "1", "4:1", "4:1:1" or "4:1 + 10 %", or the share of a paste hardener by weight, such as "2 %"`

// ParseMix reads a mix: "4:1" (base:hardener), "4:1:1" (and reducer), "1" (one
// part, as it comes), "4:1 + 10 %" (reducer as a share of base + hardener), or
// "2 %" (a paste hardener's share by weight). The error is an *Error.
func ParseMix(text string) (Mix, error) {
	if len(text) > longestText {
		return Mix{}, wrongMix(text, "is too long for a mix")
	}
	t := strings.Join(strings.Fields(text), " ")
	m := Mix{Text: text, Written: true}
	if t == "" {
		return Mix{}, &Error{Text: text, Problem: "nothing is written", Want: wantMix}
	}
	parts, extra, plus := strings.Cut(t, "+")
	if !plus && strings.Contains(t, "%") {
		if m := unjoined.FindStringSubmatch(t); m != nil {
			return Mix{}, &Error{Text: text, Problem: quoted(text) + " has no + before its share of reducer", Want: "write " + quoted(m[1]+" + "+m[2]+" %")}
		}
		if strings.Contains(t, ":") {
			return Mix{}, wrongMix(text, "is no mix")
		}
		paste, err := Parse(Share, text)
		if err != nil {
			return Mix{}, err
		}
		if paste.IsOpen() {
			return Mix{}, wrongMix(text, "has no upper end")
		}
		m.Paste = paste
		return m, nil
	}
	written := strings.Split(parts, ":")
	if len(written) > 3 {
		return Mix{}, wrongMix(text, "has more than three parts")
	}
	numbers := make([]float64, 3)
	for i, w := range written {
		n, err := readPart(text, strings.TrimSpace(w))
		if err != nil {
			return Mix{}, err
		}
		numbers[i] = n
	}
	m.Parts, m.Base, m.Hardener, m.Reducer = len(written), numbers[0], numbers[1], numbers[2]
	if m.Base == 0 {
		if m.Hardener == 0 && m.Reducer == 0 {
			return Mix{}, wrongMix(text, "has nothing in it")
		}
		return Mix{}, wrongMix(text, "has no base in it")
	}
	if !plus {
		return m, nil
	}
	if m.Parts == 3 {
		return Mix{}, wrongMix(text, "names its reducer twice")
	}
	share, err := Parse(Share, extra)
	if err != nil {
		return Mix{}, &Error{
			Text:    text,
			Problem: quoted(text) + " has no share of reducer after its +",
			Want:    wantMix,
		}
	}
	if !share.IsExact() {
		return Mix{}, wrongMix(text, "gives its reducer as a range")
	}
	m.Reducer = (m.Base + m.Hardener) * share.Lo / 100
	return m, nil
}

// unjoined are parts and a share of reducer behind them without a +.
var unjoined = regexp.MustCompile(`(?i)^([0-9.]+(?: ?: ?[0-9.]+)*?) ?(?::|,|plus|and| ) ?([0-9.]+) ?%$`)

func readPart(text, part string) (float64, error) {
	switch figure := leadingNumber(part); {
	case strings.HasPrefix(part, "-") || strings.HasPrefix(part, "−"):
		return 0, wrongMix(text, "has a negative part")
	case part == "":
		return 0, wrongMix(text, "has an empty part")
	case figure != part:
		return 0, wrongMix(text, "is no mix")
	}
	n, err := strconv.ParseFloat(part, 64)
	switch {
	case err != nil || n > mostParts:
		return 0, wrongMix(text, "has a part that is too large")
	case n != 0 && n < leastParts, n == 0 && strings.ContainsAny(mantissa(part), "123456789"):
		return 0, wrongMix(text, "has a part that is too small")
	}
	return n, nil
}

func wrongMix(text, problem string) error {
	return &Error{Text: text, Problem: quoted(text) + " " + problem, Want: wantMix}
}

// mantissa is a figure without its power of ten.
func mantissa(figure string) string {
	m, _, _ := strings.Cut(strings.ToLower(figure), "e")
	return m
}
