package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"guidecoat/internal/mend"
	"guidecoat/internal/printable"
	"guidecoat/internal/report"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
	"guidecoat/policies"
)

// judgingFlags are the flags common to the commands that judge.
type judgingFlags struct {
	as, out, stopAt, house, rules, color string
	today                                string
	quiet                                bool
	jobs                                 int
	ways                                 []string // that --as may name
	brief                                bool     // keep of each stack only what a report reads
	known                                bool     // findings are looked up in a baseline, or put into one
}

// add adds the flags; as are the ways the command prints, all of them when none is named.
func (j *judgingFlags) add(f *pflag.FlagSet, as ...string) {
	if len(as) == 0 {
		as = []string{"text", "json", "sarif", "junit", "markdown"}
	}
	j.ways = as
	last := len(as) - 1
	f.StringVar(&j.as, "as", "text", "how to print: "+strings.Join(as[:last], ", ")+" or "+as[last])
	f.StringVar(&j.out, "out", "", "write to this `file` instead of the terminal")
	f.StringVar(&j.stopAt, "stop-at", "fails", "the least grade that makes the exit status 1: fails, risk or advice")
	j.addShop(f)
	f.StringVar(&j.color, "color", "auto", "auto, always or never (NO_COLOR is honored)")
	f.BoolVar(&j.quiet, "quiet", false, "verdict lines only")
	f.IntVar(&j.jobs, "jobs", 0, "sheets judged at a time (0: as many as there are processors)")
}

// addShop adds the flags that say by whose rules and on which day is judged.
func (j *judgingFlags) addShop(f *pflag.FlagSet) {
	f.StringVar(&j.house, "house", "", "use this house `file` instead of the guidecoat.toml found from the sheet's folder upward")
	f.StringVar(&j.rules, "rules", "", "`folder` of the shop's own rules, beside the built-in ones")
	f.StringVar(&j.today, "today", "", "judge waivers as on this `date` (YYYY-MM-DD); the machine's date if not given")
}

// oneOf checks a flag that takes one of a few words.
func oneOf(flag, value string, words ...string) error {
	for _, w := range words {
		if value == w {
			return nil
		}
	}
	last := len(words) - 1
	return &statusError{exitWrong, fmt.Errorf("--%s %q is not one of %s or %s", flag, value, strings.Join(words[:last], ", "), words[last])}
}

func (j *judgingFlags) check() error {
	if err := oneOf("as", j.as, j.ways...); err != nil {
		return err
	}
	if err := oneOf("stop-at", j.stopAt, "fails", "risk", "advice"); err != nil {
		return err
	}
	if err := oneOf("color", j.color, "auto", "always", "never"); err != nil {
		return err
	}
	if j.jobs < 0 {
		return &statusError{exitWrong, fmt.Errorf("--jobs %d is less than 0", j.jobs)}
	}
	return nil
}

// day is the date waivers are judged on.
func (p *program) day(today string) (time.Time, error) {
	if today == "" {
		return p.Now(), nil
	}
	t, err := time.Parse("2006-01-02", today)
	if err != nil {
		return t, &statusError{exitWrong, fmt.Errorf("--today %q is not a date like 2026-03-02", today)}
	}
	return t, nil
}

// colored tells whether to color what goes to out.
func (p *program) colored(when string, toFile bool) bool {
	switch when {
	case "always":
		return true
	case "never":
		return false
	}
	return p.Terminal && !toFile && p.Getenv("NO_COLOR") == "" && p.Getenv("TERM") != "dumb"
}

// columns is the width text is wrapped to.
func (p *program) columns() int { return 80 }

// bench is what judging a run of sheets shares.
type bench struct {
	reader *sheet.Reader
	book   *rulebook.Book
	today  time.Time
	text   func(file string) []byte // of a file, nil when it is not to be had

	mu     sync.Mutex
	houses map[string]*houseRules // by rules folder
}

type houseRules struct {
	once  sync.Once
	house *rulebook.House
	err   error
}

// judge reads and judges every sheet the command line names, in its order.
func (p *program) judge(ctx context.Context, args []string, flags *judgingFlags) ([]report.Judged, error) {
	if err := flags.check(); err != nil {
		return nil, err
	}
	if err := p.mayReport(flags.out); err != nil {
		return nil, err
	}
	files, err := p.sources(args)
	if err != nil {
		return nil, err
	}
	brief := *flags
	brief.brief = true
	return p.judgeFiles(ctx, files, p.folders(args), &brief)
}

// judgeOne reads and judges one sheet. Where it cannot be read, or a rule
// broke on it, all that is wrong is told on the error stream.
func (p *program) judgeOne(ctx context.Context, path string, flags *judgingFlags) (report.Judged, error) {
	judged, err := p.judgeFiles(ctx, []source{{name: shown(path)}}, nil, flags)
	if err != nil {
		return report.Judged{}, err
	}
	j := judged[0]
	if !j.Readable() {
		j.Result.Findings, j.Result.Waived, j.Result.Off = nil, nil, nil // only why there is no answer
		err := report.Text(p.Err, []report.Judged{j}, report.TextOptions{Columns: p.columns()})
		return j, &statusError{status: exitUnreadable, err: err}
	}
	return j, nil
}

// judgeFiles reads and judges files, in their order; folders are those of the
// command line that they were found under.
func (p *program) judgeFiles(ctx context.Context, files []source, folders []string, flags *judgingFlags) ([]report.Judged, error) {
	b, err := p.bench(flags, folders)
	if err != nil {
		return nil, err
	}
	defer b.reader.Close()
	jobs := flags.jobs
	if jobs == 0 {
		jobs = runtime.GOMAXPROCS(0)
	}
	// Each file once, in a slot of its own, however often the paths name it.
	once := map[source]int{}
	var work []int
	for i, f := range files {
		if _, ok := once[f]; !ok {
			once[f] = i
			work = append(work, i)
		}
	}
	out, isSheet := make([]report.Judged, len(files)), make([]bool, len(files))
	told := p.progress(flags.quiet, sheetsDone)
	var done atomic.Int64
	judge := func(i int, o *opened) {
		out[i], isSheet[i] = b.judge(ctx, o, flags)
		told.set(int(done.Add(1)), len(work))
	}
	// The first are opened before any is judged, so that the rules they need are compiled together.
	first, rest := work[:min(len(work), openedFirst)], work[min(len(work), openedFirst):]
	open := make([]*opened, len(first))
	atATime(jobs, len(first), func(k int) {
		if open[k] = b.open(files[first[k]]); open[k].large() {
			judge(first[k], open[k])
			open[k] = nil // not kept beside others like it
		}
	})
	var docs []*stack.Document
	for _, o := range open {
		if o != nil && o.doc != nil {
			docs = append(docs, o.doc)
		}
	}
	_ = b.book.ReadyFor(ctx, docs) // what hinders it is told with the first sheet
	atATime(jobs, len(first), func(k int) {
		if open[k] != nil {
			judge(first[k], open[k])
			open[k] = nil
		}
	})
	atATime(jobs, len(rest), func(k int) { judge(rest[k], b.open(files[rest[k]])) })
	told.done()
	for i, f := range files {
		out[i], isSheet[i] = out[once[f]], isSheet[once[f]]
	}
	return sheetsOf(files, out, isSheet)
}

// openedFirst is how many sheets are opened before the first is judged.
const openedFirst = 16

// atATime does n things, so many of them at a time.
func atATime(jobs, n int, do func(i int)) {
	var wg sync.WaitGroup
	next := make(chan int)
	for range min(jobs, n) {
		wg.Go(func() {
			for i := range next {
				do(i)
			}
		})
	}
	for i := range n {
		next <- i
	}
	close(next)
	wg.Wait()
}

// bench is what judging calls for under some flags; its reader is to be closed.
func (p *program) bench(flags *judgingFlags, folders []string) (*bench, error) {
	today, err := p.day(flags.today)
	if err != nil {
		return nil, err
	}
	book, err := p.builtin()
	if err != nil {
		return nil, err
	}
	reader, err := p.reader(flags, folders)
	if err != nil {
		return nil, err
	}
	return &bench{reader: reader, book: book, today: today, text: p.fileText, houses: map[string]*houseRules{}}, nil
}

// opened is a file read and, where it is a sheet, carried out.
type opened struct {
	file    source
	sheet   *sheet.Sheet
	doc     *stack.Document // nil: not to be judged
	isSheet bool            // or was named as one
	judged  report.Judged   // what can be told of it so far
}

// open reads one file, and carries it out if it is a sheet.
func (b *bench) open(f source) (o *opened) {
	o = &opened{file: f, isSheet: true, judged: report.Judged{File: f.name}}
	defer o.rescue()
	if f.problem != "" {
		o.judged.Problems = []sheet.Problem{{Place: sheet.Place{File: f.name}, Message: f.problem}}
		return o
	}
	s, isSheet, problems := b.read(f)
	o.isSheet = isSheet
	if o.judged.Problems = problems; len(problems) > 0 || !isSheet {
		return o
	}
	o.sheet, o.judged.Sheet, o.judged.Title = s, s, s.Title.Value
	if o.doc, problems = stack.Build(s); len(problems) > 0 {
		o.doc, o.judged.Problems = nil, problems
	}
	return o
}

// large tells whether a stack takes more than some MB.
func (o *opened) large() bool {
	return o.doc != nil && len(o.doc.Contacts)+len(o.doc.Touches)+len(o.doc.Abrasions) > 1000
}

// rescue tells of a fault inside with that sheet and no other.
func (o *opened) rescue() {
	if r := recover(); r != nil {
		o.doc = nil
		o.judged = report.Judged{File: o.file.name, Problems: []sheet.Problem{{Place: sheet.Place{File: o.file.name},
			Message: fmt.Sprintf("a fault inside the program, so this sheet was not judged: %v; please report the sheet", r)}}}
	}
}

// judge judges one opened file.
func (b *bench) judge(ctx context.Context, o *opened, flags *judgingFlags) (report.Judged, bool) {
	if o.doc != nil {
		func() {
			defer o.rescue()
			b.judgeSheet(ctx, o, flags)
		}()
	}
	return o.judged, o.isSheet
}

func (b *bench) judgeSheet(ctx context.Context, o *opened, flags *judgingFlags) {
	j, s, doc := &o.judged, o.sheet, o.doc
	var problems []sheet.Problem
	j.Doc = doc
	j.Result, j.House, problems = b.verdicts(ctx, s, doc, flags.rules)
	if len(problems) > 0 {
		j.Doc, j.Problems = nil, problems
		return
	}
	if flags.as == "sarif" && len(j.Result.Findings) > 0 {
		if text := b.text(o.file.name); text != nil {
			fixes, err := b.mender(flags.rules).Offers(ctx, o.file.name, text)
			if err != nil {
				j.Doc, j.Problems = nil, []sheet.Problem{{Place: sheet.Place{File: o.file.name}, Message: "the edits of this sheet could not be proved: " + err.Error()}}
				return
			}
			j.Fixes = fixes
		}
	}
	if flags.brief {
		j.Doc, j.Sheet = doc.Brief(flags.known || flags.as == "sarif"), nil
	}
}

// read reads a file: a named one is to be a sheet, one that was come upon may be.
func (b *bench) read(f source) (*sheet.Sheet, bool, []sheet.Problem) {
	if f.under == "" {
		s, problems := b.reader.Read(f.name)
		return s, true, problems
	}
	s, kind, problems := b.reader.ReadFound(f.name)
	return s, kind == sheet.IsSheet, problems
}

// verdicts judges one sheet by the rulebook and the shop's own rules: those of
// the folder, or where none is named those of its house file.
func (b *bench) verdicts(ctx context.Context, s *sheet.Sheet, doc *stack.Document, folder string) (rulebook.Result, *rulebook.House, []sheet.Problem) {
	options := rulebook.Options{Today: b.today}
	if folder == "" && s.House != nil {
		folder = s.House.Rules
	}
	if folder != "" {
		house, err := b.house(folder)
		if err != nil {
			return rulebook.Result{}, nil, ruleProblems(folder, err)
		}
		if problems := b.book.CheckNames(s, house); len(problems) > 0 {
			return rulebook.Result{}, nil, problems
		}
		options.House = house
	}
	result, err := b.book.Judge(ctx, doc, s, options)
	if err != nil {
		return rulebook.Result{}, nil, []sheet.Problem{{Place: sheet.Place{File: s.File}, Message: "the rulebook could not judge this sheet: " + err.Error()}}
	}
	return result, options.House, nil
}

// house is the shop's rules of a folder, read once a run.
func (b *bench) house(folder string) (*rulebook.House, error) {
	b.mu.Lock()
	h := b.houses[folder]
	if h == nil {
		h = &houseRules{}
		b.houses[folder] = h
	}
	b.mu.Unlock()
	h.once.Do(func() { h.house, h.err = b.book.LoadHouse(folder) })
	return h.house, h.err
}

// ruleProblems tells what is wrong with a shop's rules, each with its place.
func ruleProblems(folder string, err error) []sheet.Problem {
	var re *rulebook.RulesError
	if errors.As(err, &re) && len(re.Problems) > 0 {
		return re.Problems
	}
	return []sheet.Problem{{Place: sheet.Place{File: filepath.ToSlash(folder)}, Message: "the shop's own rules could not be read: " + err.Error()}}
}

// print writes the judged sheets where and how the flags say.
func (p *program) print(sheets []report.Judged, flags *judgingFlags) error {
	book, err := p.builtin()
	if err != nil {
		return err
	}
	return p.deliver(flags.out, func(w io.Writer) error {
		switch flags.as {
		case "json":
			return report.JSON(w, sheets, Version)
		case "sarif":
			return report.SARIF(w, sheets, report.SARIFOptions{Version: Version, Book: book, Text: p.fileText, Fixes: fixesOf(sheets)})
		case "junit":
			return report.JUnit(w, sheets, book, flags.stopAt)
		case "markdown":
			return report.Markdown(w, sheets, 0)
		}
		return report.Text(w, sheets, report.TextOptions{Columns: p.columns(), Color: p.colored(flags.color, flags.out != ""), Quiet: flags.quiet})
	})
}

// fixesOf looks up the edits offered for a finding of a sheet.
func fixesOf(sheets []report.Judged) func(string, rulebook.Finding) []mend.Fix {
	by := map[string]map[string][]mend.Fix{}
	for _, j := range sheets {
		by[j.File] = j.Fixes
	}
	return func(file string, f rulebook.Finding) []mend.Fix { return by[file][f.ID] }
}

// fileText is the text of a file that places were told in, or nil when it is
// not to be had any more.
func (p *program) fileText(file string) []byte {
	text, err := sheet.ReadFile(p.at(filepath.FromSlash(file)))
	if err != nil {
		return nil
	}
	return text
}

// read reads one sheet, or tells all that is wrong with it.
func (p *program) read(path, house string) (*sheet.Sheet, error) {
	reader, err := p.reader(&judgingFlags{house: house}, nil)
	if err != nil {
		return nil, err
	}
	defer reader.Close()
	s, problems := reader.Read(shown(path))
	if len(problems) > 0 {
		return nil, p.refuse(path, problems)
	}
	return s, nil
}

// build reads one sheet and carries it out.
func (p *program) build(path, house string) (*stack.Document, error) {
	s, err := p.read(path, house)
	if err != nil {
		return nil, err
	}
	doc, problems := stack.Build(s)
	if len(problems) > 0 {
		return nil, p.refuse(path, problems)
	}
	return doc, nil
}

// refuse tells on the error stream why a sheet could not be read.
func (p *program) refuse(path string, problems []sheet.Problem) error {
	err := report.Text(p.Err, []report.Judged{{File: shown(path), Problems: problems}}, report.TextOptions{Columns: p.columns()})
	return &statusError{status: exitUnreadable, err: err}
}

// testRules runs the tests of a shop's own rules.
func (p *program) testRules(c *cobra.Command, book *rulebook.Book, folder string) error {
	results, err := book.RunTests(c.Context(), folder)
	if err != nil {
		var re *rulebook.RulesError
		if errors.As(err, &re) {
			return p.refuse(folder, re.Problems)
		}
		return &statusError{exitUnreadable, err}
	}
	failed := 0
	for _, r := range results {
		word := "passes"
		if !r.Passed {
			word = "FAILS"
			failed++
		}
		fmt.Fprintf(p.Out, "%-7s %s\n", word, printable.Visible(r.File+": "+r.Test))
		if !r.Passed && r.Fault != "" {
			fmt.Fprintf(p.Out, "        %s\n", printable.Visible(r.Fault))
		}
	}
	fmt.Fprintf(p.Out, "%d tests, %d failed\n", len(results), failed)
	if failed > 0 {
		return &statusError{status: exitFindings}
	}
	return nil
}

// folders are the folders among the paths of a command line.
func (p *program) folders(args []string) []string {
	var out []string
	for _, arg := range args {
		if info, err := os.Stat(p.at(arg)); err == nil && info.IsDir() {
			out = append(out, arg)
		}
	}
	return out
}

// reader is the reader of sheets this command line calls for.
func (p *program) reader(flags *judgingFlags, folders []string) (*sheet.Reader, error) {
	rules, err := sheet.RulesIn(policies.Files)
	if err != nil {
		return nil, &statusError{exitWrong, fmt.Errorf("the rulebook inside the program does not hold together: %w", err)}
	}
	o := sheet.Options{Root: p.Dir, House: flags.house, Folders: folders, Rules: rules}
	return sheet.NewReader(o), nil
}
