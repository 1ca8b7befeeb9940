package sheet

import (
	"bytes"
	"errors"
	"iter"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	burnt "github.com/BurntSushi/toml"
	"github.com/pelletier/go-toml/v2"
)

// decode reads a text as TOML: its values, and where each stands. A text is
// TOML only if two decoders say so: each alone lets some pass that is none.
// The index is never nil; of a text that is no TOML it holds what came before
// the first fault.
func decode(file string, text []byte) (map[string]any, *Index, []Problem) {
	if p := unreadable(file, text); p != nil {
		x, _ := NewIndex(file, nil)
		return nil, x, []Problem{*p}
	}
	x, fault := NewIndex(file, text)
	if fault != nil {
		return nil, x, faults(x, fault)
	}
	body := text[bom(text):]
	var values map[string]any
	err := toml.Unmarshal(body, &map[string]any{})
	if err == nil {
		_, err = burnt.Decode(string(body), &values)
	}
	if err != nil {
		return nil, x, x.explain(err)
	}
	if values == nil {
		values = map[string]any{}
	}
	return values, x, nil
}

// unreadable says why a text cannot be a file of text at all.
func unreadable(file string, text []byte) *Problem {
	at := func(offset int, message string) *Problem {
		line := 1 + bytes.Count(text[:offset], []byte("\n"))
		start := bytes.LastIndexByte(text[:offset], '\n') + 1
		if start == 0 {
			start = min(bom(text), offset)
		}
		column := utf8.RuneCount(text[start:offset]) + 1
		return &Problem{
			Place:   Place{File: file, Line: line, Column: column, EndLine: line, EndColumn: column + 1, Start: offset, End: offset + 1},
			Message: message,
		}
	}
	switch {
	case len(text) > MaxFileSize:
		return &Problem{Place: top(file), Message: tooLarge()}
	case bytes.Count(text, []byte("\r")) > 1 && bytes.IndexByte(text, '\n') < 0:
		return &Problem{Place: top(file), Message: "the lines of this file end in CR alone, as on very old computers, so that it is one line; save it again with the line ends of Windows or Unix (CRLF or LF)"}
	case bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")):
		return &Problem{Place: top(file), Message: "this file is saved as UTF-16; save it again as UTF-8, which the editor may call plain text"}
	}
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		switch {
		case r == utf8.RuneError && size <= 1:
			return at(i, "this character is not UTF-8; save the file again as UTF-8 and look at this line")
		case r == 0:
			return at(i, "a NUL stands here, so this is no text file; copy the sheet out of it again")
		}
		i += size
	}
	return nil
}

// top is the place of a fault that is the whole file's.
func top(file string) Place {
	return Place{File: file, Line: 1, Column: 1, EndLine: 1, EndColumn: 1}
}

func tooLarge() string {
	return "this file is larger than " + strconv.Itoa(MaxFileSize>>20) + " MiB, and no sheet, shelf or house file is; take out what does not belong in it"
}

// mostFaults is how many faults of writing are told of one file.
const mostFaults = 20

// faults explains the fault that ended an index, and looks for further ones
// on later lines: a line that is one statement by itself can be left out and
// the rest read on.
func faults(x *Index, first *SyntaxError) []Problem {
	var found []Problem
	text := bytes.Clone(x.text)
	line, read := 0, x
	for fault := first; fault != nil && len(found) < mostFaults; {
		p, without := x.explainFault(fault, read.tableBefore(fault.Start))
		if p.Place.Line <= line {
			break
		}
		const mostSaid = 500 // characters; a line may be as long as a file
		p.Message = cutTo(mostSaid, p.Message)
		found = append(found, p)
		line = p.Place.Line
		if without.IsZero() {
			break
		}
		for i := without.Start; i < without.End; i++ {
			if text[i] != '\n' && text[i] != '\r' {
				text[i] = ' '
			}
		}
		read, fault = NewIndex(x.File, text)
	}
	return found
}

// statement is a line that is `key = value` as far as one can tell.
var statement = regexp.MustCompile(`^\s*("[^"]*"|'[^']*'|[\w.\-]+)\s*([=:])\s*(.*?)\s*$`)

// explainFault says in a painter's words why a text stops being TOML, and
// which lines could be left out without harm to the others; none where there
// are none such. table is the path of the table that the line stands in.
func (x *Index) explainFault(fault *SyntaxError, table string) (p Problem, without Span) {
	at := x.visible(fault.Start, fault.End)
	p.Place = x.Place(at)
	from := x.LineStart(p.Place.Line)
	line := x.line(p.Place.Line)
	m := statement.FindStringSubmatch(line)
	keyed := func(key string) string {
		key = strings.Trim(key, `"'`)
		if table == "" {
			return key
		}
		return table + "." + key
	}
	if m != nil {
		p.Key = keyed(m[1])
	}
	if fault.raw != fault.Message {
		p.Message = fault.Message
		return p, Span{}
	}
	open, isOpen := x.openAt(p.Place.Line, min(fault.Start, len(x.text)))
	if isOpen {
		end := len(x.text)
		if goesOn := m != nil || header.MatchString(strings.TrimSpace(line)); goesOn && open.line < p.Place.Line {
			end = from
		}
		if end == from || saysAny(fault.raw, atEnd) {
			p.Key, p.Message = keyed(open.key), x.notClosed(open, end)
			p.Place = x.Place(Span{open.value.Start, open.value.Start + len(withoutComment(string(x.Slice(open.value))))})
			return p, Span{x.LineStart(open.line), end}
		}
	}
	if m == nil && isOpen && x.text[open.value.Start] == '[' {
		// A list over several lines, one entry or more on each.
		if meant, lacking, ok := entries(strings.TrimSuffix(withoutComment(line), "]")); ok && len(lacking) > 0 {
			p.Key, p.Message = keyed(open.key), unquoted(lacking, strings.Join(meant, ", "))
			return p, Span{}
		}
	}
	message, ofValue := inWords(fault.raw, line, m, table)
	p.Message = message
	if ofValue {
		start := from + statement.FindStringSubmatchIndex(line)[6]
		p.Place = x.Place(Span{start, start + len(withoutComment(m[3]))})
	}
	// Of a list or inline table over several lines no single one can be left
	// out.
	if m != nil && balanced(m[3]) {
		without = Span{from, x.LineStart(p.Place.Line + 1)}
	}
	return p, without
}

// atEnd is what parsers say of a text that ends in the middle of a value.
var atEnd = []string{"array is incomplete", "inline table is incomplete", "EOF"}

// line is the text of a line without its end.
func (x *Index) line(n int) string {
	return strings.TrimRight(string(x.text[x.LineStart(n):x.LineStart(n+1)]), "\r\n")
}

// tableBefore is the path of the table whose header stands last before an
// offset; "" before the first.
func (x *Index) tableBefore(offset int) string {
	var last *Node
	x.Walk(func(n *Node) {
		if !n.Header.IsZero() && n.Header.Start < offset && (last == nil || n.Header.Start > last.Header.Start) {
			last = n
		}
	})
	return last.Path()
}

// visible is the span of a fault as it can be shown: whole characters, and at
// the end of a line the last character that stands on it.
func (x *Index) visible(start, end int) Span {
	start = min(start, len(x.text))
	if start == len(x.text) || x.text[start] == '\n' || x.text[start] == '\r' {
		last := start
		for last > 0 && strings.IndexByte(" \t\r\n", x.text[last-1]) >= 0 && (start == len(x.text) || x.text[last-1] != '\n') {
			last--
		}
		if last > 0 && x.text[last-1] != '\n' {
			start = last - 1
		}
		end = start + 1
	}
	for start > 0 && start < len(x.text) && !utf8.RuneStart(x.text[start]) {
		start--
	}
	end = min(max(end, start+1), len(x.text))
	for end < len(x.text) && !utf8.RuneStart(x.text[end]) {
		end++
	}
	return Span{start, end}
}

// balanced tells whether every bracket of a value that opens on a line closes
// on it, and no long text begins there.
func balanced(value string) bool {
	if strings.Contains(value, `"""`) || strings.Contains(value, `'''`) {
		return false
	}
	return strings.Count(value, "[") == strings.Count(value, "]") &&
		strings.Count(value, "{") == strings.Count(value, "}")
}

// saysAny tells whether one of some parts stands in a text.
func saysAny(text string, parts []string) bool {
	return slices.ContainsFunc(parts, func(p string) bool { return strings.Contains(text, p) })
}

const curly = "“”„‟‘’‚‛«»"

// inWords puts what a TOML parser said of a line into words for a painter. m
// is the line taken apart as a statement, nil where it is none, and table the
// path of the table that it stands in. ofValue tells that the whole value is at
// fault.
func inWords(raw, line string, m []string, table string) (message string, ofValue bool) {
	has := func(parts ...string) bool { return saysAny(raw, parts) }
	trimmed := strings.TrimSpace(line)
	if strings.ContainsAny(outsideQuotes(line), curly) {
		return `the quotes on this line are curly; write straight ones, "like this"`, false
	}
	if m != nil {
		key, sign, value := m[1], m[2], m[3]
		bare := withoutComment(value)
		k := keyIn(table, strings.Trim(key, `"'`))
		if list := closedList.FindStringSubmatch(bare); list != nil {
			if meant, lacking, ok := entries(list[1]); ok && len(lacking) > 0 {
				return unquoted(lacking, key+" = "+bracketed(meant)), true
			}
		} else if begun, ok := strings.CutPrefix(bare, "["); ok {
			if meant, lacking, ok := entries(begun); ok && len(lacking) > 0 {
				return unquoted(lacking, strings.Join(meant, ", ")), true
			}
		}
		switch twice := strings.TrimLeft(value, "= \t"); {
		case sign == ":":
			return "between a key and its value stands =, not a colon: " + key + " = " + asMeant(k, twice), false
		case twice != value:
			return "between a key and its value stands one =: " + key + " = " + asMeant(k, twice), false
		case bare == "":
			return "nothing is written after " + key + " =", false
		case otherBrackets(bare) != "":
			return "a list stands in square brackets: " + key + " = " + otherBrackets(bare), true
		case tableMeant(bare) != "":
			return "in braces too, = stands between a key and its value, and a text stands in quotes: " + key + " = " + tableMeant(bare), true
		case has("new lines", "contain newlines", "newlines not allowed", "unterminated") || unclosed(bare):
			return "a text begins on this line and its closing quote is missing", false
		case strings.HasSuffix(bare, ",") && !strings.ContainsAny(bare[:1], "[{"):
			return "a comma ends this line; a line holds one key and its value, and nothing after", false
		case dateOtherwise.MatchString(bare):
			return noDate, true
		}
		if word, ok := flagMeant(bare); ok && bare != word {
			return "write " + key + " = " + word + ": the two words for this are true and false, in small letters", true
		}
		// A value without its quotes: a word, or a number that goes on.
		if first := bare[0]; first != '"' && first != '\'' && first != '[' && first != '{' && !isDate.MatchString(bare) && !zeroFirst.MatchString(bare) &&
			has("start of value", "expected keyword", "strings must be quoted", "expected newline", "expected value", "top-level item", "expected a digit", "expected digit", "expecting colon", "format HH:MM", "format YYYY", "decimal point", "fraction", "leading zero", "underscores", "exponent", "radix", `expected "`, "floats must start", "invalid datetime") {
			switch meant := asMeant(k, value); {
			case k != nil && k.takes(TakesDay) && dayOf(bare) != "":
				return "a date is written as year, month and day, in figures: " + key + " = " + meant, true
			case needsNoQuotes(k):
				return wanted(k) + " is wanted here, such as " + key + " = " + meant, true
			default:
				return "a text, and so every quantity, stands in quotes: " + key + " = " + meant, true
			}
		}
		if zeroFirst.MatchString(bare) {
			return "a number does not begin with a zero", true
		}
		if isDate.MatchString(bare) {
			return noDate, true
		}
	}
	if bare := noSign.FindStringSubmatch(trimmed); bare != nil && keyIn(table, bare[1]) != nil {
		return "between a key and its value stands =: " + bare[1] + " = " + asMeant(keyIn(table, bare[1]), bare[2]), false
	}
	return ofLine(raw, trimmed, has), false
}

const noDate = "this is no date; write year, month and day, such as 2026-03-02"

// ofLine puts into words what is not about one key's value.
func ofLine(raw, trimmed string, has func(...string) bool) string {
	beside := besideHeader.FindStringSubmatch(trimmed)
	switch {
	case has("nested more than"):
		return deepMessage
	case wrongBrackets(trimmed) != "":
		return wrongBrackets(trimmed)
	case beside != nil && beside[1] != trimmed:
		return "a quote stands beside this table's name; write " + beside[1]
	case has("close table name", "close array table name", "table array name delimiter", "end table name"),
		has("invalid character at start of key") && header.MatchString(trimmed):
		return ofHeader(trimmed)
	case has("impossible date", "date", "time", "hour", "minute", "second"):
		return noDate
	case has("expected '=' after key", "expected key separator", "expected '.' or '='"):
		if strings.HasPrefix(trimmed, "-") || strings.HasPrefix(trimmed, "*") {
			return "a line begins with a key, not with a dash; a step begins with [[step]]"
		}
		return "here stands a key and no =; a line reads key = value, and a note begins with #"
	case has("invalid character at start of key", "keys cannot start", "key name appears blank", "reached end of input"):
		return "no key can begin like this; a line reads key = value, a table begins with [, and a note with #"
	case has("table names cannot be empty"):
		return "this table has no name; write [name]"
	case has(atEnd...):
		return "the file ends in the middle of a value; a list is closed with ], a table in braces with }, a text with its quote"
	case has("unterminated"):
		return "a text that begins above is never closed; add its closing quotes"
	case has("after array value", "array terminator", "expected a comma (',') or array"):
		return "between the entries of a list stands a comma"
	case has("after inline table", "inline table terminator"):
		return "between the entries of a table in braces stands a comma, and } closes it"
	case has("unexpected comma", "expected value but got"):
		return "a comma stands here with nothing before it"
	case has("invalid escape", "escape sequence", "Escaped character", "hexadecimal digit", "need a character after"):
		return `a backslash in "..." begins an escape; write \\ for a backslash, or put the text in single quotes`
	case has("control character", "carriage return"):
		return "a control character stands here; take it out"
	case has("too many quotes"):
		return "there are too many quotes here"
	case has("too large", "out of range", "out of the safe"):
		return "this number is too large"
	case has("number", "digit", "float", "integer", "Invalid"):
		return "this is no number that TOML knows; a quantity is a text in quotes with its unit"
	case has("expected newline", "top-level item"):
		return "something follows the value on this line; a line holds one key and its value, and a note begins with #"
	case has("newlines not allowed"):
		return "a table in braces stands on one line"
	}
	return "this is not written as TOML is (" + raw + "); a line reads key = value, a table begins with [name]"
}

var (
	dateOtherwise = regexp.MustCompile(`^\d{1,2}[-/.]\d{1,2}[-/.]\d{2,4}$`)
	zeroFirst     = regexp.MustCompile(`^[+-]?0\d+$`)
)

// isDate tells what was meant as a date.
var isDate = regexp.MustCompile(`^\d{2,4}[-/.]\d{1,2}[-/.]\d{1,2}([T ]|$)`)

// withoutComment cuts a comment off a value.
func withoutComment(value string) string {
	for i, r := range unquotedIn(value) {
		if r == '#' {
			value = value[:i]
			break
		}
	}
	return strings.TrimSpace(value)
}

// unquotedIn are the characters of a line outside of straight quotes, each at
// its offset.
func unquotedIn(line string) iter.Seq2[int, rune] {
	return func(yield func(int, rune) bool) {
		var open rune
		for i, r := range line {
			switch {
			case open != 0:
				if r == open {
					open = 0
				}
			case r == '"' || r == '\'':
				open = r
			case !yield(i, r):
				return
			}
		}
	}
}

// unclosed tells whether a text on a line lacks its closing quote.
func unclosed(value string) bool {
	if value == "" || value[0] != '"' && value[0] != '\'' {
		return false
	}
	return strings.Count(value, value[:1])%2 == 1 && !strings.Contains(value, `\`)
}

// quotedValue is a value as it should have been written, in quotes.
func quotedValue(value string) string {
	value = strings.TrimRight(withoutComment(value), ", ")
	if value == "" {
		return `"..."`
	}
	if inner := strings.Trim(value, `"'`); !strings.ContainsAny(inner, `"[{\`) {
		return `"` + inner + `"`
	}
	return value
}

// outsideQuotes is a line without what stands in straight quotes or behind #.
func outsideQuotes(line string) string {
	var b strings.Builder
	for _, r := range unquotedIn(line) {
		if r == '#' {
			break
		}
		b.WriteRune(r)
	}
	return b.String()
}

// isStep tells whether a node is a step of a sheet.
func isStep(n *Node) bool { return n.N > 0 && n.Parent.Name == "step" && n.Parent.Form == FormTables }

// explain says in a painter's words why a decoder refused a text that could
// be indexed: mostly, because something stands in it twice.
func (x *Index) explain(err error) []Problem {
	var problems []Problem
	var headless *Node // the step in which the next one has begun without its header
	for _, r := range x.repeats {
		if len(problems) == mostFaults {
			break
		}
		first := r.node.Key
		if r.table && !r.node.Header.IsZero() {
			first = r.node.Header
		}
		line, _ := x.Position(first.Start)
		p := Problem{Place: x.Place(r.second), Key: r.node.Path()}
		name := r.node.Name
		switch {
		case !r.table && r.node.Parent == headless:
			continue // the forgotten header is told
		case !r.table && name == "do" && isStep(r.node.Parent):
			headless = r.node.Parent
			p.Message = "a step does one thing, and this one has do on line " + strconv.Itoa(line) + " already; a line [[step]] may be missing above this one"
		case !r.table:
			p.Message = "the key " + quoteKey(name) + " stands twice in one table; the first is on line " + strconv.Itoa(line)
		case slices.Contains(manyTables, name):
			p.Message = "write [[" + name + "]] with two brackets, here and on line " + strconv.Itoa(line) + ": a sheet may have many of them"
		default:
			p.Message = "the table " + r.node.Path() + " stands twice; the first is on line " + strconv.Itoa(line)
		}
		problems = append(problems, p)
	}
	if len(problems) > 0 {
		return problems
	}
	fault := &SyntaxError{raw: err.Error(), Message: err.Error()}
	var first *toml.DecodeError
	var second burnt.ParseError
	switch {
	case errors.As(err, &first):
		row, column := first.Position()
		start := x.LineStart(row) + max(column-1, 0)
		fault.Start, fault.End = start, start+1
	case errors.As(err, &second):
		fault.raw = second.Message
		fault.Message = second.Message
		fault.Start = min(second.Position.Start+bom(x.text), len(x.text))
		fault.End = min(fault.Start+max(second.Position.Len, 1), len(x.text))
	}
	p, _ := x.explainFault(fault, x.tableBefore(fault.Start))
	return []Problem{p}
}
