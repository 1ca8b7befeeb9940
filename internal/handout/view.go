package handout

import (
	"fmt"
	"html/template"
	"strings"

	"guidecoat/internal/printable"
	"guidecoat/internal/report"
)

// said is text as the page shows it. Whatever a sheet wrote, its control
// characters and the marks that turn or hide text are shown and never acted
// on; the template escapes the rest. Nothing else than said, numbers and
// drawings reaches the template.
type said string

func (s said) String() string { return printable.Visible(string(s)) }

// view is the page as the template lays it out.
type view struct {
	Policy said
	Style  template.CSS
	Script template.JS

	Title, Number, Revision, File, Version said
	Verdict                                said // what was found, in a line
	Fails                                  bool // something that fails was found
	LastLine                               said
	Job, Booth                             []fact
	Zones                                  []zone
	Products                               []product

	Hazards []hazard
	Wear    said // everything that any step asks to be worn

	Key   *figure // the fills' key, once for all drawings
	First *figure // the panel as it comes in
	Steps []step
	Final *figure
	// Undrawn: why the steps have no drawings, "" where they have.
	Undrawn said

	Clock  clock
	Cups   []cup
	Buy    []row
	Unsure []said // cups no number could be put to

	Findings []finding
	Waived   []waived
	Off      []fact
	Heed     said
	Sources  []source
}

type fact struct{ Name, Value said }

type row struct {
	Name       said
	Metric, US said
	Steps      []int
}

type zone struct{ Name, Area, Substrate, Carries, Note said }

type product struct {
	Title, Kind, Name said
	Facts             []fact
	Hazards           said
	Assumed           []fact
	Steps             []int
}

// figure is one drawing with its words.
type figure struct {
	ID      said
	Caption said
	SVGs    []template.HTML
	Same    []template.HTML // the zones that have not changed; shown while stepping alone
}

type step struct {
	N        int
	Title    said
	Says     []said // as the sheet writes it
	Plain    said   // built from the step
	Facts    []fact
	Then     said
	Wear     []said
	Bare     bool // an act for which no protection is written
	Cautions []signal
	Cup      bool  // the mixing table has a cup for it
	Findings []ref // findings that are about it
	Figure   *figure
	Tell     said // what is read out on stepping to it
}

type hazard struct {
	Name, Signal, Text said
	Steps              []int
}

type signal struct{ Word, Text said }

type ref struct {
	N     int
	Grade said
	Text  said
}

type clock struct {
	From, Day, Ready said
	Figure           *figure
	Steps            []hours
	Windows          []window
	Open             []said
	Untimed          []int
}

type hours struct {
	N            int
	Title        said
	Starts, Ends said
	Note         said
}

type window struct {
	Film, Zones said
	Opens, Says []said
	Step        int
	Planned     said
	Note        said
}

type cup struct {
	Step  int
	Name  said
	Facts []fact
	Parts []part
	Limit []said
}

type part struct{ Part, Name, Metric, US said }

type finding struct {
	N         int
	Title     said // of the rule
	Rule      said
	Grade     said
	Places    []place
	Mechanism []said
	Look      []said
	Tell      []said
	Becomes   said
	Remedy    []said
	Signal    said
	Caution   said
	Sources   []said
}

// place is one place where a rule is broken.
type place struct {
	Grade, Certainty said
	Step             int
	Where            said
	Message          said
	Leaned           said
}

type waived struct {
	Rule, Message, Where, Reason, By, Until said
	Signal, Caution                         said // of the people family, told all the same
}

// source is what some words or numbers of the page rest on.
type source struct {
	For   said
	Texts []said
}

func newView(in Input) (*view, error) {
	j := in.Judged
	b := &builder{in: in, s: j.Sheet, doc: j.Doc, hazards: map[string][]int{}}
	counts := report.Count([]report.Judged{j})
	facts := j.Doc.Sheet
	v := &view{
		Policy: policy(), Style: template.CSS(pageCSS), Script: template.JS(pageJS),
		Title: said(facts.Title), Number: said(facts.Number), Revision: said(facts.Revision), File: said(j.File), Version: said(in.Version),
		Verdict: verdictLine(counts), Fails: counts.Fails > 0, LastLine: said(report.LastLine(counts)), Heed: heed,
	}
	b.v = v
	b.job()
	b.products()
	b.cups()
	b.findings()
	if err := b.clock(); err != nil {
		return nil, err
	}
	if err := b.steps(); err != nil {
		return nil, err
	}
	b.cautions()
	return v, nil
}

// verdictLine counts what was found.
func verdictLine(c report.Counts) said {
	var parts []string
	for _, n := range []struct {
		n     int
		words string
	}{{c.Fails, "that fails"}, {c.Risk, "at risk"}, {c.Advice, "for advice"}, {c.Waived, "waived"}} {
		if n.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n.n, n.words))
		}
	}
	if len(parts) == 0 {
		return "None of the faults this rulebook knows was found on this sheet."
	}
	words := "Found on this sheet: " + strings.Join(parts, ", ") + "."
	if c.Fails > 0 {
		words += " Put right what fails before a gun is loaded."
	}
	return said(words)
}

// factsOf keeps the pairs that have a value.
func factsOf(pairs ...string) (list []fact) {
	for i := 0; i+1 < len(pairs); i += 2 {
		if strings.TrimSpace(pairs[i+1]) != "" {
			list = append(list, fact{said(pairs[i]), said(pairs[i+1])})
		}
	}
	return list
}

// lines are the lines of a text that its writer broke, empty ones left out.
func lines(text string) (list []said) {
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	for _, l := range strings.Split(text, "\n") {
		if l = strings.TrimSpace(l); l != "" {
			list = append(list, said(l))
		}
	}
	return list
}

// paragraphs are the paragraphs of a text, parted by an empty line.
func paragraphs(text string) (list []said) {
	for _, p := range strings.Split(text, "\n\n") {
		if p = strings.Join(strings.Fields(p), " "); p != "" {
			list = append(list, said(p))
		}
	}
	return list
}
