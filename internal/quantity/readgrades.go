package quantity

import (
	"math"
	"sort"
	"strconv"
	"strings"
)

// fepa holds the median particle, µm, of each P grade, coarsest first: FEPA /
// ISO 6344. P12 to P120, P220 and P2500 as published (read); the rest as whole
// numbers in a trade chart (read), their decimals from memory. P3000, P4000
// and P5000 are trade numbers outside the standard (common practice).
var fepa = []gradeSize{
	{12, 1815}, {16, 1324}, {20, 1000}, {24, 764}, {30, 642}, {36, 538}, {40, 425}, {50, 336}, {60, 269}, {80, 201},
	{100, 162}, {120, 125}, {150, 100}, {180, 82}, {220, 68}, {240, 58.5}, {280, 52.2}, {320, 46.2}, {360, 40.5},
	{400, 35.0}, {500, 30.2}, {600, 25.8}, {800, 21.8}, {1000, 18.3}, {1200, 15.3}, {1500, 12.6}, {2000, 10.3},
	{2500, 8.4}, {3000, 7}, {4000, 5}, {5000, 4},
}

// cami holds the same of the CAMI grades, as published (read; 120 to 600
// rounded).
var cami = []gradeSize{
	{24, 715}, {36, 535}, {40, 428}, {50, 351}, {60, 268}, {80, 192}, {100, 141}, {120, 116}, {150, 93}, {180, 82},
	{220, 68}, {240, 52}, {280, 42}, {320, 35}, {360, 28}, {400, 22}, {500, 18}, {600, 15}, {1000, 10.3},
}

// pads holds the nonwoven pads with the P grades they lie between (common
// practice, from memory).
var pads = []struct {
	name         string
	coarse, fine int
}{
	{"fine pad", 240, 320},
	{"very fine pad", 320, 400},
	{"ultra fine pad", 800, 1000},
}

type gradeSize struct {
	number  int
	microns float64
}

func sizeIn(list []gradeSize, number int) (float64, bool) {
	for _, g := range list {
		if g.number == number {
			return g.microns, true
		}
	}
	return 0, false
}

// Grades are the numbers of a system's grades, coarsest first; none for pads.
func Grades(system System) []int {
	list := fepa
	switch system {
	case CAMI:
		list = cami
	case Pad:
		return nil
	}
	numbers := make([]int, len(list))
	for i, g := range list {
		numbers[i] = g.number
	}
	return numbers
}

// PadNames are the names of the nonwoven pads, coarsest first.
func PadNames() []string {
	names := make([]string, len(pads))
	for i, p := range pads {
		names[i] = p.name
	}
	return names
}

// NearestCoarser is the FEPA grade whose median particle is nearest to a
// particle of so many µm without being finer; for one coarser than P12, P12.
func NearestCoarser(microns float64) Abrasive {
	best := fepa[0]
	for _, g := range fepa {
		if g.microns >= microns {
			best = g
		}
	}
	return fepaGrade("P"+strconv.Itoa(best.number), best.number, best.microns)
}

func fepaGrade(text string, number int, microns float64) Abrasive {
	return Abrasive{
		Text: text, Name: "P" + strconv.Itoa(number), System: FEPA, Number: number, Microns: Exactly(microns),
	}
}

// ParseAbrasive reads an abrasive: "P80" (FEPA / ISO 6344), "80 grit" (CAMI),
// "80" (taken as P80, Bare set) or a nonwoven pad ("very fine pad"). Microns
// is the median particle, of a pad the range it works like. The error is an
// *Error that names the nearest grades.
func ParseAbrasive(text string) (Abrasive, error) {
	if len(text) > longestText {
		return Abrasive{}, noGrade(text, "is too long for a grade", "")
	}
	t := strings.ToLower(strings.Join(strings.Fields(text), " "))
	if t == "" {
		return Abrasive{}, noGrade(text, "", "nothing is written")
	}
	for _, p := range pads {
		if t == p.name {
			coarse, _ := sizeIn(fepa, p.coarse)
			fine, _ := sizeIn(fepa, p.fine)
			return Abrasive{Text: text, Name: p.name, System: Pad, Microns: Interval{fine, coarse}}, nil
		}
	}
	if strings.HasSuffix(t, "pad") || t == "fine" || t == "very fine" || t == "ultra fine" {
		return Abrasive{}, &Error{
			Text:    text,
			Problem: quoted(text) + " is no pad known here",
			Want:    `write "fine pad", "very fine pad" or "ultra fine pad"`,
		}
	}
	system, figure, bare := FEPA, t, true
	if f, ok := strings.CutPrefix(t, "p"); ok {
		figure, bare = strings.TrimSpace(f), false
	} else if f, ok := strings.CutSuffix(t, "grit"); ok {
		system, figure, bare = CAMI, strings.TrimSpace(f), false
	}
	if figure == "" || len(figure) > 9 || strings.Trim(figure, "0123456789") != "" {
		return Abrasive{}, noGrade(text, "is no abrasive grade", "")
	}
	n, err := strconv.Atoi(figure)
	if err != nil {
		return Abrasive{}, noGrade(text, "is no abrasive grade", "")
	}
	if system == CAMI {
		if microns, ok := sizeIn(cami, n); ok {
			return Abrasive{
				Text: text, Name: strconv.Itoa(n) + " grit", System: CAMI, Number: n, Microns: Exactly(microns),
			}, nil
		}
		near := nearGrades(cami, n, "%d grit")
		if _, ok := sizeIn(fepa, n); ok {
			near = append(near, "P"+strconv.Itoa(n))
		}
		return Abrasive{}, unknownGrade(text, near)
	}
	microns, ok := sizeIn(fepa, n)
	if !ok {
		return Abrasive{}, unknownGrade(text, nearGrades(fepa, n, "P%d"))
	}
	a := fepaGrade(text, n, microns)
	a.Bare = bare
	return a, nil
}

// nearGrades are the two grades of a list whose numbers are nearest to n in
// proportion, coarser first.
func nearGrades(list []gradeSize, n int, pattern string) []string {
	type distance struct {
		number int
		away   float64
	}
	all := make([]distance, len(list))
	for i, g := range list {
		all[i] = distance{g.number, math.Abs(math.Log(float64(g.number) / math.Max(1, float64(n))))}
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].away < all[j].away })
	pair := []int{all[0].number, all[1].number}
	sort.Ints(pair)
	var names []string
	for _, number := range pair {
		names = append(names, strings.Replace(pattern, "%d", strconv.Itoa(number), 1))
	}
	return names
}

func unknownGrade(text string, near []string) error {
	return &Error{
		Text:    text,
		Problem: "there is no grade " + quoted(text),
		Want:    "the nearest are " + listed(near),
	}
}

func noGrade(text, problem, instead string) error {
	if instead == "" {
		instead = quoted(text) + " " + problem
	}
	return &Error{
		Text:    text,
		Problem: instead,
		Want:    `write a grade such as "P80", "80 grit" or "very fine pad"`,
	}
}

// listed joins names: "a", "a and b", "a, b and c".
func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// ParseAbrasiveRange reads a range of grades, coarse first ("P80-P180", "P80 -
// P600", "P80 to P180"), or one grade that is both ends. A bare second number
// is of the first's system ("P80-180"), a bare first of the second's ("80-180
// grit"). The error is an *Error.
func ParseAbrasiveRange(text string) (AbrasiveRange, error) {
	if len(text) > longestText {
		return AbrasiveRange{}, noGrade(text, "is too long for a range of grades", "")
	}
	t := strings.Join(strings.Fields(text), " ")
	low, high, found := cutRange(t)
	if !found {
		a, err := ParseAbrasive(text)
		if err != nil {
			return AbrasiveRange{}, err
		}
		return AbrasiveRange{Text: text, Coarse: a, Fine: a, Written: true}, nil
	}
	if _, _, again := cutRange(high); again {
		return AbrasiveRange{}, noGrade(text, "has more than two ends", "")
	}
	coarse, err := ParseAbrasive(low)
	if err != nil {
		return AbrasiveRange{}, err
	}
	fine, err := ParseAbrasive(high)
	if err != nil {
		return AbrasiveRange{}, err
	}
	switch {
	case fine.Bare && !coarse.Bare && coarse.System == FEPA:
		fine.Bare = false
	case fine.Bare && coarse.System == CAMI:
		fine, err = ParseAbrasive(high + " grit")
	case coarse.Bare && !fine.Bare && fine.System == FEPA:
		coarse.Bare = false
	case coarse.Bare && fine.System == CAMI:
		coarse, err = ParseAbrasive(low + " grit")
	}
	if err != nil {
		return AbrasiveRange{}, err
	}
	if coarse.Microns.Lo < fine.Microns.Lo || coarse.Microns.Hi < fine.Microns.Hi {
		return AbrasiveRange{}, &Error{
			Text:    text,
			Problem: quoted(text) + " runs backwards",
			Want:    "write the coarser grade first, " + quoted(fine.Name+" - "+coarse.Name),
		}
	}
	return AbrasiveRange{Text: text, Coarse: coarse, Fine: fine, Written: true}, nil
}

// cutRange parts a range of grades at its first dash, en dash or "to".
func cutRange(t string) (low, high string, found bool) {
	at, length := firstSeparator(t)
	if at < 0 {
		return t, "", false
	}
	return strings.TrimSpace(t[:at]), strings.TrimSpace(t[at+length:]), true
}
