package report

import (
	"io"

	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
)

type jsonReport struct {
	Guidecoat jsonHead    `json:"guidecoat"`
	Sheets    []jsonSheet `json:"sheets"`
	Counts    Counts      `json:"counts"`
	Note      string      `json:"note"`
}

type jsonHead struct {
	Version string `json:"version"`
	Format  int    `json:"format"`
}

type jsonSheet struct {
	File     string             `json:"file"`
	Title    string             `json:"title"`
	Readable bool               `json:"readable"`
	Errors   []jsonError        `json:"errors"`
	Findings []rulebook.Finding `json:"findings"`
	Waived   []rulebook.Finding `json:"waived"`
	Known    []rulebook.Finding `json:"known"` // from the baseline; they do not count
	Off      []rulebook.Off     `json:"off"`
}

type jsonError struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Key     string `json:"key"`
	Message string `json:"message"`
}

// JSON writes the report scripts read: one object, the contract of
// 'inspect --as json'. Lists are never null.
func JSON(w io.Writer, sheets []Judged, version string) error {
	out := jsonReport{
		Guidecoat: jsonHead{Version: version, Format: 1},
		Sheets:    make([]jsonSheet, 0, len(sheets)),
		Counts:    Count(sheets),
		Note:      LastLine(Count(sheets)),
	}
	for _, j := range sheets {
		s := jsonSheet{File: j.File, Title: j.Title, Readable: j.Readable(),
			Errors: jsonErrors(j), Findings: []rulebook.Finding{}, Waived: []rulebook.Finding{}, Known: []rulebook.Finding{}, Off: []rulebook.Off{}}
		s.Findings = append(s.Findings, j.Result.Findings...)
		s.Waived = append(s.Waived, j.Result.Waived...)
		s.Known = append(s.Known, j.Known...)
		s.Off = append(s.Off, j.Result.Off...)
		out.Sheets = append(out.Sheets, s)
	}
	return printable.JSON(w, out)
}
