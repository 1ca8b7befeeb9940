package sheet

import (
	"sort"
	"strconv"
	"strings"

	"github.com/agnivade/levenshtein"
)

const (
	mostNear   = 3  // names told
	longToNear = 80 // a name longer than this is like no other
)

// nearest are the candidates most like a name, the likest first, at most three.
func nearest(name string, candidates []string) []string {
	if name == "" || len(name) > longToNear {
		return nil
	}
	type match struct {
		name string
		away float64
	}
	folded := foldName(name)
	var matches []match
	for _, c := range candidates {
		other := foldName(c)
		if len(other) > longToNear || other == "" {
			continue
		}
		distance := float64(levenshtein.ComputeDistance(folded, other))
		if swapped(folded, other) {
			distance = 1 // two letters in the wrong order are one slip
		}
		longest := float64(max(len([]rune(folded)), len([]rune(other))))
		away := distance / longest
		// One that holds the other whole, such as "film" for "wet film", is
		// near whatever their lengths.
		if len(folded) > 2 && len(other) > 2 && (strings.Contains(other, folded) || strings.Contains(folded, other)) {
			away = min(away, 0.4)
		}
		if away < 0.5 {
			matches = append(matches, match{c, away})
		}
	}
	sort.SliceStable(matches, func(i, j int) bool {
		if matches[i].away != matches[j].away {
			return matches[i].away < matches[j].away
		}
		return matches[i].name < matches[j].name
	})
	var names []string
	for _, m := range matches {
		// A much worse match beside a good one only confuses.
		if len(names) == mostNear || len(names) > 0 && m.away > matches[0].away+0.2 {
			break
		}
		names = append(names, m.name)
	}
	return names
}

// swapped tells whether two names differ in the order of two letters that
// stand side by side.
func swapped(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := 0; i+1 < len(a); i++ {
		if a[i] != b[i] {
			return a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
		}
	}
	return false
}

// foldName is a name as two spellings of it are compared.
func foldName(s string) string {
	s = strings.ToLower(s)
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '-' || r == '_' || r == '\t' }), " ")
}

// didYouMean asks after near names; "" where there are none.
func didYouMean(near []string) string {
	if len(near) == 0 {
		return ""
	}
	return "did you mean " + listed(near, "or", quoted) + "?"
}

// Meant are the names that a problem's message asks after ("did you mean"), the
// likest first; nil where it asks after none.
func Meant(message string) []string {
	_, asked, found := strings.Cut(message, "did you mean ")
	if !found {
		return nil
	}
	var names []string
	for {
		rest, quote := strings.CutPrefix(asked, `"`)
		name, after, closed := strings.Cut(rest, `"`)
		if !quote || !closed {
			return nil
		}
		names = append(names, name)
		switch {
		case strings.HasPrefix(after, "?"):
			return names
		case strings.HasPrefix(after, ", "):
			asked = after[len(", "):]
		case strings.HasPrefix(after, " or "):
			asked = after[len(" or "):]
		default:
			return nil
		}
	}
}

// listed writes names one after the other: "a, b or c".
func listed(names []string, word string, write func(string) string) string {
	all := make([]string, len(names))
	for i, n := range names {
		all[i] = write(n)
	}
	if len(all) < 2 {
		return strings.Join(all, "")
	}
	return strings.Join(all[:len(all)-1], ", ") + " " + word + " " + all[len(all)-1]
}

func asIs(s string) string { return s }

// quoted writes a name of the sheet as it stands there. What a terminal may not
// see is the report's matter.
func quoted(s string) string { return `"` + cut(s) + `"` }

// cut is a text of the sheet, cut where it is too long for a message.
func cut(s string) string {
	const most = 60
	return cutTo(most, s)
}

// cutTo is a text, cut where it has more than so many characters.
func cutTo(most int, s string) string {
	if r := []rune(s); len(r) > most {
		s = string(r[:most]) + "..."
	}
	return s
}

// among says what would be right where a name is not among some: near ones,
// else all of them if they are few.
func among(name string, all []string, few int, nothing string) string {
	if near := nearest(name, all); len(near) > 0 {
		return didYouMean(near)
	}
	switch {
	case len(all) == 0:
		return nothing
	case len(all) <= few:
		return "there is " + listed(all, "and", quoted)
	}
	return "there are " + strconv.Itoa(len(all)) + ", such as " + listed(all[:mostNear], "and", quoted)
}
