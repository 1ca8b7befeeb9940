package report

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
)

// MarkdownMost is the most characters of a Markdown report: what the hosts of
// merge requests let a comment hold is 65,536 and more.
const MarkdownMost = 60000

// Markdown writes a report fit for a comment on a merge request: tables of
// counts, then the findings sheet by sheet, each with what to know folded away.
// No string of a sheet can set a heading, a tag, a link, a picture or a mention.
//
// A report of more than most characters (MarkdownMost when 0) leaves out what
// is least grave, and says at its end how much that is.
func Markdown(w io.Writer, sheets []Judged, most int) error {
	if most == 0 {
		most = MarkdownMost
	}
	c := Count(sheets)
	var blocks []block
	for i, j := range sheets {
		blocks = append(blocks, markdownSheet(i, j)...)
	}
	b := &strings.Builder{}
	b.WriteString("## Guidecoat\n\n")
	b.WriteString("| sheets | cannot be read | fails | risk | advice | waived | known |\n")
	b.WriteString("| ---: | ---: | ---: | ---: | ---: | ---: | ---: |\n")
	fmt.Fprintf(b, "| %d | %d | %d | %d | %d | %d | %d |\n", c.Sheets, c.Unreadable, c.Fails, c.Risk, c.Advice, c.Waived, c.Known)
	last := ""
	if n := goneFrom(sheets); n > 0 {
		last = "\n" + plainMarkdown(goneWords(n)) + "\n"
	}
	last += "\n" + LastLine(c) + "\n"
	heads := make([]string, len(sheets))
	for i, j := range sheets {
		heads[i] = fmt.Sprintf("\n### Sheet %s\n\n", plainMarkdown(j.File))
	}
	return assemble(w, b, blocks, heads, last, most, commentWords{"guidecoat inspect", "no fault found"})
}

// commentWords are what two kinds of report say otherwise.
type commentWords struct{ command, clean string }

// assemble writes a report: its head, its blocks sheet by sheet, what had to be
// left out, and its end.
func assemble(w io.Writer, b *strings.Builder, blocks []block, heads []string, last string, most int, words commentWords) error {
	// The note of what was left out has its room kept free.
	const noteRoom = 400
	left := choose(blocks, heads, most-utf8.RuneCountInString(b.String()+last)-noteRoom)
	sheet := -1
	for _, bl := range blocks {
		if bl.out || bl.rank == rankClean {
			continue
		}
		if bl.sheet != sheet {
			b.WriteString(heads[bl.sheet])
			sheet = bl.sheet
		}
		b.WriteString(bl.text)
	}
	markdownClean(b, blocks, heads, words.clean)
	if left != "" {
		fmt.Fprintf(b, "\nLeft out, as a comment holds no more: %s. `%s` in the terminal tells all.\n", left, words.command)
	}
	b.WriteString(last)
	// One empty line parts what two would: a folded note ends with its own.
	_, err := io.WriteString(w, strings.ReplaceAll(b.String(), "\n\n\n", "\n\n"))
	return err
}

// block is a piece of the report that stays or is left out as a whole.
type block struct {
	sheet int // index
	rank  int
	text  string
	out   bool
}

// What is left out last comes first.
const (
	rankUnread = iota
	rankFails
	rankPeople // a caution that is told whatever set its finding aside
	rankRisk
	rankSetAside
	rankAdvice
	rankClean
)

// leftWords name what was left out, by rank.
var leftWords = []string{"%d that cannot be read", "%d that fail", "%d cautions of findings set aside", "%d at risk",
	"%d waived, known or switched off", "%d for advice", "%d names of sheets without a fault"}

// choose leaves out what there is no room for, the least grave first, and says
// how much that is.
func choose(blocks []block, heads []string, room int) string {
	headed := make([]bool, len(heads))
	left := make([]int, len(leftWords))
	for rank := range leftWords {
		for i := range blocks {
			bl := &blocks[i]
			if bl.rank != rank {
				continue
			}
			size := utf8.RuneCountInString(bl.text)
			if !headed[bl.sheet] && rank != rankClean {
				size += utf8.RuneCountInString(heads[bl.sheet])
			}
			if bl.out = size > room; bl.out {
				left[rank]++
				continue
			}
			room -= size
			headed[bl.sheet] = headed[bl.sheet] || rank != rankClean
		}
	}
	var parts []string
	for rank, n := range left {
		if n > 0 {
			parts = append(parts, fmt.Sprintf(leftWords[rank], n))
		}
	}
	return strings.Join(parts, ", ")
}

// markdownClean lists the sheets of which there is nothing to tell, folded away
// where there are more than one.
func markdownClean(b *strings.Builder, blocks []block, heads []string, words string) {
	var names []string
	sheet := 0
	for _, bl := range blocks {
		if bl.rank == rankClean && !bl.out {
			names, sheet = append(names, bl.text), bl.sheet
		}
	}
	switch {
	case len(names) == 0:
	case len(heads) == 1:
		b.WriteString(heads[sheet] + strings.ToUpper(words[:1]) + words[1:] + ".\n")
	default:
		fmt.Fprintf(b, "\n<details><summary>%s in %d of the %d sheets</summary>\n\n%s\n</details>\n", words, len(names), len(heads), strings.Join(names, ""))
	}
}

// markdownSheet is what there is to tell of one sheet, in blocks.
func markdownSheet(i int, j Judged) []block {
	var blocks []block
	b := &strings.Builder{}
	end := func(rank int) {
		if b.Len() > 0 {
			blocks = append(blocks, block{sheet: i, rank: rank, text: b.String()})
			b.Reset()
		}
	}
	if !j.Readable() {
		markdownUnread(b, j)
		end(rankUnread)
	}
	if len(j.Result.Findings)+len(j.Result.Waived)+len(j.Result.Off)+len(j.Known) == 0 {
		if j.Readable() {
			fmt.Fprintf(b, "- %s\n", plainMarkdown(j.File))
			end(rankClean)
		}
		return blocks
	}
	switch {
	case len(j.Result.Findings) > 0 || !j.Readable():
	case len(j.Known) > 0:
		b.WriteString("Nothing new.\n\n")
	default:
		b.WriteString("No fault found that is not waived or switched off.\n\n")
	}
	end(rankSetAside)
	for _, f := range j.Result.Findings {
		markdownFinding(b, j.File, f)
		end(gradeRank(f.Grade))
	}
	setAside := func(word string, f rulebook.Finding, why string) {
		fmt.Fprintf(b, "- **%s** %s (%s, line %d)%s\n", word, plainMarkdown(where(f)+f.Message), plainMarkdown(f.Rule), f.Line, why)
		rank := rankSetAside
		if f.People {
			markdownNotes(b, [][2]string{{"Caution", caution(f)}})
			rank = rankPeople
		}
		end(rank)
	}
	for _, f := range j.Result.Waived {
		why := ""
		if f.Waiver != nil {
			why = "; reason: " + plainMarkdown(waiverSaid(f.Waiver))
		}
		setAside("WAIVED", f, why)
	}
	for _, f := range j.Known {
		if f.People {
			setAside("KNOWN", f, "; from the baseline")
		}
	}
	if n := len(j.Known); n > 0 {
		fmt.Fprintf(b, "- %s\n", knownWords(n))
		end(rankSetAside)
	}
	for _, off := range j.Result.Off {
		fmt.Fprintf(b, "- **OFF** %s is switched off by the house file: %s\n", plainMarkdown(off.Rule), plainMarkdown(off.Reason))
		end(rankSetAside)
	}
	return blocks
}

func markdownUnread(b *strings.Builder, j Judged) {
	if len(j.Problems) > 0 {
		b.WriteString("Cannot be read, so nothing in it was judged.\n\n")
	} else {
		b.WriteString("Not every rule could be judged.\n\n")
	}
	for _, p := range j.Problems {
		at := []string{}
		if p.Place.File != "" && p.Place.File != j.File {
			at = append(at, "in "+plainMarkdown(p.Place.File))
		}
		if p.Place.Line > 0 {
			at = append(at, fmt.Sprintf("line %d, column %d", p.Place.Line, p.Place.Column))
		}
		if len(at) == 0 {
			at = append(at, "the file")
		}
		message := p.Message
		if p.Key != "" {
			message = p.Key + ": " + message
		}
		fmt.Fprintf(b, "- **CANNOT READ** %s: %s\n", strings.Join(at, ", "), plainMarkdown(message))
	}
	for _, broke := range j.Result.Broke {
		fmt.Fprintf(b, "- **RULE BROKE** %s\n", plainMarkdown(broke.Rule+": "+broke.Message))
	}
}

func markdownFinding(b *strings.Builder, file string, f rulebook.Finding) {
	fmt.Fprintf(b, "- **%s** %s (%s, line %d", strings.ToUpper(f.Grade), plainMarkdown(where(f)+f.Message), plainMarkdown(f.Rule), f.Line)
	if f.File != file { // a card on a shelf
		b.WriteString(" of " + plainMarkdown(f.File))
	}
	if f.Certainty == "may" {
		b.WriteString("; it may come, it need not")
	}
	for _, r := range f.Related {
		if r.Line == 0 {
			continue
		}
		fmt.Fprintf(b, "; %s: line %d", plainMarkdown(r.Text), r.Line)
		if r.File != f.File {
			b.WriteString(" of " + plainMarkdown(r.File))
		}
	}
	b.WriteString(")\n")
	markdownNotes(b, [][2]string{{"Why", f.Why}, {"Do", f.Remedy}, {"Caution", caution(f)}})
}

func caution(f rulebook.Finding) string {
	if f.Safety.Text == "" {
		return ""
	}
	return f.Safety.Signal + ": " + f.Safety.Text
}

// markdownNotes folds labelled paragraphs away under the entry above them; the
// summary names them.
func markdownNotes(b *strings.Builder, notes [][2]string) {
	var labels, lines []string
	for _, n := range notes {
		text := strings.Join(strings.Fields(n[1]), " ")
		if text == "" {
			continue
		}
		labels = append(labels, n[0])
		lines = append(lines, fmt.Sprintf("  **%s:** %s\n\n", n[0], plainMarkdown(text)))
	}
	if len(lines) == 0 {
		return
	}
	// Between empty lines what stands in a tag is read as Markdown again.
	fmt.Fprintf(b, "\n  <details><summary>%s</summary>\n\n%s  </details>\n\n", strings.ToLower(strings.Join(labels, ", ")), strings.Join(lines, ""))
}

// What a string of a sheet may not do in Markdown. Signs of the markup become
// character references, which never make structure. That does not stop what a
// site looks for in the finished text (mentions, references, short names of
// little pictures, addresses), so that such a sign is parted from the word
// after it by a space of no width.
const (
	markupSigns = "&<>*_`[]#|~\\!@$^{}:"
	joinedSigns = "@#!~$%&^:[{<"
	noWidth     = "&#8203;"
)

// plainMarkdown is a string as plain words within a line of Markdown. It must
// not stand at the beginning of a line, where a number or a dash has a meaning.
func plainMarkdown(s string) string {
	var b strings.Builder
	runes := []rune(strings.Join(strings.Fields(printable.Visible(s)), " "))
	for i, r := range runes {
		next := rune(' ')
		if i+1 < len(runes) {
			next = runes[i+1]
		}
		if r == '>' && i > 0 && runes[i-1] != ' ' {
			b.WriteString(noWidth)
		}
		// A colon before a space is a colon.
		if strings.ContainsRune(markupSigns, r) && (r != ':' || next != ' ') {
			fmt.Fprintf(&b, "&#%d;", r)
		} else {
			b.WriteRune(r)
		}
		if strings.ContainsRune(joinedSigns, r) && next != ' ' {
			b.WriteString(noWidth)
		}
		if next == '.' && i >= 2 && strings.EqualFold(string(runes[i-2:i+1]), "www") {
			b.WriteString(noWidth)
		}
	}
	return b.String()
}
