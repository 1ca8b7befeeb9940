package editor

import (
	"bytes"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"guidecoat/internal/sheet"
)

// Half-typed TOML: what breaks one key's line must not hide the rest of the
// file. A text that does not parse is taken apart into statements, each a header
// or a key with its value, and those that are no TOML by themselves are blanked.

var (
	headerLine = regexp.MustCompile(`^[ \t]*\[{1,2}[ \t]*[\w\-."' ]*\]{0,2}[ \t]*(#.*)?\r?$`)
	keyLine    = regexp.MustCompile(`^[ \t]*([\w\-.]+|"[^"\n]*"|'[^'\n]*')([ \t]*\.[ \t]*[\w\-"']+)*[ \t]*(=|$)`)
)

// statement is a header, or a key with its value, over as many lines as it has.
type statement struct{ start, end int }

// statements takes a text apart. A line that begins like a header or a key does
// begin one, whatever bracket was left open before it: inside a list of a sheet
// no line looks like that. Only a long text (”'...”') holds such lines, if it
// is ever closed.
func statements(b []byte) []statement {
	var all []statement
	within := "" // the quotes of a long text that is open
	open := 0    // brackets
	for at := 0; at < len(b); {
		end := len(b)
		if next := bytes.IndexByte(b[at:], '\n'); next >= 0 {
			end = at + next + 1
		}
		line := bytes.TrimRight(b[at:end], "\n")
		if within != "" || open > 0 && !headerLine.Match(line) && !keyLine.Match(line) {
			all[len(all)-1].end = end
		} else {
			all, open = append(all, statement{at, end}), 0
		}
		within = openQuotes(string(line), within)
		if within != "" && !bytes.Contains(b[end:], []byte(within)) {
			within = ""
		}
		open += opened(line)
		at = end
	}
	return all
}

// opened is how many more brackets a line opens than it closes, outside quotes.
func opened(line []byte) int {
	n := 0
	var quote byte
	for i := 0; i < len(line); i++ {
		switch c := line[i]; {
		case quote != 0:
			if c == '\\' && quote == '"' {
				i++
			} else if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '#':
			return n
		case c == '[':
			n++
		case c == ']':
			n--
		}
	}
	return n
}

// openQuotes is which long text is open after a line.
func openQuotes(line, within string) string {
	for {
		if within != "" {
			_, after, closed := strings.Cut(line, within)
			if !closed {
				return within
			}
			line, within = after, ""
		}
		a, b := strings.Index(line, `"""`), strings.Index(line, `'''`)
		switch {
		case a < 0 && b < 0:
			return ""
		case b < 0 || a >= 0 && a < b:
			within, line = `"""`, line[a+3:]
		default:
			within, line = `'''`, line[b+3:]
		}
	}
}

// indexed is the index of a text, or of as much of it as is TOML.
func indexed(file string, b []byte) *sheet.Index {
	x, fault := sheet.NewIndex(file, b)
	if fault == nil {
		return x
	}
	whole := bytes.Clone(b)
	for _, s := range statements(b) {
		if _, fault := sheet.NewIndex(file, b[s.start:s.end]); fault != nil {
			blank(whole[s.start:s.end])
		}
	}
	x, _ = sheet.NewIndex(file, whole)
	return x
}

func blank(b []byte) {
	for i, c := range b {
		if c != '\n' && c != '\r' {
			b[i] = ' '
		}
	}
}

// words is the text that a node's value says; "" where it is none.
func words(x *sheet.Index, n *sheet.Node) string {
	if n == nil || n.Form != sheet.FormText {
		return ""
	}
	return unquoted(string(x.Slice(n.Value)))
}

// unquoted is what a TOML text says, near enough to be looked up.
func unquoted(s string) string {
	for _, q := range []string{`"""`, `'''`, `"`, `'`} {
		if len(s) >= 2*len(q) && strings.HasPrefix(s, q) && strings.HasSuffix(s, q) {
			inner := s[len(q) : len(s)-len(q)]
			if q == `"` {
				if u, err := strconv.Unquote(s); err == nil {
					return u
				}
			}
			return inner
		}
	}
	return s
}

// entries are a list's entries, or the one value that stands alone.
func entries(n *sheet.Node) []*sheet.Node {
	switch {
	case n == nil:
		return nil
	case n.Form == sheet.FormList || n.Form == sheet.FormTables:
		return n.Children
	}
	return []*sheet.Node{n}
}

// spot is what stands at an offset of a text, parsed or not.
type spot struct {
	table *sheet.Node // whose header stands last before it; the root before the first
	path  []string    // keys from the root to what is at the spot, its own last where it has one
	in    []string    // of a key: the keys from the root to the table that it stands in
	place where
	list  bool     // inside a list's brackets
	had   []string // texts that the list has before the spot

	// The word at the spot: of a key its name, of a text what is between the
	// quotes. It may be empty.
	start, end int
	quote      byte // that the text is in; 0 where there is none
	closed     bool // the text's closing quote is there
	assigned   bool // of a key: an = follows
	of         statement
}

// where in a statement a spot is.
type where int

const (
	nowhere  where = iota // in a note, or behind a value
	inHeader              // between the brackets of [table] or [[table]]
	inKey                 // where a key stands or may stand
	inValue               // where a value stands or may stand
)

// spotAt finds what stands at an offset.
func spotAt(x *sheet.Index, b []byte, offset int) spot {
	s := spot{start: offset, end: offset}
	all := statements(b)
	for _, st := range all {
		if st.start <= offset && (offset < st.end || st.end == len(b) && offset == len(b)) {
			s.of = st
		}
	}
	if len(b) > 0 && offset == len(b) && b[len(b)-1] == '\n' {
		s.of = statement{offset, offset} // the empty line at the end
	}
	s.table = tableBefore(x, s.of.start)
	for n := s.table; n != nil && n.Parent != nil; n = n.Parent {
		if n.N == 0 {
			s.path = append([]string{n.Name}, s.path...)
		}
	}
	l := lexer{b: b[:s.of.end], at: s.of.start, stop: offset, spot: &s}
	l.statement()
	return s
}

// tableBefore is the table whose header stands last before an offset.
func tableBefore(x *sheet.Index, offset int) *sheet.Node {
	last := x.Root
	x.Walk(func(n *sheet.Node) {
		if !n.Header.IsZero() && n.Header.Start < offset && n.Header.Start >= last.Header.Start {
			last = n
		}
	})
	return last
}

// lexer reads one statement up to the spot and notes what the spot is in. It
// never fails: what is no TOML is passed over.
type lexer struct {
	b        []byte
	at, stop int
	spot     *spot
}

func (l *lexer) blanks(of string) {
	for l.at < len(l.b) && strings.IndexByte(of, l.b[l.at]) >= 0 {
		l.at++
	}
}

func (l *lexer) peek() byte {
	if l.at < len(l.b) {
		return l.b[l.at]
	}
	return 0
}

func (l *lexer) statement() {
	l.blanks(" \t")
	if l.at == 0 && bytes.HasPrefix(l.b, []byte("\xef\xbb\xbf")) {
		l.at = 3
	}
	switch {
	case l.peek() == '[':
		l.header()
	case l.key("=\n"):
		l.value("\n")
	}
}

// header notes a spot in [table]; one behind its brackets is nowhere.
func (l *lexer) header() {
	l.blanks("[")
	start := l.at
	for l.at < len(l.b) && strings.IndexByte("]#\r\n", l.b[l.at]) < 0 {
		l.at++
	}
	if l.stop <= l.at {
		l.spot.place = inHeader
		l.spot.start, l.spot.end = min(start, l.stop), l.at
		l.spot.closed = l.peek() == ']'
	}
}

// key reads a key up to one of the ends. It is false when the spot is in the
// key, or there is none.
func (l *lexer) key(ends string) bool {
	l.blanks(" \t")
	if l.peek() == '#' {
		return false
	}
	start := l.at
	var quote byte
	for l.at < len(l.b) && (quote != 0 && l.b[l.at] != '\n' || strings.IndexByte(ends, l.b[l.at]) < 0) {
		switch c := l.b[l.at]; {
		case quote == 0 && (c == '"' || c == '\''):
			quote = c
		case c == quote:
			quote = 0
		}
		l.at++
	}
	end := start + len(bytes.TrimRight(l.b[start:l.at], " \t\r\n"))
	if l.stop <= max(end, start) || l.peek() != '=' && l.stop <= l.at {
		s := l.spot
		s.place = inKey
		s.start, s.end = min(start, l.stop), max(end, min(start, l.stop))
		if l.stop > end { // behind the key, with no = yet
			s.start, s.end = l.stop, l.stop
		}
		s.assigned = l.peek() == '='
		s.in = slices.Clone(s.path)
		if name := strings.TrimSpace(string(l.b[start:max(end, start)])); name != "" {
			s.path = append(s.path, keyParts(name)...)
		}
		return false
	}
	if l.peek() != '=' || end <= start {
		return false
	}
	l.at++
	l.spot.path = append(l.spot.path, keyParts(string(l.b[start:end]))...)
	return l.stop >= l.at
}

// keyParts are the parts of a dotted key, unquoted.
func keyParts(s string) []string {
	var parts []string
	for s != "" {
		s = strings.TrimSpace(s)
		end := strings.IndexByte(s, '.')
		if s != "" && (s[0] == '"' || s[0] == '\'') {
			if close := strings.IndexByte(s[1:], s[0]); close >= 0 {
				end = strings.IndexByte(s[close+2:], '.')
				if end >= 0 {
					end += close + 2
				}
			}
		}
		part := s
		if end >= 0 {
			part, s = s[:end], s[end+1:]
		} else {
			s = ""
		}
		parts = append(parts, unquoted(strings.TrimSpace(part)))
	}
	return parts
}

// value reads a value up to one of the ends, and what is inside it where it is a
// list or a table in braces. It is false when the spot was met on the way.
func (l *lexer) value(ends string) bool {
	l.blanks(" \t")
	if l.stop < l.at {
		l.spot.place = inValue
		return false
	}
	switch c := l.peek(); c {
	case '"', '\'':
		if l.text(c) {
			return false
		}
	case '[':
		l.at++
		if !l.inside(']', func() bool { return l.value(",]") }) {
			return false
		}
	case '{':
		l.at++
		if !l.inside('}', func() bool {
			depth := len(l.spot.path)
			ok := l.key("=,}\n") && l.value(",}")
			if ok {
				l.spot.path = l.spot.path[:depth]
			}
			return ok
		}) {
			return false
		}
	case '#':
		l.spot.place = inValue
		if l.stop > l.at {
			l.spot.place = nowhere
		}
		return false
	default:
		start := l.at
		for l.at < len(l.b) && strings.IndexByte(ends+"#\r\n", l.b[l.at]) < 0 {
			l.at++
		}
		end := start + len(bytes.TrimRight(l.b[start:l.at], " \t"))
		if l.stop <= max(end, start) || start == end && l.stop <= l.at {
			l.spot.place = inValue
			l.spot.start, l.spot.end = min(start, l.stop), max(end, min(start, l.stop))
			if start == end {
				l.spot.start, l.spot.end = l.stop, l.stop
			}
			return false
		}
	}
	// Behind the value: nothing more may stand before the next sign.
	behind := l.at
	l.blanks(" \t")
	if l.stop >= behind && l.stop < l.at {
		return false
	}
	return true
}

// inside reads what stands between brackets, each entry by one.
func (l *lexer) inside(closing byte, one func() bool) bool {
	s := l.spot
	outer := s.list
	s.list = closing == ']'
	if s.list {
		s.had = nil
	}
	for {
		l.blanks(" \t\r\n,")
		for l.peek() == '#' {
			note := l.at
			for l.at < len(l.b) && l.b[l.at] != '\n' {
				l.at++
			}
			if l.stop > note && l.stop <= l.at {
				return false
			}
			l.blanks(" \t\r\n,")
		}
		switch {
		case l.stop < l.at || l.stop == l.at && (l.peek() == closing || l.at == len(l.b)):
			s.place = inValue
			if closing == '}' {
				s.place, s.in = inKey, slices.Clone(s.path)
			}
			return false
		case l.at == len(l.b):
			return false
		case l.peek() == closing:
			l.at++
			s.list = outer
			return l.stop >= l.at
		}
		before := l.at
		if !one() {
			return false
		}
		if l.at == before { // what is no entry is passed over
			l.at++
		}
	}
}

// text reads a text in quotes; true when the spot is in it.
func (l *lexer) text(quote byte) bool {
	long := strings.Repeat(string(quote), 3)
	mark := string(quote)
	if bytes.HasPrefix(l.b[l.at:], []byte(long)) {
		mark = long
	}
	if l.stop <= l.at { // before its first quote
		l.spot.place = inValue
		l.spot.start, l.spot.end = l.stop, l.stop
		return true
	}
	l.at += len(mark)
	start := l.at
	for l.at < len(l.b) && !bytes.HasPrefix(l.b[l.at:], []byte(mark)) && (len(mark) == 3 || l.b[l.at] != '\n') {
		if quote == '"' && l.b[l.at] == '\\' && l.at+1 < len(l.b) {
			l.at++
		}
		l.at++
	}
	l.at = min(l.at, len(l.b))
	end := l.at
	closed := bytes.HasPrefix(l.b[l.at:], []byte(mark))
	if !closed && end > start && l.b[end-1] == '\r' {
		end--
	}
	if l.stop <= end {
		s := l.spot
		s.place, s.quote, s.closed = inValue, quote, closed
		s.start, s.end = min(start, l.stop), end
		// A closing quote that opens the next entry of a list closes nothing.
		if s.list {
			if cut := bytes.IndexAny(l.b[l.stop:end], ",]"); cut >= 0 {
				s.end, s.closed = l.stop, false
			}
		}
		if !closed && !s.list {
			s.end = max(l.stop, start+len(bytes.TrimRight(l.b[start:end], " \t")))
		}
		return true
	}
	if closed {
		l.at += len(mark)
	}
	if l.spot.list {
		l.spot.had = append(l.spot.had, unquoted(string(l.b[start-len(mark):l.at])))
	}
	return false
}
