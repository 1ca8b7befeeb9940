package report

import (
	"encoding/xml"
	"fmt"
	"io"
	"slices"
	"strings"

	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
)

// The elements and attributes that viewers of JUnit results have in common:
// those of the JUnit 4 result schema (see testdata/formats/validate.mjs).
// Time is always 0: a report has no wall clock in it.
type junitSuites struct {
	XMLName  xml.Name     `xml:"testsuites"`
	Name     string       `xml:"name,attr"`
	Tests    int          `xml:"tests,attr"`
	Failures int          `xml:"failures,attr"`
	Errors   int          `xml:"errors,attr"`
	Time     string       `xml:"time,attr"`
	Suites   []junitSuite `xml:"testsuite"`
}

type junitSuite struct {
	Name     string      `xml:"name,attr"`
	Tests    int         `xml:"tests,attr"`
	Failures int         `xml:"failures,attr"`
	Errors   int         `xml:"errors,attr"`
	Skipped  int         `xml:"skipped,attr"`
	Time     string      `xml:"time,attr"`
	Cases    []junitCase `xml:"testcase"`
	Out      string      `xml:"system-out,omitempty"`
}

type junitCase struct {
	Name    string      `xml:"name,attr"`
	Class   string      `xml:"classname,attr"`
	Time    string      `xml:"time,attr"`
	Skipped *junitSaid  `xml:"skipped"`
	Error   *junitFault `xml:"error"`
	Failure *junitFault `xml:"failure"`
	Out     string      `xml:"system-out,omitempty"`
}

// junitSaid has its words as text: the schema lets no attribute stand here.
type junitSaid struct {
	Message string `xml:",chardata"`
}

type junitFault struct {
	Message string `xml:"message,attr"`
	Type    string `xml:"type,attr"`
	Text    string `xml:",chardata"`
}

// readCase is the one case of a sheet that could not be read.
const readCase = "the sheet can be read"

// JUnit writes a test suite a sheet and in it a case a rule: the rules of the
// book and the shop's own it was judged with. A case fails when the rule found
// something at or above stopAt; what it found below that stands in the case's
// output. A rule that is switched off, or whose findings are all waived or known
// from the baseline, is skipped and says why.
func JUnit(w io.Writer, sheets []Judged, book *rulebook.Book, stopAt string) error {
	out := junitSuites{Name: "guidecoat", Time: "0"}
	note := LastLine(Count(sheets))
	names := book.Names()
	for _, j := range sheets {
		s := junitSuiteOf(j, names, stopAt)
		s.Out = note
		s.Tests = len(s.Cases)
		for _, c := range s.Cases {
			switch {
			case c.Error != nil:
				s.Errors++
			case c.Failure != nil:
				s.Failures++
			case c.Skipped != nil:
				s.Skipped++
			}
		}
		out.Tests += s.Tests
		out.Failures += s.Failures
		out.Errors += s.Errors
		out.Suites = append(out.Suites, s)
	}
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	enc := xml.NewEncoder(w)
	enc.Indent("", "  ")
	if err := enc.Encode(out); err != nil {
		return err
	}
	_, err := io.WriteString(w, "\n")
	return err
}

func junitSuiteOf(j Judged, book []string, stopAt string) junitSuite {
	sheet := printable.Visible(j.File)
	s := junitSuite{Name: sheet, Time: "0"}
	if len(j.Problems) > 0 {
		s.Cases = []junitCase{{Name: readCase, Class: sheet, Time: "0", Error: unreadFault(j)}}
		return s
	}
	findings, waived, known := byRule(j.Result.Findings), byRule(j.Result.Waived), byRule(j.Known)
	broke, off := map[string][]string{}, map[string]string{}
	names := slices.Clone(book)
	if j.House != nil {
		names = append(names, j.House.Names()...)
	}
	for _, b := range j.Result.Broke {
		broke[b.Rule] = append(broke[b.Rule], b.Message)
		names = append(names, b.Rule) // even one with no rule to its name
	}
	for _, o := range j.Result.Off {
		off[o.Rule] = o.Reason
		names = append(names, o.Rule)
	}
	for _, f := range slices.Concat(j.Result.Findings, j.Known) {
		names = append(names, f.Rule)
	}
	slices.Sort(names)
	for _, name := range slices.Compact(names) {
		c := junitCase{Name: printable.Visible(name), Class: sheet, Time: "0"}
		stops, below := apart(findings[name], stopAt)
		switch reason, switchedOff := off[name]; {
		case len(broke[name]) > 0:
			said := printable.Visible("rule " + name + " broke: " + broke[name][0])
			lines := make([]string, len(broke[name]))
			for i, m := range broke[name] {
				lines[i] = printable.Visible(m)
			}
			c.Error = &junitFault{Message: said, Type: "rule broke", Text: strings.Join(lines, "\n")}
		case len(stops) > 0:
			c.Failure = failure(stops)
		case switchedOff:
			c.Skipped = &junitSaid{Message: printable.Visible("switched off by the house file: " + reason)}
		case len(below) == 0 && len(waived[name]) > 0:
			c.Skipped = &junitSaid{Message: waivedMessage(waived[name])}
		case len(below) == 0 && len(known[name]) > 0:
			c.Skipped = &junitSaid{Message: knownWords(len(known[name]))}
		}
		var told []string
		for _, f := range below {
			told = append(told, findingText(f))
		}
		for _, f := range waived[name] {
			told = append(told, waivedText(f))
		}
		for _, f := range known[name] {
			told = append(told, knownText(f))
		}
		c.Out = strings.Join(told, "\n\n")
		s.Cases = append(s.Cases, c)
	}
	return s
}

func byRule(findings []rulebook.Finding) map[string][]rulebook.Finding {
	out := map[string][]rulebook.Finding{}
	for _, f := range findings {
		out[f.Rule] = append(out[f.Rule], f)
	}
	return out
}

// apart parts the findings that stop from those that are only told.
func apart(findings []rulebook.Finding, stopAt string) (stops, below []rulebook.Finding) {
	for _, f := range findings {
		if rulebook.AtLeast(f.Grade, stopAt) {
			stops = append(stops, f)
		} else {
			below = append(below, f)
		}
	}
	return stops, below
}

// failure tells of all a rule found in one sheet; its type is the gravest grade.
func failure(findings []rulebook.Finding) *junitFault {
	grade, texts := findings[0].Grade, make([]string, len(findings))
	for i, f := range findings {
		if rulebook.AtLeast(f.Grade, grade) {
			grade = f.Grade
		}
		texts[i] = findingText(f)
	}
	message := printable.Visible(where(findings[0]) + findings[0].Message)
	if n := len(findings) - 1; n > 0 {
		message += fmt.Sprintf(" (and %d more)", n)
	}
	return &junitFault{Message: message, Type: grade, Text: strings.Join(texts, "\n\n")}
}

func findingText(f rulebook.Finding) string {
	lines := []string{
		printable.Visible(fmt.Sprintf("%s %s:%d:%d %s%s", strings.ToUpper(f.Grade), f.File, f.Line, f.Column, where(f), f.Message)),
	}
	if f.Certainty == "may" {
		lines = append(lines, "it may come, it need not")
	}
	return strings.Join(append(lines, toKnow(f)...), "\n")
}

// toKnow is what to know about a finding, a line each.
func toKnow(f rulebook.Finding) []string {
	var lines []string
	add := func(label, text string) {
		if text = strings.Join(strings.Fields(text), " "); text != "" {
			lines = append(lines, printable.Visible(label+": "+text))
		}
	}
	add("why", f.Why)
	add("do", f.Remedy)
	if f.Safety.Text != "" {
		add("caution", f.Safety.Signal+": "+f.Safety.Text)
	}
	return lines
}

func waivedMessage(findings []rulebook.Finding) string {
	message := "waived"
	if w := findings[0].Waiver; w != nil {
		message += ": " + waiverSaid(w)
	}
	return printable.Visible(message)
}

func waivedText(f rulebook.Finding) string {
	said := fmt.Sprintf("WAIVED %s:%d:%d %s%s", f.File, f.Line, f.Column, where(f), f.Message)
	if f.Waiver != nil {
		said += "; " + waiverSaid(f.Waiver)
	}
	return withCaution(said, f)
}

func knownText(f rulebook.Finding) string {
	return withCaution(fmt.Sprintf("KNOWN %s:%d:%d %s%s", f.File, f.Line, f.Column, where(f), f.Message), f)
}

// withCaution is what is said of a finding that is set aside, with its caution
// where it guards people: that is never set aside with it.
func withCaution(said string, f rulebook.Finding) string {
	said = printable.Visible(said)
	if f.People && f.Safety.Text != "" {
		said += "\n" + printable.Visible("caution: "+caution(f))
	}
	return said
}

// knownWords tells how many findings a baseline holds.
func knownWords(n int) string { return fmt.Sprintf("%d known from the baseline", n) }

// waiverSaid is a waiver in words: its reason, who gave it, and until when.
func waiverSaid(w *rulebook.Applied) string {
	said := w.Reason
	if w.By != nil {
		said += ", by " + *w.By
	}
	if w.Until != nil {
		said += ", until " + *w.Until
	}
	return said
}

func unreadFault(j Judged) *junitFault {
	lines := make([]string, len(j.Problems))
	for i, p := range j.Problems {
		at := j.File
		if p.Place.File != "" {
			at = p.Place.File
		}
		if p.Place.Line > 0 {
			at += fmt.Sprintf(":%d:%d", p.Place.Line, p.Place.Column)
		}
		message := p.Message
		if p.Key != "" {
			message = p.Key + ": " + message
		}
		lines[i] = printable.Visible(at + ": " + message)
	}
	message := "cannot be read, so nothing in it was judged: " + lines[0]
	if n := len(lines) - 1; n > 0 {
		message += fmt.Sprintf(" (and %d more)", n)
	}
	return &junitFault{Message: message, Type: "unreadable", Text: strings.Join(lines, "\n")}
}
