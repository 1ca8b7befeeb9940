package report

import (
	"fmt"
	"io"
	"strings"

	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
)

// Markdown writes a report fit for a comment on a merge request: a table of
// counts, then the findings sheet by sheet, each with what to know folded away.
// No string of a sheet can set a heading, a tag, a link, a picture or a mention.
func Markdown(w io.Writer, sheets []Judged) error {
	b := &strings.Builder{}
	c := Count(sheets)
	b.WriteString("## Guidecoat\n\n")
	b.WriteString("| sheets | cannot be read | fails | risk | advice | waived |\n")
	b.WriteString("| ---: | ---: | ---: | ---: | ---: | ---: |\n")
	fmt.Fprintf(b, "| %d | %d | %d | %d | %d | %d |\n", c.Sheets, c.Unreadable, c.Fails, c.Risk, c.Advice, c.Waived)
	for _, j := range sheets {
		markdownSheet(b, j)
	}
	fmt.Fprintf(b, "\n%s\n", LastLine(c))
	// One empty line parts what two would: a folded note ends with its own.
	_, err := io.WriteString(w, strings.ReplaceAll(b.String(), "\n\n\n", "\n\n"))
	return err
}

func markdownSheet(b *strings.Builder, j Judged) {
	fmt.Fprintf(b, "\n### Sheet %s\n\n", plainMarkdown(j.File))
	if !j.Readable() {
		b.WriteString("Cannot be read, so nothing in it was judged.\n\n")
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
		return
	}
	if len(j.Result.Findings) == 0 {
		if len(j.Result.Waived)+len(j.Result.Off) == 0 {
			b.WriteString("No fault found.\n")
			return
		}
		b.WriteString("No fault found that is not waived or switched off.\n\n")
	}
	for _, f := range j.Result.Findings {
		markdownFinding(b, j.File, f)
	}
	for _, f := range j.Result.Waived {
		fmt.Fprintf(b, "- **WAIVED** %s (%s, line %d)", plainMarkdown(where(f)+f.Message), plainMarkdown(f.Rule), f.Line)
		if f.Waiver != nil {
			fmt.Fprintf(b, "; reason: %s", plainMarkdown(waiverSaid(f.Waiver)))
		}
		b.WriteByte('\n')
		if f.People {
			markdownNotes(b, [][2]string{{"Caution", caution(f)}})
		}
	}
	for _, off := range j.Result.Off {
		fmt.Fprintf(b, "- **OFF** %s is switched off by the house file: %s\n", plainMarkdown(off.Rule), plainMarkdown(off.Reason))
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
