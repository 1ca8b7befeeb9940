package quantity

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"github.com/agnivade/levenshtein"
)

// What a written quantity may amount to, in its canonical unit. Beyond, it is
// a slip of the pen, and arithmetic with it could run out of floats.
const (
	mostValue  = 1e12
	leastValue = 1e-12
)

// longest text that is read at all, in bytes.
const longestText = 160

// The waits that are conditions, and the habits with the minutes they stand for.
var (
	conditions = []string{"matte", "dry to touch"}
	habits     = map[string]Interval{
		"overnight": {12 * 60, 16 * 60},
		"same day":  {0, 8 * 60},
	}
)

// leadingNumber is the unsigned decimal at the start of a text, "" if there is
// none: digits, a point with digits behind it, an exponent.
func leadingNumber(s string) string {
	digits := func(i int) int {
		for i < len(s) && '0' <= s[i] && s[i] <= '9' {
			i++
		}
		return i
	}
	n := digits(0)
	if n < len(s) && s[n] == '.' {
		if m := digits(n + 1); m > n+1 {
			n = m
		}
	}
	if n == 0 {
		return ""
	}
	if n < len(s) && (s[n] == 'e' || s[n] == 'E') {
		at := n + 1
		if at < len(s) && (s[at] == '+' || s[at] == '-') {
			at++
		}
		if m := digits(at); m > at {
			n = m
		}
	}
	return s[:n]
}

// Parse reads a quantity of one dimension: a number or a range with its unit,
// "up to X", "at least X", "A - any", "any", and for a time the conditions and
// habits ("until matte", "until dry to touch", "overnight", "same day"). The
// interval is in the dimension's canonical unit; Unit is the one it was
// written in, of a range the upper end's. A Count is written without a unit.
//
// The error is an *Error: a bare number, an unknown unit, a unit of another
// dimension, a negative amount (temperatures apart), a range that runs
// backwards, NaN, infinity, and what is too large to be meant.
func Parse(dim Dimension, text string) (Quantity, error) {
	return parse(dim, text, false)
}

// ParseTypical is Parse, and reads "never" too, as the table of kinds has it
// for what may never be done.
func ParseTypical(dim Dimension, text string) (Quantity, error) {
	return parse(dim, text, true)
}

func parse(dim Dimension, text string, never bool) (Quantity, error) {
	q := Quantity{Dim: dim, Text: text, Written: true}
	if len(text) > longestText {
		return Quantity{}, wrong(dim, text, "%s is too long for a quantity")
	}
	t := strings.Join(strings.Fields(text), " ")
	folded := strings.ToLower(t)
	switch {
	case t == "":
		return Quantity{}, wrong(dim, text, "nothing is written")
	case folded == "never" && never:
		q.Never = true
		return q, nil
	case folded == "any":
		q.Interval = Interval{least(dim), math.Inf(1)}
		return q, nil
	}
	if iv, ok := habits[folded]; ok {
		if dim != Time {
			return Quantity{}, wrong(dim, text, "%s is a time, and "+dim.article()+" is wanted")
		}
		q.Interval, q.Unit = iv, "h"
		return q, nil
	}
	if condition, ok := strings.CutPrefix(folded, "until "); ok {
		return parseCondition(q, condition)
	}

	if rest, ok := cutWords(t, "up to "); ok {
		end, err := readOne(dim, text, rest)
		if err != nil {
			return Quantity{}, err
		}
		q.Interval, q.Unit = Interval{least(dim), end.value}, end.unit.name
		return q, nil
	}
	if rest, ok := cutWords(t, "at least "); ok {
		end, err := readOne(dim, text, rest)
		if err != nil {
			return Quantity{}, err
		}
		q.Interval, q.Unit = Interval{end.value, math.Inf(1)}, end.unit.name
		return q, nil
	}
	return parseRange(q, t)
}

// parseCondition reads what stands after "until".
func parseCondition(q Quantity, condition string) (Quantity, error) {
	if q.Dim != Time {
		return Quantity{}, wrong(q.Dim, q.Text, "%s is a wait, and "+q.Dim.article()+" is wanted")
	}
	for _, c := range conditions {
		if condition == c {
			q.Until, q.Interval = c, Open
			return q, nil
		}
	}
	return Quantity{}, &Error{
		Text:    q.Text,
		Problem: quoted(q.Text) + " is no condition that a wait may end on",
		Want:    `write "until matte" or "until dry to touch", or a time such as "15 min"`,
	}
}

// parseRange reads one number, or two with a dash or "to" between them.
func parseRange(q Quantity, t string) (Quantity, error) {
	low, high, isRange := splitRange(t)
	if !isRange {
		only, err := readOne(q.Dim, q.Text, t)
		if err != nil {
			return Quantity{}, err
		}
		q.Interval, q.Unit = Exactly(only.value), only.unit.name
		return q, nil
	}
	first, err := readEnd(q.Dim, q.Text, low)
	if err != nil {
		return Quantity{}, err
	}
	if strings.EqualFold(high, "any") {
		if err := first.settle(q.Dim, q.Text, first.unitText); err != nil {
			return Quantity{}, err
		}
		q.Interval, q.Unit = Interval{first.value, math.Inf(1)}, first.unit.name
		return q, nil
	}
	if _, _, again := splitRange(high); again {
		return Quantity{}, wrong(q.Dim, q.Text, "%s has more than two ends")
	}
	second, err := readEnd(q.Dim, q.Text, high)
	if err != nil {
		return Quantity{}, err
	}
	// A unit on one end holds for both.
	lowUnit, highUnit := first.unitText, second.unitText
	if lowUnit == "" {
		lowUnit = highUnit
	}
	if highUnit == "" {
		highUnit = lowUnit
	}
	if err := first.settle(q.Dim, q.Text, lowUnit); err != nil {
		return Quantity{}, err
	}
	if err := second.settle(q.Dim, q.Text, highUnit); err != nil {
		return Quantity{}, err
	}
	if first.value > second.value {
		turned := trim(second.figure+" "+second.unit.name) + " - " + trim(first.figure+" "+first.unit.name)
		return Quantity{}, &Error{
			Text:    q.Text,
			Problem: quoted(q.Text) + " runs backwards",
			Want:    "write the smaller end first, " + quoted(turned),
		}
	}
	q.Interval, q.Unit = Interval{first.value, second.value}, second.unit.name
	return q, nil
}

// end is one end of a range on its way to being read.
type end struct {
	figure   string // as written, sign included
	unitText string // what stands after it, "" if nothing
	unit     unit
	value    float64 // in the canonical unit
}

// readOne reads one number with its unit, and nothing more.
func readOne(dim Dimension, text, s string) (end, error) {
	if _, _, isRange := splitRange(s); isRange {
		return end{}, wrong(dim, text, "%s names two ends where one is due")
	}
	e, err := readEnd(dim, text, s)
	if err != nil {
		return end{}, err
	}
	return e, e.settle(dim, text, e.unitText)
}

// readEnd reads a number and takes what follows for its unit.
func readEnd(dim Dimension, text, s string) (end, error) {
	sign, rest := "", s
	for _, minus := range []string{"-", "−"} {
		if r, ok := strings.CutPrefix(rest, minus); ok {
			sign, rest = "-", r
			break
		}
	}
	if strings.ContainsAny(rest, otherDashes) {
		return end{}, otherDash(text)
	}
	figure := leadingNumber(rest)
	switch {
	case figure == "":
		return end{}, noNumber(dim, text, rest)
	case sign != "" && dim != Temperature:
		return end{}, wrong(dim, text, "%s is negative")
	}
	e := end{figure: sign + figure, unitText: strings.TrimSpace(rest[len(figure):])}
	if err := oddFigure(dim, text, e.unitText); err != nil {
		return end{}, err
	}
	f, err := strconv.ParseFloat(figure, 64)
	if err != nil || f > mostValue {
		return end{}, wrong(dim, text, "%s is too large")
	}
	if f != 0 && f < leastValue {
		return end{}, wrong(dim, text, "%s is too small to measure")
	}
	if f == 0 {
		e.figure = "0" // without an exponent, which would be worked out at full length
	}
	return e, nil
}

// settle finds the end's unit and works out its value.
func (e *end) settle(dim Dimension, text, unitText string) error {
	u, ok := findUnit(dim, unitText)
	if !ok {
		return noUnit(dim, text, unitText)
	}
	e.unit = *u
	e.value = u.canonical(e.figure)
	switch {
	case dim == Temperature && e.value < absoluteZero:
		return wrong(dim, text, "%s is colder than anything can be")
	case math.Abs(e.value) > mostValue:
		return wrong(dim, text, "%s is too large")
	}
	return nil
}

// splitRange parts a text at its first dash, en dash or "to" after a number.
func splitRange(t string) (low, high string, ok bool) {
	start := 0
	if strings.HasPrefix(t, "-") {
		start = 1
	} else if strings.HasPrefix(t, "−") {
		start = len("−")
	}
	figure := leadingNumber(t[start:])
	if figure == "" {
		return t, "", false
	}
	start += len(figure)
	rest := t[start:]
	at, length := firstSeparator(rest)
	if at < 0 {
		return t, "", false
	}
	return strings.TrimSpace(t[:start+at]), strings.TrimSpace(rest[at+length:]), true
}

// separators part the ends of a range.
var separators = []string{"-", "–", " to "}

// firstSeparator is where the first separator stands and how long it is; at is
// -1 where there is none. "to" may be in capitals.
func firstSeparator(s string) (at, length int) {
	at = -1
	folded := s
	if strings.ContainsAny(s, "TO") {
		// Lower case by bytes, so that the places stay the same.
		folded = strings.NewReplacer("TO", "to", "To", "to", "tO", "to").Replace(s)
	}
	for _, separator := range separators {
		if i := strings.Index(folded, separator); i >= 0 && (at < 0 || i < at) {
			at, length = i, len(separator)
		}
	}
	return at, length
}

// otherDashes are the dashes that part no range, and the minus where it stands
// for one.
const otherDashes = "—―−‐‑‒"

// otherDash says that a dash is none that parts a range, and writes the plain one.
func otherDash(text string) error {
	plain := strings.Map(func(r rune) rune {
		if strings.ContainsRune(otherDashes, r) {
			return '-'
		}
		return r
	}, text)
	return &Error{
		Text:    text,
		Problem: quoted(text) + " has a dash in it that is not the plain one",
		Want:    "write " + quoted(plain),
	}
}

func cutWords(t, words string) (string, bool) {
	if len(t) >= len(words) && strings.EqualFold(t[:len(words)], words) {
		return strings.TrimSpace(t[len(words):]), true
	}
	return t, false
}

// least is the lower end of what has none: zero, or absolute zero.
func least(dim Dimension) float64 {
	if dim == Temperature {
		return absoluteZero
	}
	return 0
}

// oddFigure says what is wrong with a number that goes on in a way that is no
// unit: a comma, a fraction, a second number.
func oddFigure(dim Dimension, text, rest string) error {
	switch {
	case strings.HasPrefix(rest, ","):
		return &Error{
			Text:    text,
			Problem: quoted(text) + " has a comma in its number",
			Want:    "write decimals with a point and thousands without a mark, such as 1.5 or 1000",
		}
	case strings.HasPrefix(rest, "/"), strings.ContainsAny(rest, fractions), mixed.MatchString(rest):
		return fraction(dim, text)
	case strings.HasPrefix(rest, "."):
		return wrong(dim, text, "%s has a number that does not read")
	case rest != "" && rest[0] >= '0' && rest[0] <= '9':
		return wrong(dim, text, "%s has two numbers and neither a dash nor a unit between them")
	}
	if dim == Time && compound.MatchString(rest) {
		return &Error{
			Text:    text,
			Problem: quoted(text) + " is written in two units",
			Want:    `write it in one, such as "90 min" or "1.5 h"`,
		}
	}
	return nil
}

// fractions are those that one character writes.
const fractions = "½¼¾⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞"

// mixed is the tail of "1 1/2 h".
var mixed = regexp.MustCompile(`^[0-9]+ ?[/⁄] ?[0-9]`)

func fraction(dim Dimension, text string) error {
	want := `write a decimal, such as "0.25 in" for a quarter`
	if dim == Time {
		want = `write a decimal, such as "1.5 h" for an hour and a half`
	}
	return &Error{Text: text, Problem: quoted(text) + " is written as a fraction", Want: want}
}

// compound is the tail of "1 h 30 min".
var compound = regexp.MustCompile(`(?i)^[a-z]+ ?[0-9]`)

func noNumber(dim Dimension, text, rest string) error {
	word := strings.ToLower(rest)
	switch {
	case strings.HasPrefix(word, "nan"):
		return wrong(dim, text, "%s is not a number")
	case strings.HasPrefix(word, "inf"), strings.HasPrefix(word, "∞"):
		return wrong(dim, text, "%s is without end")
	case word == "never":
		return wrong(dim, text, "%s may not stand here")
	case strings.ContainsAny(rest, fractions):
		return fraction(dim, text)
	}
	return wrong(dim, text, "%s has no number where one is due")
}

// noUnit says why a text is no unit of the dimension.
func noUnit(dim Dimension, text, unitText string) error {
	if unitText == "" {
		return wrong(dim, text, "%s has no unit")
	}
	if dim == Count {
		return wrong(dim, text, "%s has something after its number, and a plain number is wanted")
	}
	if (dim == Temperature || dim == TempMargin) && noScale[plainUnit(unitText)] {
		return wrong(dim, text, "%s does not say whether °F or °C is meant")
	}
	for _, other := range dimensions {
		if other == dim || other == Count {
			continue
		}
		if _, ok := findUnit(other, unitText); ok {
			return wrong(dim, text, "%s is "+other.article()+", and "+dim.article()+" is wanted")
		}
	}
	err := &Error{
		Text:    text,
		Problem: quoted(text) + " has an unknown unit, " + quoted(unitText),
		Want:    wants(dim),
	}
	if near := nearUnit(dim, unitText); near != "" {
		err.Want = "did you mean " + quoted(near) + "? " + err.Want
	}
	return err
}

// noScale are degrees of no scale.
var noScale = map[string]bool{"°": true, "deg": true, "degree": true, "degrees": true}

// saidFor are common ways to write a unit that the sheet does not take, each
// with the one it does.
var saidFor = map[string]string{
	"sec": "s", "secs": "s", "second": "s", "seconds": "s",
	"m": "min", "mins": "min", "minute": "min", "minutes": "min", "'": "min",
	"hr": "h", "hrs": "h", "hour": "h", "hours": "h",
	"d": "days", "dy": "days", "wk": "weeks", "wks": "weeks", "w": "weeks",
	"mils": "mil", "thou": "mil", "inch": "in", "inches": "in", `"`: "in", "millimeter": "mm", "millimetre": "mm",
	"deg f": "°F", "degf": "°F", "degrees f": "°F", "fahrenheit": "°F", "deg c": "°C", "degc": "°C", "degrees c": "°C", "celsius": "°C",
	"ft²": "ft2", "sq ft": "ft2", "square feet": "ft2", "sq. ft.": "ft2", "in²": "in2", "sq in": "in2", "m²": "m2", "cm²": "cm2",
	"gallon": "gal", "gallons": "gal", "quart": "qt", "quarts": "qt", "pint": "pt", "pints": "pt", "oz": "fl oz", "ounces": "fl oz", "liter": "L", "liters": "L", "litre": "L", "litres": "L",
	"lbs/gal": "lb/gal", "gpl": "g/L", "g/l.": "g/L", "g/cc": "g/mL", "g/cm3": "g/mL",
	"psig": "psi", "percent": "%", "pct": "%", "per cent": "%",
	"sqft/gal": "ft2/gal", "ft²/gal": "ft2/gal", "m²/l": "m2/L",
}

// nearUnit is the unit of the dimension that was most likely meant, or "".
func nearUnit(dim Dimension, unitText string) string {
	folded := plainUnit(unitText)
	if name, ok := saidFor[folded]; ok {
		if u, ok := findUnit(dim, name); ok {
			return u.name
		}
	}
	best, least := "", 3
	for _, u := range units[dim] {
		for _, s := range u.spelled {
			most := 1
			if len(s) > 3 {
				most = 2
			}
			if d := levenshtein.ComputeDistance(folded, s); d <= most && d < least && d < len(s) {
				best, least = u.name, d
			}
		}
	}
	return best
}

// wants says what would be accepted for a dimension.
func wants(dim Dimension) string {
	switch dim {
	case Time:
		return `write a time in s, min, h, days or weeks, such as "15 min" or "1 h - 72 h"`
	case Film:
		return `write a thickness in mil, µm, mm or in, such as "2-3 mil" or "60 µm"`
	case Temperature:
		return `write a temperature in °F or °C, such as "72 F" or "20-25 C"`
	case TempMargin:
		return `write a difference of temperatures in °F or °C, such as "3 C"`
	case Area:
		return `write an area in ft2, in2, m2 or cm2, such as "14 ft2"`
	case Volume:
		return `write a volume in gal, qt, pt, floz, L or mL, such as "1 qt"`
	case Concentration:
		return `write it in g/L, g/mL or lb/gal, such as "420 g/L" or "3.5 lb/gal"`
	case Pressure:
		return `write a pressure in psi, bar or kPa, such as "26-29 psi"`
	case Share:
		return `write a share in %, such as "45 %"`
	case Coverage:
		return `write a coverage in ft2/gal or m2/L, such as "320 ft2/gal"`
	case Particle:
		return `write a particle size in µm, such as "201 µm"`
	case Count:
		return "write a plain number or a range, such as 2 or 2-3"
	}
	return "write a number with its unit"
}

// wrong makes an error of a problem in which %s stands for the quoted text.
func wrong(dim Dimension, text, problem string) error {
	return &Error{
		Text:    text,
		Problem: strings.Replace(problem, "%s", quoted(text), 1),
		Want:    wants(dim),
	}
}

// quoted puts a text in quotation marks, control characters made visible, cut
// short if it runs on.
func quoted(text string) string {
	const most = 48
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	return strconv.Quote(text)
}
