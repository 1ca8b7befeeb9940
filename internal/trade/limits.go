package trade

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"guidecoat/internal/quantity"
	"guidecoat/policies"
)

// Limit is one named judgement number of policies/limits.json.
type Limit struct {
	Name   string
	About  string
	Source string
	// Restoration and Collision are its values for the two kinds of work; they
	// are the same where it does not differ (Differs is false).
	Restoration, Collision LimitValue
	Differs                bool
}

// LimitValue is what a limit amounts to: a quantity (a Count for a plain
// number), or, where Grade.Name is not empty, an abrasive grade.
type LimitValue struct {
	quantity.Quantity
	Grade quantity.Abrasive
}

// IsGrade reports whether the limit is an abrasive grade.
func (v LimitValue) IsGrade() bool { return v.Grade.Name != "" }

// String writes the value as a message has it.
func (v LimitValue) String() string {
	if v.IsGrade() {
		return v.Grade.Name
	}
	return v.Quantity.String()
}

// For is the limit's value for "restoration" or "collision".
func (l Limit) For(work string) LimitValue {
	if work == "collision" {
		return l.Collision
	}
	return l.Restoration
}

// Limits are the named limits of policies/limits.json, sorted by name, read
// once. See LoadError.
func Limits() []Limit {
	limits, _ := loadLimits()
	return limits
}

// LimitNamed finds a limit by its name.
func LimitNamed(name string) (Limit, bool) {
	for _, l := range Limits() {
		if l.Name == name {
			return l, true
		}
	}
	return Limit{}, false
}

// NearLimits are up to three names of limits that are most like a name,
// nearest first.
func NearLimits(name string) []string {
	var all []candidate
	fold := func(s string) string { return strings.ReplaceAll(foldName(s), "_", " ") }
	for _, l := range Limits() {
		if away := unlike(fold(name), fold(l.Name)); away < 1 {
			all = append(all, candidate{l.Name, away})
		}
	}
	return nearestOf(all)
}

var loadLimits = sync.OnceValues(func() ([]Limit, error) {
	data, err := policies.Files.ReadFile("limits.json")
	if err != nil {
		return nil, fmt.Errorf("reading the limits: %w", err)
	}
	return readLimits(data)
})

// readLimits reads a table of limits, sorted by name.
func readLimits(data []byte) ([]Limit, error) {
	type entry struct {
		Value       any    `json:"value"`
		Restoration any    `json:"restoration"`
		Collision   any    `json:"collision"`
		About       string `json:"about"`
		Source      string `json:"source"`
	}
	var file struct {
		Limits map[string]entry `json:"limits"`
	}
	if err := json.Unmarshal(data, &file); err != nil {
		return nil, fmt.Errorf("reading the limits: %w", err)
	}
	limits := make([]Limit, 0, len(file.Limits))
	for name, e := range file.Limits {
		l := Limit{Name: name, About: e.About, Source: e.Source}
		var err error
		switch {
		case e.Value != nil && e.Restoration == nil && e.Collision == nil:
			l.Restoration, err = readLimit(name, e.Value)
			l.Collision = l.Restoration
		case e.Value == nil && e.Restoration != nil && e.Collision != nil:
			l.Differs = true
			l.Restoration, err = readLimit(name, e.Restoration)
			if err == nil {
				l.Collision, err = readLimit(name, e.Collision)
			}
			if err == nil && l.Restoration.Dim != l.Collision.Dim {
				err = fmt.Errorf("its two values measure different things")
			}
		default:
			err = fmt.Errorf("it needs a value, or one for restoration and one for collision")
		}
		if err != nil {
			return nil, fmt.Errorf("limit %s: %w", name, err)
		}
		limits = append(limits, l)
	}
	slices.SortFunc(limits, func(a, b Limit) int { return strings.Compare(a.Name, b.Name) })
	return limits, nil
}

// limitDimensions are tried in turn on a limit's text; its unit decides.
var limitDimensions = []quantity.Dimension{
	quantity.Time, quantity.Film, quantity.Temperature, quantity.Area, quantity.Volume,
	quantity.Concentration, quantity.Pressure, quantity.Share, quantity.Coverage,
}

// readLimit reads a limit's value: a plain number, a grade, or a quantity
// whose unit says what it measures. A temperature whose limit is named
// "..._margin" is a difference.
func readLimit(name string, value any) (LimitValue, error) {
	text, isText := value.(string)
	if !isText {
		number, ok := value.(float64)
		if !ok {
			return LimitValue{}, fmt.Errorf("its value is neither a number nor a text")
		}
		return LimitValue{Quantity: quantity.Quantity{
			Interval: quantity.Exactly(number), Dim: quantity.Count,
			Text: quantity.FormatNumber(number), Written: true,
		}}, nil
	}
	if grade, err := quantity.ParseAbrasive(text); err == nil && !grade.Bare {
		return gradeLimit(grade), nil
	}
	if strings.HasSuffix(name, "_margin") {
		q, err := quantity.Parse(quantity.TempMargin, text)
		return LimitValue{Quantity: q}, err
	}
	for _, dim := range limitDimensions {
		if q, err := quantity.Parse(dim, text); err == nil {
			return LimitValue{Quantity: q}, nil
		}
	}
	return LimitValue{}, fmt.Errorf("%q is no quantity", text)
}

func gradeLimit(grade quantity.Abrasive) LimitValue {
	return LimitValue{
		Quantity: quantity.Quantity{
			Interval: grade.Microns, Dim: quantity.Particle, Unit: "µm", Text: grade.Text, Written: true,
		},
		Grade: grade,
	}
}

// ParseHouse reads what a house file puts in the limit's place. It must
// measure the same thing, and be one number unless the limit is a range. The
// error is a *quantity.Error.
func (l Limit) ParseHouse(text string) (LimitValue, error) {
	if l.Restoration.IsGrade() {
		grade, err := quantity.ParseAbrasive(text)
		if err != nil {
			return LimitValue{}, err
		}
		if grade.System == quantity.Pad {
			return LimitValue{}, l.unlike(text, "is a pad, and this limit is a grade")
		}
		return gradeLimit(grade), nil
	}
	q, err := quantity.Parse(l.Restoration.Dim, text)
	if err != nil {
		return LimitValue{}, err
	}
	switch {
	case q.Until != "":
		return LimitValue{}, l.unlike(text, "is a condition, and this limit is a number")
	case q.IsOpen():
		return LimitValue{}, l.unlike(text, "has no upper end, and would limit nothing")
	case !q.IsExact() && l.Restoration.IsExact():
		return LimitValue{}, l.unlike(text, "is a range, and this limit is one number")
	case q.Hi == 0 && l.Restoration.Lo > 0 && l.Restoration.Dim == quantity.Count:
		return LimitValue{}, l.unlike(text, "is nothing, and this limit is a ratio")
	}
	return LimitValue{Quantity: q}, nil
}

func (l Limit) unlike(text, problem string) error {
	return &quantity.Error{
		Text:    text,
		Problem: fmt.Sprintf("%q %s", text, problem),
		Want:    fmt.Sprintf("write it as the rulebook does, such as %q", l.Restoration.String()),
	}
}
