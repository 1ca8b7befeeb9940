package rulebook

import "guidecoat/internal/sheet"

// Shown is a number in the unit the sheet used; Hi is nil when open.
type Shown struct {
	Lo   float64  `json:"lo"`
	Hi   *float64 `json:"hi"`
	Unit string   `json:"unit"`
}

// Safety is the caution of a rule: a signal word of ANSI Z535 / ISO 3864 and what to mind.
type Safety struct {
	Signal string `json:"signal"`
	Text   string `json:"text"`
}

// Related is another place a finding rests on, such as the lower film.
type Related struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Text   string `json:"text"`
}

// Edit is one offered change to the sheet: insert a step, drop a step, set a
// key of one, or take a key out.
type Edit struct {
	Edit  string         `json:"edit"`            // insert | drop | set | unset
	Where string         `json:"where,omitempty"` // before | after, of an insert
	Step  int            `json:"step"`
	Set   map[string]any `json:"set,omitempty"` // keys of an inserted step
	Key   string         `json:"key,omitempty"`
	Value any            `json:"value,omitempty"`
}

// WordsOf reads what an edit gives as one word or as a list of them; nil where
// it is neither.
func WordsOf(v any) []string {
	switch v := v.(type) {
	case string:
		return []string{v}
	case []any:
		var out []string
		for _, x := range v {
			if s, ok := x.(string); ok {
				out = append(out, s)
			}
		}
		return out
	case []string:
		return v
	}
	return nil
}

// Finding is one verdict with everything a person reads. Its JSON is the
// contract of `inspect --as json`; what does not apply is null, lists are
// never null.
type Finding struct {
	ID        string    `json:"id"` // RULE@ON
	Rule      string    `json:"rule"`
	Family    string    `json:"family"`
	Grade     string    `json:"grade"`     // fails | risk | advice
	Certainty string    `json:"certainty"` // will | may
	Zone      *string   `json:"zone"`      // the first of Zones
	Zones     []string  `json:"zones"`
	Step      *int      `json:"step"`
	Call      *string   `json:"call"`
	File      string    `json:"file"`
	Line      int       `json:"line"`
	Column    int       `json:"column"`
	EndLine   int       `json:"end_line"`
	EndColumn int       `json:"end_column"`
	Message   string    `json:"message"`
	Why       string    `json:"why"`
	Remedy    string    `json:"remedy"`
	Defect    string    `json:"defect"`
	Measured  *Shown    `json:"measured"`
	Limit     *Shown    `json:"limit"`
	Leaned    []string  `json:"leaned"` // typical numbers it rests on, CARD.KEY
	Safety    Safety    `json:"safety"`
	Source    []string  `json:"source"`
	Related   []Related `json:"related"`
	Mend      []Edit    `json:"mend"`
	Waiver    *Applied  `json:"waiver,omitempty"` // only on waived findings

	// What the finding rests on, for drawing and mending; not part of the JSON.
	On     string      `json:"-"`
	Upper  string      `json:"-"` // layer ids
	Lower  string      `json:"-"`
	Place  sheet.Place `json:"-"`
	People bool        `json:"-"` // of the people family: its caution prints even when waived
	Pair   *Pair       `json:"-"` // the two films, where it rests on two
}

// Pair is the two films that a finding rests on, as they lie in its first zone.
type Pair struct {
	Upper, Lower Film
	Beneath      string // what the lower lies on; "" for nothing
}

// Film is what a report says of a film.
type Film struct {
	Name string
	Step int    // that laid it; 0 for what was there before the sheet
	Laid string // how thick, dry; "" where that is not known, and for the metal
}

// Applied is the waiver that set a finding aside.
type Applied struct {
	Reason string  `json:"reason"`
	By     *string `json:"by"`
	Until  *string `json:"until"` // YYYY-MM-DD
}

// Broke is a rule that could not be judged: never a clean sheet.
type Broke struct {
	Rule    string `json:"rule"`
	Message string `json:"message"`
}

// Off is a rule a house file switched off, told at the foot of every report.
type Off struct {
	Rule   string `json:"rule"`
	Reason string `json:"reason"`
}

// Result is the judgement of one sheet.
type Result struct {
	Findings []Finding // in order: file, line, column, rule, zone, id
	Waived   []Finding
	Broke    []Broke
	Off      []Off

	// oddEdits are edits of our own rules that are none: left out of what a
	// person is offered, and a fault in the project's own check.
	oddEdits []Broke
}
