package editor

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"sync"
	"time"

	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// pause is how long nothing more must be typed before a page is judged.
type pause = time.Duration

// debounce is the pause between letters that are typed in a row. It is short: a
// painter who stops to look should see the verdict, and judging takes about as
// long.
const debounce pause = 30 * time.Millisecond

// source is what every diagnostic is signed with.
const source = "guidecoat"

// outcome is what judging a page gave.
type outcome struct {
	findings []rulebook.Finding
	wrong    []sheet.Problem         // what keeps it from being read; findings is then empty
	by       map[string][]diagnostic // by file
}

// judge judges a page after a pause and tells of it. It gives up as soon as
// another page takes the page's place.
func (s *server) judge(ctx context.Context, p *page, after pause) {
	timer := time.NewTimer(after)
	defer timer.Stop()
	select {
	case <-ctx.Done():
		return
	case <-timer.C:
	}
	select {
	case <-ctx.Done():
		return
	case s.slots <- struct{}{}:
	}
	defer func() { <-s.slots }()
	out := s.judged(ctx, p)
	if ctx.Err() != nil {
		return
	}
	p.finish(out)
	s.tell(p, p.n, out.by)
}

// judged reads a page, and judges it if it is a sheet. A fault inside is told
// on the page, which was not judged.
func (s *server) judged(ctx context.Context, p *page) (out *outcome) {
	out = &outcome{by: map[string][]diagnostic{p.file: p.broken()}}
	defer func() {
		if fault := recover(); fault != nil {
			out.fault(p, fmt.Sprintf("a fault inside the program, so this file was not judged: %v; please report the file", fault))
		}
	}()
	if p.kind == sheet.IsOther {
		out.by[p.file] = nil
		return out
	}
	read := p.read()
	if len(read.problems) > 0 || read.sheet == nil {
		out.problems(p, read.problems)
		return out
	}
	doc, problems := p.built().doc, p.built().problems
	if len(problems) > 0 {
		out.problems(p, problems)
		return out
	}
	result, problems, err := s.byRules(ctx, read.sheet, doc)
	if len(problems) > 0 {
		out.problems(p, problems)
		return out
	}
	if err != nil {
		out.fault(p, "this sheet was not judged: "+err.Error())
		return out
	}
	out.findings = result.Findings
	for _, f := range result.Findings {
		out.finding(p, f, len(doc.Zones) > 1)
	}
	for _, b := range result.Broke {
		out.fault(p, "the rule "+b.Rule+" broke, so this sheet was not judged by it: "+b.Message)
	}
	return out
}

func (o *outcome) add(file string, d diagnostic) {
	d.Source, d.Message = source, printable.Visible(d.Message)
	o.by[file] = append(o.by[file], d)
}

// fault tells at the head of the file of what lies at no one place.
func (o *outcome) fault(p *page, message string) {
	o.add(p.file, diagnostic{Range: p.headLine(), Severity: severityError, Message: message})
}

// problems tells what keeps a file from being read. What lies in another file
// is told there, and where this one names it.
func (o *outcome) problems(p *page, problems []sheet.Problem) {
	o.wrong = problems
	elsewhere := map[string][]sheet.Problem{}
	for _, problem := range problems {
		file := p.fileOf(problem.Place)
		t := p.textOf(file)
		o.add(file, diagnostic{Range: t.place(problem.Place, false), Severity: severityError, Message: problem.Message})
		if file != p.file {
			elsewhere[file] = append(elsewhere[file], problem)
		}
	}
	for _, file := range slices.Sorted(maps.Keys(elsewhere)) {
		first := elsewhere[file][0]
		o.add(p.file, diagnostic{
			Range: p.naming(file), Severity: severityError,
			Message: fmt.Sprintf("%s cannot be used as it stands, so this sheet was not judged; there, line %d: %s", path.Base(file), first.Place.Line, first.Message),
			Related: p.related(file, first.Place, first.Message),
		})
	}
}

func (p *page) related(file string, at sheet.Place, message string) []relatedDiagnosis {
	where := location{p.s.uriOf(file), p.textOf(file).place(at, true)}
	return []relatedDiagnosis{{where, printable.Visible(message)}}
}

var severities = map[string]severity{"fails": severityError, "risk": severityWarning, "advice": severityInformation}

// finding tells a verdict at the head of the step, card or table that it is
// about: a whole step underlined would hide what else is wrong in it.
func (o *outcome) finding(p *page, f rulebook.Finding, zoned bool) {
	file := p.fileOf(f.Place)
	o.add(file, p.told(file, f, zoned))
}

func (p *page) told(file string, f rulebook.Finding, zoned bool) diagnostic {
	d := diagnostic{Range: p.textOf(file).place(f.Place, true), Severity: severities[f.Grade], Code: f.Rule, Source: source}
	d.Message = f.Message
	if zoned && len(f.Zones) > 0 {
		d.Message = strings.Join(f.Zones, ", ") + ": " + d.Message
	}
	if f.Certainty == "may" {
		d.Message += " (it may come, it need not)"
	}
	d.Message = printable.Visible(d.Message)
	for _, r := range f.Related {
		at := sheet.Place{File: r.File, Line: r.Line, Column: r.Column, EndLine: r.Line + 1, EndColumn: 1} // to the line's end
		d.Related = append(d.Related, p.related(p.fileOf(at), at, r.Text)...)
	}
	return d
}

// fileOf is the file of a place, as pages name files.
func (p *page) fileOf(at sheet.Place) string {
	if at.File == "" {
		return p.file
	}
	file := filepath.FromSlash(at.File)
	if !filepath.IsAbs(file) {
		file = filepath.Join(p.s.workFolder(), file)
	}
	return filepath.ToSlash(filepath.Clean(file))
}

func (s *server) workFolder() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.root
}

// place is a place of a file as the protocol counts. What goes over several
// lines ends with its first one if first is set.
func (t *text) place(at sheet.Place, first bool) span {
	start := t.at(at.Line, at.Column)
	end := max(start, t.at(at.EndLine, at.EndColumn))
	if first {
		end = min(end, t.lineEnd(t.line(start)))
	}
	return t.span(start, end)
}

// headLine is the first line of a page that says something.
func (p *page) headLine() span {
	start := len(p.text.bytes) - len(bytes.TrimLeft(p.text.bytes, " \t\r\n"))
	return p.text.span(start, p.text.lineEnd(p.text.line(start)))
}

// naming is where a page names another file: its entry under shelf, else the
// head of the table that would, else the head of the page.
func (p *page) naming(file string) span {
	x := p.index()
	for _, table := range []string{"sheet", "house"} {
		head := x.Root.Get(table)
		for _, n := range entries(head.Get("shelf")) {
			if p.beside(words(x, n)) == file {
				return p.text.span(n.Value.Start, n.Value.End)
			}
		}
		if head != nil && !head.Header.IsZero() {
			return p.text.span(head.Header.Start, head.Header.End)
		}
	}
	return p.headLine()
}

// beside is the file of a path as it is written in the page.
func (p *page) beside(written string) string {
	return path.Join(path.Dir(p.file), filepath.ToSlash(written))
}

// broken tells of characters that the client could not read: in the file they
// are no UTF-8, and here only their place is left.
func (p *page) broken() []diagnostic {
	const lost = "\uFFFD"
	var found []diagnostic
	for at := 0; len(found) < 20; {
		next := bytes.Index(p.text.bytes[at:], []byte(lost))
		if next < 0 {
			break
		}
		at += next
		found = append(found, diagnostic{Range: p.text.span(at, at+len(lost)), Severity: severityError, Source: source,
			Message: "a character that is not UTF-8 stands here; write it again, and save the file as UTF-8"})
		at += len(lost)
	}
	return found
}

// said is what one page has to say of files, its own among them.
type said struct {
	n  uint64 // of the page
	by map[string][]diagnostic
}

// tell publishes what a page has to say of its own file and of others, and takes
// back what the page before it said. Of two pages that speak of one file both
// are heard. Nil takes everything back.
func (s *server) tell(p *page, n uint64, by map[string][]diagnostic) {
	s.telling.Lock()
	defer s.telling.Unlock()
	before := s.says[p.uri]
	if before.n > n {
		return
	}
	s.says[p.uri] = said{n, by}
	files := map[string]bool{p.file: true}
	for file := range before.by {
		files[file] = true
	}
	for file := range by {
		files[file] = true
	}
	for _, file := range slices.Sorted(maps.Keys(files)) {
		all := s.saidOf(file)
		if file != p.file && reflect.DeepEqual(all, s.told[file]) {
			continue
		}
		if s.told[file] = all; len(all) == 0 {
			delete(s.told, file)
		}
		message := publishDiagnostics{URI: s.uriOf(file), Diagnostics: all}
		if file == p.file {
			message.URI = p.uri
			if by != nil {
				message.Version = &p.version
			}
		}
		_ = s.conn.Notify(s.ctx, "textDocument/publishDiagnostics", message)
	}
}

// mostTold is how many diagnostics are told of one file; no text editor shows
// more in any way that helps.
const mostTold = 1000

// saidOf is what open pages have to say of a file, each thing once, in the order
// of the file.
func (s *server) saidOf(file string) []diagnostic {
	all, seen := []diagnostic{}, map[string]bool{}
	for _, uri := range slices.Sorted(maps.Keys(s.says)) {
		for _, d := range s.says[uri].by[file] {
			key := fmt.Sprint(d.Range, d.Severity, d.Code, d.Message, d.Related)
			if !seen[key] {
				seen[key] = true
				all = append(all, d)
			}
		}
	}
	if len(all) > mostTold {
		slices.SortStableFunc(all, func(a, b diagnostic) int { return int(a.Severity) - int(b.Severity) })
		more := fmt.Sprintf("there are %d more findings, none graver than those told; guidecoat inspect lists them all", len(all)-mostTold)
		all = append(all[:mostTold], diagnostic{Severity: severityInformation, Source: source, Message: more})
	}
	slices.SortStableFunc(all, func(a, b diagnostic) int {
		if a.Range.Start.Line != b.Range.Start.Line {
			return int(a.Range.Start.Line) - int(b.Range.Start.Line)
		}
		return int(a.Range.Start.Character) - int(b.Range.Start.Character)
	})
	return all
}

// warm compiles the rulebook, so that the first sheet is judged as fast as any.
func (s *server) warm() {
	if err := s.o.Book.Ready(s.ctx); err != nil && s.ctx.Err() == nil {
		s.log(messageError, "the rulebook does not hold together: "+err.Error())
	}
}

// byRules has the rulebook judge a stack, with the shop's rules where there are
// some. The problems are those of the rules, or of names that are no rule's.
func (s *server) byRules(ctx context.Context, sh *sheet.Sheet, doc *stack.Document) (rulebook.Result, []sheet.Problem, error) {
	house, problems := s.houseOf(sh)
	if len(problems) > 0 {
		return rulebook.Result{}, problems, nil
	}
	result, err := s.o.Book.Judge(ctx, doc, sh, rulebook.Options{Today: s.o.Today(), House: house})
	return result, nil, err
}

// houses are the shop's rules, each folder read once until a file in it changes.
type houses struct {
	mu sync.Mutex
	by map[string]houseRules
}

type houseRules struct {
	state string // of the folder's files
	house *rulebook.House
	err   error
}

// houseOf is the shop's own rules that hold for a sheet, or what is wrong with
// them or with the names of rules that the sheet and its house file write.
func (s *server) houseOf(sh *sheet.Sheet) (*rulebook.House, []sheet.Problem) {
	folder := s.o.Rules
	if folder == "" && sh.House != nil {
		folder = sh.House.Rules
	}
	if folder == "" {
		return nil, nil
	}
	folder = filepath.FromSlash(folder)
	if !filepath.IsAbs(folder) {
		folder = filepath.Join(s.workFolder(), folder)
	}
	rules := s.houses.of(s.o.Book, folder)
	if rules.err != nil {
		return nil, rulesWrong(rules.err)
	}
	return rules.house, s.o.Book.CheckNames(sh, rules.house)
}

// rulesWrong is what is wrong with a shop's rules, each with its place.
func rulesWrong(err error) []sheet.Problem {
	var broken *rulebook.RulesError
	if errors.As(err, &broken) && len(broken.Problems) > 0 {
		return broken.Problems
	}
	return []sheet.Problem{{Message: "the shop's own rules could not be read: " + err.Error()}}
}

// close ends the processes in which the rules are asked.
func (h *houses) close() {
	h.mu.Lock()
	defer h.mu.Unlock()
	for _, r := range h.by {
		if r.house != nil {
			r.house.Close()
		}
	}
}

func (h *houses) of(book *rulebook.Book, folder string) houseRules {
	h.mu.Lock()
	defer h.mu.Unlock()
	state := stateOf(folder)
	if r, ok := h.by[folder]; ok && r.state == state {
		return r
	}
	house, err := book.LoadHouse(folder)
	if h.by == nil {
		h.by = map[string]houseRules{}
	}
	h.by[folder] = houseRules{state, house, err}
	return h.by[folder]
}

// stateOf changes when a file of a folder does.
func stateOf(folder string) string {
	var b strings.Builder
	most := 2000 // a folder of rules has far fewer
	_ = filepath.WalkDir(folder, func(name string, d fs.DirEntry, err error) error {
		if most--; err != nil || most < 0 {
			return fs.SkipAll
		}
		if info, err := d.Info(); err == nil && !d.IsDir() {
			fmt.Fprintln(&b, name, info.Size(), info.ModTime().UnixNano())
		}
		return nil
	})
	return b.String()
}
