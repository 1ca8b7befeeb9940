package cli

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"maps"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"
	"unicode/utf8"

	"github.com/emersion/go-ical"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	gmtext "github.com/yuin/goldmark/text"
	"golang.org/x/net/html"
)

// colors are what the program itself colors a terminal with.
var colors = regexp.MustCompile("\x1b\\[[0-9;]*m")

// unseenOrActing tells of a character that a terminal acts on, that turns the
// words around it, or that nobody sees.
func unseenOrActing(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Co, r) ||
		r == '\u2028' || r == '\u2029' || r == utf8.RuneError || r >= 0xfe00 && r <= 0xfe0f || r&0xfffe == 0xfffe
}

// forged are beginnings of lines that only the program writes.
var forged = regexp.MustCompile(`(?m)^\s{0,3}(FAILS|RISK|ADVICE|CANNOT READ|UNREADABLE)\s+(step 1: )?forged`)

// printsNothingRaw holds an printout to this: nothing in it acts on a terminal,
// turns or hides words, or stands where a verdict would.
func printsNothingRaw(t *testing.T, a printout) {
	t.Helper()
	text := a.text
	switch a.format {
	case "png":
		return
	case "colored":
		text = colors.ReplaceAllString(text, "")
	case "ical":
		text = strings.ReplaceAll(text, "\r\n", "\n")
	}
	if !utf8.ValidString(text) {
		t.Error("it is no UTF-8")
	}
	told := 0
	for at, r := range text {
		if r != '\n' && unseenOrActing(r) && told < 3 {
			told++
			t.Errorf("U+%04X stands raw in %q", r, around(text, at))
		}
	}
	if a.format == "text" || a.format == "colored" || a.format == "diff" {
		if line := forged.FindString(text); line != "" {
			t.Errorf("a line is forged: %q", line)
		}
	}
	// A format of Go's that was read where words were meant.
	for _, slip := range []string{"%!d", "%!s(", "%!v(", "(MISSING)", "(EXTRA"} {
		if strings.Contains(strings.ReplaceAll(text, "%!s %%", ""), slip) {
			t.Errorf("a text is taken for a format: it prints %q", around(text, strings.Index(text, slip)))
		}
	}
}

func around(text string, at int) string {
	return text[max(0, at-40):min(len(text), at+20)]
}

// shapeOf parses an printout by the rules of its format and gives its structure:
// what the words in it must not change.
func shapeOf(t *testing.T, a printout) string {
	t.Helper()
	switch a.format {
	case "json", "sarif":
		return jsonShape(t, a)
	case "junit", "svg":
		return xmlShape(t, a)
	case "markdown":
		return markdownShape(t, a)
	case "ical":
		return icalShape(t, a)
	case "dot":
		return dotShape(t, a)
	case "html":
		return htmlShape(t, a)
	case "png":
		if _, err := png.Decode(strings.NewReader(a.text)); err != nil {
			t.Errorf("it is no PNG: %v", err)
		}
	case "diff":
		return diffShape(a)
	}
	return ""
}

// apart are the lines of two structures that are in one of them alone.
func apart(want, got string) string {
	var b strings.Builder
	in := func(a, b string) bool { return slices.Contains(strings.Split(a, "\n"), b) }
	for line := range strings.SplitSeq(want, "\n") {
		if !in(got, line) {
			fmt.Fprintf(&b, "missing: %.300s\n", line)
		}
	}
	for line := range strings.SplitSeq(got, "\n") {
		if !in(want, line) {
			fmt.Fprintf(&b, "new: %.300s\n", line)
		}
	}
	return b.String()
}

func listedSet(set map[string]int, counted bool) string {
	var b strings.Builder
	for _, name := range slices.Sorted(maps.Keys(set)) {
		if counted {
			fmt.Fprintf(&b, "%d × %s\n", set[name], name)
		} else {
			b.WriteString(name + "\n")
		}
	}
	return b.String()
}

// jsonShape is every path of keys, lists taken together, with how often it is
// there. The messages of SARIF have a language of their own, which is read too.
func jsonShape(t *testing.T, a printout) string {
	t.Helper()
	paths := map[string]int{}
	dec := json.NewDecoder(strings.NewReader(a.text))
	var v any
	if err := dec.Decode(&v); err != nil {
		t.Fatalf("it is no JSON: %v", err)
	}
	if dec.More() {
		t.Error("something stands behind the object")
	}
	var walk func(path string, v any)
	walk = func(path string, v any) {
		switch v := v.(type) {
		case map[string]any:
			for k, e := range v {
				if a.format == "sarif" && k == "text" && !strings.HasSuffix(path, "insertedContent") {
					sarifWords(t, e.(string))
				}
				walk(path+"/"+keyShape(path, k), e)
			}
		case []any:
			for _, e := range v {
				walk(path+"/-", e)
			}
		default:
			paths[path]++
		}
	}
	walk("", v)
	// A text may be cut short, and an edit may be offered or not: only which
	// paths there are is the structure.
	return listedSet(paths, false)
}

// keyShape is a key, or a dash where the keys are names that a shop gave.
func keyShape(path, key string) string {
	if strings.Contains(key, " ") {
		return "-"
	}
	return key
}

// A message of SARIF has no place for an argument and no link.
var (
	sarifHole = regexp.MustCompile(`(^|[^{])(\{\{)*\{[0-9]+\}`)
	sarifLink = regexp.MustCompile(`\]\(`)
)

func sarifWords(t *testing.T, text string) {
	t.Helper()
	if hole := sarifHole.FindString(text); hole != "" {
		t.Errorf("%q is a place for an argument", hole)
	}
	if link := sarifLink.FindStringIndex(text); link != nil {
		t.Errorf("there is a link in %q", around(text, link[0]))
	}
}

// xmlShape is the elements and attributes; of JUnit with how often they are
// there, of SVG not, for a longer text takes more lines.
func xmlShape(t *testing.T, a printout) string {
	t.Helper()
	set := map[string]int{}
	dec := xml.NewDecoder(strings.NewReader(a.text))
	for {
		token, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("it is no XML: %v", err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			set["<"+token.Name.Local+">"]++
			for _, at := range token.Attr {
				set["<"+token.Name.Local+" "+at.Name.Local+">"]++
				if a.format == "svg" && at.Name.Local == "style" {
					set["style "+at.Value]++
				}
			}
		case xml.ProcInst:
			set["<?"+token.Target+">"]++
		case xml.Directive:
			set["<!"+string(token)+">"]++
		case xml.Comment:
			set["<!-->"]++
		}
	}
	return listedSet(set, a.format == "junit")
}

// markdownShape is the kinds of nodes; how many headings and tables there are;
// and what HTML there is.
func markdownShape(t *testing.T, a printout) string {
	t.Helper()
	md := goldmark.New(goldmark.WithExtensions(extension.GFM, extension.Footnote, extension.DefinitionList))
	source := []byte(a.text)
	set := map[string]int{}
	counts := map[string]int{}
	err := ast.Walk(md.Parser().Parse(gmtext.NewReader(source)), func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		kind := n.Kind().String()
		set[kind]++
		switch n := n.(type) {
		case *ast.Heading:
			counts["heading"]++
		case *ast.HTMLBlock:
			for _, l := range n.Lines().Sliced(0, n.Lines().Len()) {
				set[strings.TrimSpace(numbers.ReplaceAllString(string(l.Value(source)), "N"))]++
			}
		case *ast.RawHTML:
			for i := range n.Segments.Len() {
				segment := n.Segments.At(i)
				set[string(segment.Value(source))]++
			}
		}
		if kind == "Table" || kind == "TableRow" {
			counts[kind]++
		}
		return ast.WalkContinue, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if called := mention.FindString(a.text); called != "" {
		t.Errorf("%q calls on somebody", called)
	}
	return listedSet(set, false) + listedSet(counts, true)
}

var (
	numbers = regexp.MustCompile(`[0-9]+`)
	mention = regexp.MustCompile(`(^|[^0-9A-Za-z_&])[@][A-Za-z0-9]\S*|(^|[^&A-Za-z0-9])#[0-9]+\b|https?://|www\.`)
)

// icalShape is the components and their properties, counted.
func icalShape(t *testing.T, a printout) string {
	t.Helper()
	for line := range strings.SplitSeq(a.text, "\r\n") {
		if len(line) > 75 {
			t.Errorf("a line has %d octets: %q", len(line), line)
		}
		if strings.ContainsAny(line, "\r\n") {
			t.Errorf("a line ends otherwise than by CR LF: %q", line)
		}
	}
	cal, err := ical.NewDecoder(strings.NewReader(a.text)).Decode()
	if err != nil {
		t.Fatalf("it is no calendar: %v", err)
	}
	set := map[string]int{}
	var walk func(c *ical.Component)
	walk = func(c *ical.Component) {
		set[c.Name]++
		for name, props := range c.Props {
			set[c.Name+" "+name] += len(props)
			for _, p := range props {
				for param := range p.Params {
					set[c.Name+" "+name+";"+param]++
				}
			}
		}
		for _, child := range c.Children {
			walk(child)
		}
	}
	walk(cal.Component)
	return listedSet(set, true)
}

// dotShape is the statements of a graph, their names taken off, and what the
// graph's own program makes of it where it is there.
func dotShape(t *testing.T, a printout) string {
	t.Helper()
	if program, err := exec.LookPath("dot"); err == nil {
		cmd := exec.Command(program, "-Tcanon")
		cmd.Stdin = strings.NewReader(a.text)
		if out, err := cmd.CombinedOutput(); err != nil || bytes.Contains(out, []byte("Warning")) {
			t.Errorf("the graph is not read: %v\n%.600s", err, out)
		}
	}
	set := map[string]int{}
	for line := range strings.SplitSeq(a.text, "\n") {
		set[quotedDOT.ReplaceAllStringFunc(line, func(text string) string {
			// Of a text only its line breaks are structure.
			return fmt.Sprintf(`"… %d"`, strings.Count(strings.ReplaceAll(text, `\\`, ""), `\n`))
		})]++
	}
	return listedSet(set, true)
}

// quotedDOT is a text of the DOT language: it ends at the first quote that no
// backslash stands before.
var quotedDOT = regexp.MustCompile(`"(?:[^"\\]|\\.)*"`)

// htmlShape is the elements and attributes of a page, and its scripts, styles
// and addresses word by word.
func htmlShape(t *testing.T, a printout) string {
	t.Helper()
	doc, err := html.Parse(strings.NewReader(a.text))
	if err != nil {
		t.Fatal(err)
	}
	set := map[string]int{}
	var walk func(n *html.Node)
	walk = func(n *html.Node) {
		switch n.Type {
		case html.ElementNode:
			if n.Data != "br" { // what a step says may have several lines
				set["<"+n.Data+">"]++
			}
			for _, at := range n.Attr {
				set["<"+n.Data+" "+at.Key+">"]++
				switch at.Key {
				case "src", "href", "action", "content", "http-equiv", "srcdoc":
					set[at.Key+" "+numbers.ReplaceAllString(at.Val, "N")]++
				}
			}
			if (n.Data == "script" || n.Data == "style") && n.FirstChild != nil && !isData(n) {
				set[n.Data+": "+n.FirstChild.Data]++
			}
		case html.CommentNode:
			set["<!--"+n.Data+">"]++
		case html.DoctypeNode:
			set["<!"+n.Data+">"]++
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c)
		}
	}
	walk(doc)
	return listedSet(set, false)
}

// isData tells of a script that is no program but data, which must be JSON.
func isData(n *html.Node) bool {
	for _, at := range n.Attr {
		if at.Key == "type" && at.Val == "application/json" {
			return true
		}
	}
	return false
}

// diffShape is what the lines of a diff begin with: the heads of files and
// pieces word by word.
func diffShape(a printout) string {
	set := map[string]int{}
	for line := range strings.SplitSeq(a.text, "\n") {
		switch {
		case strings.HasPrefix(line, "---"), strings.HasPrefix(line, "+++"):
			set[line[:3]+" file"]++
		case line == "":
			set["the end"]++
		default:
			set[line[:1]]++
		}
	}
	return listedSet(set, false)
}
