// Package report prints what was judged: as text for a person at a terminal
// and as the formats that scripts and reviews read.
//
// It promises the same bytes for the same judgement, and that no string from a
// sheet reaches a terminal, a page or a parser raw. It must not know how a
// verdict was reached.
package report

import (
	"fmt"

	"guidecoat/internal/mend"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// Judged is one sheet with what was found, or with why it could not be read.
type Judged struct {
	File     string
	Title    string
	Problems []sheet.Problem // not empty: the sheet is unreadable and has no verdicts
	Sheet    *sheet.Sheet    // nil when it could not be read
	Doc      *stack.Document // nil when unreadable
	Result   rulebook.Result
	House    *rulebook.House // the shop's own rules it was judged with too; nil when it has none

	// Fixes are the edits of which each puts a finding right by itself, by the
	// finding's id; nil where nobody asked for them.
	Fixes map[string][]mend.Fix

	// Baselined: the findings were set beside a baseline. Known are those that
	// it holds, which are not among the Result's; Gone is how many entries of
	// it stand for nothing in this sheet any more.
	Baselined bool
	Known     []rulebook.Finding
	Gone      int
}

// Readable tells whether the sheet could be judged at all.
func (j Judged) Readable() bool { return len(j.Problems) == 0 && len(j.Result.Broke) == 0 }

// Counts is the sum over all sheets.
type Counts struct {
	Sheets     int `json:"sheets"`
	Unreadable int `json:"unreadable"`
	Fails      int `json:"fails"`
	Risk       int `json:"risk"`
	Advice     int `json:"advice"`
	Waived     int `json:"waived"`
	Known      int `json:"known"` // from the baseline
}

// Count adds up the sheets' findings; waived and known ones count apart.
func Count(sheets []Judged) Counts {
	var c Counts
	for _, j := range sheets {
		c.Sheets++
		if !j.Readable() {
			c.Unreadable++
		}
		for _, f := range j.Result.Findings {
			switch f.Grade {
			case "fails":
				c.Fails++
			case "risk":
				c.Risk++
			case "advice":
				c.Advice++
			}
		}
		c.Waived += len(j.Result.Waived)
		c.Known += len(j.Known)
	}
	return c
}

// The line every report ends with.
const (
	noSafety       = "Nothing here says that the work is safe; it says that the sheet has none of the faults this rulebook knows."
	noSafetyMany   = "Nothing here says that the work is safe; it says that the sheets have none of the faults this rulebook knows."
	noSafetyAdvice = "Nothing here says that the work is safe; it says that nothing in %s fails or is at risk by what this rulebook knows."
	noSafetyFound  = "Nothing here says that the work is safe; these are the faults this rulebook knows, and there are others."
)

// LastLine is the closing line of a report with these counts.
func LastLine(c Counts) string {
	switch {
	case c.Fails+c.Risk+c.Waived+c.Known+c.Unreadable > 0:
		return noSafetyFound
	case c.Advice > 0 && c.Sheets == 1:
		return fmt.Sprintf(noSafetyAdvice, "the sheet")
	case c.Advice > 0:
		return fmt.Sprintf(noSafetyAdvice, "the sheets")
	case c.Sheets == 1:
		return noSafety
	}
	return noSafetyMany
}
