package report

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/owenrumney/go-sarif/v3/pkg/report/v210/sarif"

	"guidecoat/internal/compare"
	"guidecoat/internal/mend"
	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
)

// sarifSchema is where OASIS publishes the schema of SARIF 2.1.0.
const sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

// fingerprint names how a result is known again; the number goes up when what
// it is made of changes.
const fingerprint = "guidecoatFinding/v2"

// prints are the fingerprints of one sheet's findings.
type prints struct {
	j    Judged
	seen map[string]int
}

func fingerprints(j Judged) prints { return prints{j, map[string]int{}} }

// next is the fingerprint of the next finding. It is made of what the step does
// and the names of film and zone, never of a line or a step's number: a finding
// is known again after the text above it has moved or a step was put in. Of
// several with all of that alike, each says which one it is.
func (p prints) next(f rulebook.Finding) string {
	said := compare.Like(p.j.Doc, f)
	if f.Zone != nil {
		said += " on " + *f.Zone
	}
	said = printable.Visible(said) + " in " + fileURI(f.File)
	p.seen[said]++
	if n := p.seen[said]; n > 1 {
		said += fmt.Sprintf(" (%d)", n)
	}
	return said
}

// SARIFOptions is what a SARIF log needs beside the judged sheets.
type SARIFOptions struct {
	Version string
	Book    *rulebook.Book

	// Fixes are the edits offered for a finding of a sheet, each of which puts
	// it right by itself. Nil: none are offered.
	Fixes func(file string, f rulebook.Finding) []mend.Fix

	// Text is a file's text as it was read, or nil. SARIF counts columns in
	// UTF-16 units where a Place counts characters; a place in a file whose
	// text is not to be had is given without its columns.
	Text func(file string) []byte
}

// SARIF writes one SARIF 2.1.0 log with one run: a result a finding, a waived
// one with its suppression, and a notification for what could not be read. The
// rules that spoke are described from their METADATA. Set beside a baseline,
// every result says whether it is new.
func SARIF(w io.Writer, sheets []Judged, o SARIFOptions) error {
	s := sarifWriter{o: o, files: map[string][]byte{}, texts: map[string][][]byte{}, index: map[string]int{}}
	rules, err := s.rules(sheets)
	if err != nil {
		return err
	}
	driver := sarif.NewToolComponent().WithName("guidecoat").WithVersion(o.Version).WithSemanticVersion(o.Version).WithRules(rules)
	run := sarif.NewRun().WithTool(sarif.NewTool().WithDriver(driver)).WithColumnKind("utf16CodeUnits")
	counts := Count(sheets)
	invocation := sarif.NewInvocation().WithExecutionSuccessful(counts.Unreadable == 0)
	listed := map[string]bool{}
	for _, j := range sheets {
		if uri := fileURI(j.File); !listed[uri] {
			listed[uri] = true
			run.AddArtifact(sarif.NewArtifact().WithLocation(sarif.NewArtifactLocation().WithURI(uri)).WithRoles([]string{"analysisTarget"}))
		}
		for _, p := range j.Problems {
			invocation.AddToolExecutionNotification(s.unread(j, p))
		}
		for _, b := range j.Result.Broke {
			invocation.AddToolExecutionNotification(s.broke(j, b))
		}
		for _, off := range j.Result.Off {
			invocation.AddToolConfigurationNotification(sarif.NewNotification().WithLevel("note").
				WithAssociatedRule(sarif.NewReportingDescriptorReference().WithID(printable.Visible(off.Rule))).
				WithMessage(sarifMessage(off.Rule + " is switched off by the house file: " + off.Reason)).
				WithLocations([]*sarif.Location{s.location(sheet.Place{File: j.File})}))
		}
		prints := fingerprints(j)
		add := func(list []rulebook.Finding, state string, more func(*sarif.Result, rulebook.Finding) error) error {
			for _, f := range list {
				r := s.result(f, prints.next(f))
				if j.Baselined {
					r.WithBaselineState(state)
				}
				if err := more(r, f); err != nil {
					return err
				}
				run.AddResult(r)
			}
			return nil
		}
		fix := func(r *sarif.Result, f rulebook.Finding) error { return s.fixes(r, j.File, f) }
		if err := errors.Join(add(j.Result.Findings, "new", fix), add(j.Known, "unchanged", fix),
			add(j.Result.Waived, "unchanged", func(r *sarif.Result, f rulebook.Finding) error {
				r.AddSuppression(suppression(f))
				return nil
			})); err != nil {
			return err
		}
	}
	run.AddInvocation(invocation)
	run.WithProperties(sarif.NewPropertyBag().Add("note", LastLine(counts)).Add("counts", counts))
	log := sarif.NewReport().AddRun(run)
	log.Schema = sarifSchema
	return writeSARIF(w, log)
}

// sarifWriter carries what the parts of one log share.
type sarifWriter struct {
	o     SARIFOptions
	files map[string][]byte   // texts of the files places lie in
	texts map[string][][]byte // their lines; nil when not to be had
	index map[string]int      // of a rule among the rule records
}

// rules are the records of the rules that spoke, by name. Two shops' folders
// in one run may each have a rule of the same name: the first sheet's record
// stands for both, as a log knows a rule by its name alone.
func (s *sarifWriter) rules(sheets []Judged) ([]*sarif.ReportingDescriptor, error) {
	spoke := map[string]rulebook.Rule{}
	for _, j := range sheets {
		for _, f := range slices.Concat(j.Result.Findings, j.Known, j.Result.Waived) {
			if _, ok := spoke[f.Rule]; ok {
				continue
			}
			r, err := ruleRecord(s.o.Book, j.House, f)
			if err != nil {
				return nil, err
			}
			spoke[f.Rule] = r
		}
	}
	names := make([]string, 0, len(spoke))
	for name := range spoke {
		names = append(names, name)
	}
	slices.Sort(names)
	out := make([]*sarif.ReportingDescriptor, 0, len(names))
	for i, name := range names {
		r := spoke[name]
		s.index[name] = i
		help := r.Remedy
		if r.Safety.Text != "" {
			help += "\n\n" + r.Safety.Signal + ": " + r.Safety.Text
		}
		properties := sarif.NewPropertyBag().Add("family", printable.Visible(r.Family)).Add("grade", r.Grade).
			WithTags([]string{printable.Visible(r.Family)})
		if len(r.Source) > 0 {
			properties.Add("source", visibleAll(r.Source))
		}
		if r.Defect != "" {
			properties.Add("defect", printable.Visible(r.Defect))
		}
		out = append(out, sarif.NewReportingDescriptor().WithID(printable.Visible(name)).WithName(printable.Visible(r.Title)).
			WithShortDescription(sarif.NewMultiformatMessageString().WithText(sarifText(r.Title))).
			WithFullDescription(sarif.NewMultiformatMessageString().WithText(sarifText(r.Description))).
			WithHelp(sarif.NewMultiformatMessageString().WithText(sarifText(help))).
			WithDefaultConfiguration(sarif.NewReportingConfiguration().WithLevel(sarifLevel(r.Grade))).
			WithProperties(properties))
	}
	return out, nil
}

// ruleRecord is what a person reads about the rule behind a finding: from the
// book, or from the shop's own rules the sheet was judged with.
func ruleRecord(book *rulebook.Book, house *rulebook.House, f rulebook.Finding) (rulebook.Rule, error) {
	if house != nil {
		if r, ok := house.Rule(f.Rule); ok {
			return r, nil
		}
	}
	r, err := book.Rule(f.Rule)
	if err != nil {
		return r, fmt.Errorf("the record of rule %s: %w", printable.Visible(f.Rule), err)
	}
	return r, nil
}

func sarifLevel(grade string) string {
	switch grade {
	case "fails":
		return "error"
	case "risk":
		return "warning"
	}
	return "note"
}

func (s *sarifWriter) result(f rulebook.Finding, print string) *sarif.Result {
	r := sarif.NewResult().WithRuleID(printable.Visible(f.Rule)).WithRuleIndex(s.index[f.Rule]).
		WithLevel(sarifLevel(f.Grade)).WithKind("fail").
		WithMessage(sarifMessage(where(f) + f.Message)).
		WithLocations([]*sarif.Location{s.location(sheet.Place{File: f.File, Line: f.Line, Column: f.Column, EndLine: f.EndLine, EndColumn: f.EndColumn})}).
		WithPartialFingerprints(map[string]string{fingerprint: print})
	for i, related := range f.Related {
		if related.Line == 0 {
			continue
		}
		r.AddRelatedLocation(s.location(sheet.Place{File: related.File, Line: related.Line, Column: related.Column}).
			WithID(i + 1).WithMessage(sarifMessage(related.Text)))
	}
	properties := sarif.NewPropertyBag().Add("id", printable.Visible(f.ID)).Add("grade", f.Grade).Add("certainty", f.Certainty)
	if len(f.Zones) > 0 {
		properties.Add("zones", visibleAll(f.Zones))
	}
	if f.Step != nil {
		properties.Add("step", *f.Step)
	}
	if f.Call != nil {
		properties.Add("call", printable.Visible(*f.Call))
	}
	if len(f.Leaned) > 0 {
		properties.Add("leaned", visibleAll(f.Leaned))
	}
	return r.WithProperties(properties)
}

// fixes adds what is offered to put a finding right.
func (s *sarifWriter) fixes(r *sarif.Result, file string, f rulebook.Finding) error {
	// Without the text there is nowhere to put an edit.
	if s.o.Fixes == nil || s.lines(file) == nil {
		return nil
	}
	for _, fix := range s.o.Fixes(file, f) {
		change := sarif.NewArtifactChange().WithArtifactLocation(sarif.NewArtifactLocation().WithURI(fileURI(file)))
		edits := slices.SortedStableFunc(slices.Values(fix.Edits), func(a, b mend.TextEdit) int { return a.Start - b.Start })
		for i, e := range edits {
			if i > 0 && e.Start < edits[i-1].End {
				return fmt.Errorf("the fix %q of %s has two edits of one place", printable.Visible(fix.Title), printable.Visible(f.ID))
			}
			region, err := s.region(file, e.Start, e.End)
			if err != nil {
				return fmt.Errorf("the fix %q of %s: %w", printable.Visible(fix.Title), printable.Visible(f.ID), err)
			}
			change.AddReplacement(sarif.NewReplacement().WithDeletedRegion(region).WithInsertedContent(sarif.NewArtifactContent().WithText(e.New)))
		}
		if len(edits) > 0 {
			r.Fixes = append(r.Fixes, sarif.NewFix().WithDescription(sarifMessage(fixWords(fix))).AddArtifactChange(change))
		}
	}
	return nil
}

// fixWords say what a fix does and what it leaves to decide.
func fixWords(fix mend.Fix) string {
	if len(fix.Decide) == 0 {
		return fix.Title
	}
	return fix.Title + "; what is worn for it is for a person to decide and to write"
}

// region is a range of bytes of a file in lines and UTF-16 units, from 1; its
// end is the place after it.
func (s *sarifWriter) region(file string, start, end int) (*sarif.Region, error) {
	lines := s.lines(file)
	at := func(offset int) (line, column int, ok bool) {
		if bytes.HasPrefix(s.files[file], bom) {
			offset = max(min(0, offset), offset-len(bom))
		}
		if offset < 0 {
			return 0, 0, false
		}
		for i, l := range lines {
			if offset <= len(l) {
				if offset < len(l) && !utf8.RuneStart(l[offset]) {
					return 0, 0, false
				}
				return i + 1, 1 + units(l[:offset]), true
			}
			offset -= len(l) + 1
		}
		return 0, 0, false
	}
	line, column, okStart := at(start)
	endLine, endColumn, okEnd := at(end)
	if !okStart || !okEnd || start > end {
		return nil, fmt.Errorf("bytes %d to %d are not a place in %s", start, end, printable.Visible(file))
	}
	return sarif.NewRegion().WithStartLine(line).WithStartColumn(column).WithEndLine(endLine).WithEndColumn(endColumn), nil
}

// units is the length of a text in UTF-16 units.
func units(text []byte) int {
	n := 0
	for _, r := range string(text) {
		n += max(1, utf16.RuneLen(r))
	}
	return n
}

// suppression is the waiver that set a finding aside. It stands in the sheet
// itself, which is what SARIF calls in the source.
func suppression(f rulebook.Finding) *sarif.Suppression {
	out := sarif.NewSuppression().WithKind("inSource").WithStatus("accepted")
	if f.Waiver != nil {
		said := f.Waiver.Reason
		if f.Waiver.By != nil {
			said += ", by " + *f.Waiver.By
		}
		if f.Waiver.Until != nil {
			said += ", until " + *f.Waiver.Until
		}
		out.WithJustification(printable.Visible(said))
	}
	return out
}

func (s *sarifWriter) unread(j Judged, p sheet.Problem) *sarif.Notification {
	message := p.Message
	if p.Key != "" {
		message = p.Key + ": " + message
	}
	at := p.Place
	if at.File == "" {
		at.File = j.File
	}
	return sarif.NewNotification().WithLevel("error").WithMessage(sarifMessage(message)).
		WithLocations([]*sarif.Location{s.location(at)})
}

func (s *sarifWriter) broke(j Judged, b rulebook.Broke) *sarif.Notification {
	return sarif.NewNotification().WithLevel("error").
		WithMessage(sarifMessage("rule " + b.Rule + " broke: " + b.Message)).
		WithAssociatedRule(sarif.NewReportingDescriptorReference().WithID(printable.Visible(b.Rule))).
		WithLocations([]*sarif.Location{s.location(sheet.Place{File: j.File})})
}

// location is a place in a file; one without a line is the whole file.
func (s *sarifWriter) location(p sheet.Place) *sarif.Location {
	physical := sarif.NewPhysicalLocation().WithArtifactLocation(sarif.NewArtifactLocation().WithURI(fileURI(p.File)))
	if p.Line > 0 {
		region := sarif.NewRegion().WithStartLine(p.Line)
		start, startOK := s.column(p.File, p.Line, p.Column)
		if startOK {
			region.WithStartColumn(start)
		}
		if p.EndLine >= p.Line {
			end, endOK := s.column(p.File, p.EndLine, p.EndColumn)
			region.WithEndLine(p.EndLine)
			if startOK && endOK && (p.EndLine > p.Line || end >= start) {
				region.WithEndColumn(end)
			}
		}
		physical.WithRegion(region)
	}
	return sarif.NewLocation().WithPhysicalLocation(physical)
}

// column turns a column in characters into one in UTF-16 units, both from 1.
func (s *sarifWriter) column(file string, line, column int) (int, bool) {
	if column <= 1 {
		return 1, column == 1
	}
	lines := s.lines(file)
	if line > len(lines) {
		return 0, false
	}
	units, rest := 1, lines[line-1]
	for n := column - 1; n > 0; n-- {
		if len(rest) == 0 {
			return units + n, true // just past the end of the line, its line end counted
		}
		r, size := utf8.DecodeRune(rest)
		units += max(1, utf16.RuneLen(r))
		rest = rest[size:]
	}
	return units, true
}

// bom takes no column.
var bom = []byte("\ufeff")

// lines are those of a file's text, or nil where it is not to be had.
func (s *sarifWriter) lines(file string) [][]byte {
	lines, ok := s.texts[file]
	if !ok {
		if s.o.Text != nil {
			if text := s.o.Text(file); text != nil {
				s.files[file] = text
				lines = bytes.Split(bytes.TrimPrefix(text, bom), []byte("\n"))
			}
		}
		s.texts[file] = lines
	}
	return lines
}

// fileURI is a file's name as a URI: relative where the name is, with forward
// slashes, everything else percent-encoded.
func fileURI(file string) string {
	file = filepath.ToSlash(file)
	if strings.HasPrefix(file, "/") {
		return "file://" + (&url.URL{Path: file}).EscapedPath()
	}
	if filepath.IsAbs(file) { // a drive's letter
		return "file:///" + (&url.URL{Path: file}).EscapedPath()
	}
	return (&url.URL{Path: file}).String() // puts ./ before a first part with a colon
}

func visibleAll(list []string) []string {
	out := make([]string, len(list))
	for i, s := range list {
		out[i] = printable.Visible(s)
	}
	return out
}

func sarifMessage(s string) *sarif.Message { return sarif.NewMessage().WithText(sarifText(s)) }

// sarifText is plain text where SARIF reads signs of its own: braces are
// placeholders unless doubled (3.11.5), and [..](..) is a link (3.11.6), which
// no string of a sheet may make.
func sarifText(s string) string {
	parts := strings.Split(s, "\n\n")
	for i, p := range parts {
		parts[i] = strings.NewReplacer("{", "{{", "}", "}}", "](", "] (").Replace(printable.Visible(p))
	}
	return strings.Join(parts, "\n\n")
}

// writeSARIF writes the log without the members that only say 'not given'. The
// suppressions stay, empty or not: SARIF wants them on all results or on none
// (3.27.23), and empty says that a result is not waived.
func writeSARIF(w io.Writer, log *sarif.Report) error {
	text, err := json.Marshal(log)
	if err != nil {
		return err
	}
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.UseNumber() // a number goes out as it came in
	var tree map[string]any
	if err := decoder.Decode(&tree); err != nil {
		return err
	}
	prune(tree)
	runs, _ := tree["runs"].([]any)
	for _, r := range runs {
		run, ok := r.(map[string]any)
		if !ok {
			continue
		}
		results, _ := run["results"].([]any)
		if results == nil {
			results = []any{} // absent would say that nothing was judged
		}
		run["results"] = results
		for _, result := range results {
			if m, ok := result.(map[string]any); ok && m["suppressions"] == nil {
				m["suppressions"] = []any{}
			}
		}
	}
	return printable.JSON(w, tree) // the keys of a map go out sorted
}

// notGiven are the members whose -1 is the schema's word for 'none'.
var notGiven = []string{"id", "index", "ruleIndex", "parentIndex", "rank", "byteOffset", "charOffset", "length"}

func prune(v any) {
	switch v := v.(type) {
	case []any:
		for _, e := range v {
			prune(e)
		}
	case map[string]any:
		for key, e := range v {
			prune(e)
			switch e := e.(type) {
			case nil:
				delete(v, key)
			case json.Number:
				if e == "-1" && slices.Contains(notGiven, key) {
					delete(v, key)
				}
			case []any:
				if len(e) == 0 {
					delete(v, key)
				}
			case map[string]any:
				if len(e) == 0 {
					delete(v, key)
				}
			}
		}
	}
}
