package sheet

import (
	"bytes"
	"fmt"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2/unstable"

	"guidecoat/internal/printable"
)

// What an index takes in. A sheet nests three levels deep; what goes far
// beyond was made to exhaust the reader.
const (
	maxDepth     = 16   // tables and lists in one another, and parts of a dotted key
	maxKeyLength = 1024 // bytes of one key
	// Keys in one table. The decoders look each key up among all before it,
	// so that time grows with the square of this.
	maxKeys = 2000
)

// Form is what a value of the file looks like on paper.
type Form int

// The forms. A FormTable is written with a header, with dotted keys, or not at
// all (the table product of [product.etch]); FormInline is one in braces;
// FormTables is the list of the tables under one [[header]].
const (
	FormTable Form = iota + 1
	FormInline
	FormTables
	FormList
	FormText
	FormWhole    // a whole number
	FormFraction // a number with a point or an exponent
	FormFlag     // true or false
	FormDay      // a date
	FormMoment   // a date and a time of day
	FormTime     // a time of day
)

// Span is a range of bytes of the file as it was read, byte-order mark
// included. The zero Span is nowhere.
type Span struct{ Start, End int }

// IsZero tells whether the span is nowhere.
func (s Span) IsZero() bool { return s.Start == 0 && s.End == 0 }

// Node is one key, table or list entry of an Index.
type Node struct {
	Name     string // the key, unquoted; "" for the root and for entries of lists
	N        int    // place in its list, from 1; 0 for what stands under a key
	Form     Form
	Parent   *Node   // nil for the root
	Children []*Node // in the order of the text

	Key    Span // the last part of its key as written, in the header too; zero for entries of inline lists
	Value  Span // the value as written; of a table with a header what Whole is
	Whole  Span // `key = value`, or a table from its header to its last value
	Header Span // [name] or [[name]]; zero where there is none

	// Parted: the table goes on after something that is not part of it, and
	// Whole ends before that.
	Parted bool

	touched  int              // number of the last expression that is part of it
	implicit bool             // made on the way to something deeper
	byName   map[string]*Node // once there are many children
}

// Get is the child of that name, or nil.
func (n *Node) Get(name string) *Node {
	if n == nil {
		return nil
	}
	if n.byName != nil {
		return n.byName[name]
	}
	for _, c := range n.Children {
		if c.Name == name && c.N == 0 {
			return c
		}
	}
	return nil
}

// Entry is the nth entry of a list, from 1, or nil.
func (n *Node) Entry(i int) *Node {
	if n == nil || (n.Form != FormTables && n.Form != FormList) || i < 1 || i > len(n.Children) {
		return nil
	}
	return n.Children[i-1]
}

// Path is where the node stands: `booth.air`, `step[3].grit`. Entries count
// from 1, as steps do; a key that is no bare TOML key stands in quotes. The
// root's is "".
func (n *Node) Path() string {
	if n == nil || n.Parent == nil {
		return ""
	}
	return join(n.Parent.Path(), n.Name, n.N)
}

// join adds a key, or an entry's number where n is not 0, to a path.
func join(path, name string, n int) string {
	if n > 0 {
		return path + "[" + strconv.Itoa(n) + "]"
	}
	name = quoteKey(name)
	if path == "" {
		return name
	}
	return path + "." + name
}

func isBare(key string) bool {
	for i := 0; i < len(key); i++ {
		c := key[i]
		if !(c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-' || c == '_') {
			return false
		}
	}
	return key != ""
}

// quoteKey writes a key as TOML does: bare where it may be.
func quoteKey(key string) string {
	if isBare(key) {
		return key
	}
	return Quote(key)
}

// Quote writes a text as a basic string of TOML, quotes included: what it
// gives reads back as the same text, and holds no character that acts on a
// terminal or that nobody sees.
func Quote(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range text {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r > 0xffff && printable.Hidden(r):
			fmt.Fprintf(&b, `\U%08x`, r)
		case printable.Hidden(r):
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// Index tells where every key and value of a TOML file stands. It knows TOML
// and nothing of sheets. Making it promises places only: it lets pass much
// that is not TOML, and the decoders decide about that.
type Index struct {
	File string
	Root *Node

	text    []byte
	lines   []int // offset of each line's first character
	counts  []int // characters before each stride of the text
	repeats []repeat
}

// stride is how far the counted marks stand apart: a column on a line of a
// million characters should not be counted from its beginning.
const stride = 1 << 10

// repeat is a key or table that stands a second time.
type repeat struct {
	node   *Node
	second Span
	table  bool
}

// NewIndex indexes a file's text. When the text breaks off being TOML, the
// index holds what came before, and the error says where and why.
func NewIndex(file string, text []byte) (*Index, *SyntaxError) {
	x := &Index{File: file, text: text, Root: &Node{Form: FormTable}}
	x.lines = lineStarts(text)
	for at, count := 0, 0; at <= len(text); at += stride {
		x.counts = append(x.counts, count)
		count += characters(text[at:min(at+stride, len(text))])
	}
	x.Root.Whole = Span{bom(text), len(text)}
	b := &indexer{x: x, offset: bom(text), body: text[bom(text):], table: x.Root}
	return x, b.run()
}

// bom is the length of the byte-order mark that the text begins with.
func bom(text []byte) int {
	if bytes.HasPrefix(text, []byte("\xef\xbb\xbf")) {
		return 3
	}
	return 0
}

func lineStarts(text []byte) []int {
	starts := []int{bom(text)}
	for i, c := range text {
		if c == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// SyntaxError is where a text stops being TOML. Its message is for a painter.
type SyntaxError struct {
	Start, End int // bytes of the file
	Message    string

	raw string // what the parser said
}

func (e *SyntaxError) Error() string { return e.Message }

// Slice is the text of a span; nil for a span outside the text.
func (x *Index) Slice(s Span) []byte {
	if s.Start < 0 || s.End > len(x.text) || s.Start > s.End {
		return nil
	}
	return x.text[s.Start:s.End]
}

// Position is the line and column of a byte offset, both from 1, columns in
// characters. The byte-order mark takes no column.
func (x *Index) Position(offset int) (line, column int) {
	offset = max(min(offset, len(x.text)), 0)
	at := sort.SearchInts(x.lines, offset+1) - 1
	if at < 0 {
		return 1, 1
	}
	start := x.lines[at]
	if offset-start < stride {
		return at + 1, characters(x.text[start:offset]) + 1
	}
	return at + 1, x.count(offset) - x.count(start) + 1
}

// count is how many characters begin before an offset.
func (x *Index) count(offset int) int {
	mark := offset / stride
	return x.counts[mark] + characters(x.text[mark*stride:offset])
}

// characters counts the characters that begin in a piece of UTF-8.
func characters(text []byte) int {
	n := 0
	for _, c := range text {
		if utf8.RuneStart(c) {
			n++
		}
	}
	return n
}

// Offset is the byte offset of a line and column, the end of the line where
// the line is shorter.
func (x *Index) Offset(line, column int) int {
	if line < 1 {
		return x.lines[0]
	}
	if line > len(x.lines) {
		return len(x.text)
	}
	at := x.lines[line-1]
	for ; column > 1 && at < len(x.text) && x.text[at] != '\n'; column-- {
		_, size := utf8.DecodeRune(x.text[at:])
		at += size
	}
	return at
}

// LineStart is the offset of a line's first character; the end of the text
// for a line that it does not have.
func (x *Index) LineStart(line int) int {
	if line < 1 {
		return 0
	}
	if line > len(x.lines) {
		return len(x.text)
	}
	return x.lines[line-1]
}

// Place is a span as a Place of the file.
func (x *Index) Place(s Span) Place {
	p := Place{File: x.File, Start: s.Start, End: s.End}
	p.Line, p.Column = x.Position(s.Start)
	if s.End <= s.Start {
		p.EndLine, p.EndColumn = p.Line, p.Column
		return p
	}
	// The end belongs to the line of the last character, not to the one that
	// a newline there would begin.
	last := s.End - 1
	for last > s.Start && !utf8.RuneStart(x.text[last]) {
		last--
	}
	line, column := x.Position(last)
	p.EndLine, p.EndColumn = line, column+1
	return p
}

// Find is the node at a path as Node.Path writes it, or nil.
func (x *Index) Find(path string) *Node {
	n := x.Root
	for path != "" && n != nil {
		var name string
		var entry int
		var ok bool
		name, entry, path, ok = cutPath(path)
		switch {
		case !ok:
			return nil
		case entry > 0:
			n = n.Entry(entry)
		default:
			n = n.Get(name)
		}
	}
	return n
}

// cutPath takes the first part off a path.
func cutPath(path string) (name string, entry int, rest string, ok bool) {
	switch {
	case path[0] == '[':
		number, after, found := strings.Cut(path[1:], "]")
		n, err := strconv.Atoi(number)
		if !found || err != nil || n < 1 {
			return "", 0, "", false
		}
		return "", n, strings.TrimPrefix(after, "."), true
	case path[0] == '"':
		for i := 1; i < len(path); i++ {
			switch path[i] {
			case '\\':
				i++
			case '"':
				name, err := strconv.Unquote(path[:i+1])
				if err != nil {
					return "", 0, "", false
				}
				return name, 0, strings.TrimPrefix(path[i+1:], "."), true
			}
		}
		return "", 0, "", false
	}
	end := strings.IndexAny(path, ".[")
	if end < 0 {
		return path, 0, "", true
	}
	return path[:end], 0, strings.TrimPrefix(path[end:], "."), end > 0
}

// At is the deepest node whose Whole (or header) holds the offset; the root
// where nothing does. A cursor just behind a value still counts as in it.
func (x *Index) At(offset int) *Node {
	n := x.Root
	for {
		next := n.childAt(offset)
		if next == nil {
			return n
		}
		n = next
	}
}

func (n *Node) childAt(offset int) *Node {
	var edge *Node
	for _, c := range n.Children {
		switch {
		case c.holds(offset):
			return c
		case c.Whole.End == offset && c.Whole.End > c.Whole.Start:
			edge = c
		}
	}
	return edge
}

// holds tells whether an offset is in the node; a table that is only made of
// deeper ones, or goes on elsewhere, holds what its children hold.
func (n *Node) holds(offset int) bool {
	if n.Whole.Start <= offset && offset < n.Whole.End {
		return true
	}
	if n.Form == FormTable || n.Form == FormTables {
		for _, c := range n.Children {
			if c.holds(offset) {
				return true
			}
		}
	}
	return false
}

// Walk calls f for every node but the root, in the order of the text.
func (x *Index) Walk(f func(*Node)) { walk(x.Root, f) }

func walk(n *Node, f func(*Node)) {
	for _, c := range n.Children {
		f(c)
		walk(c, f)
	}
}

// indexer makes an Index of one text.
type indexer struct {
	x      *Index
	offset int    // of body in the file
	body   []byte // the text without its byte-order mark
	table  *Node  // the table that keys now go into
	count  int    // expressions so far

	crowded *Node // a key too many in its table
}

func (b *indexer) run() *SyntaxError {
	var p unstable.Parser
	p.Reset(b.body)
	for p.NextExpression() && b.crowded == nil {
		b.count++
		e := p.Expression()
		var err *SyntaxError
		switch e.Kind {
		case unstable.Table, unstable.ArrayTable:
			err = b.header(e)
		case unstable.KeyValue:
			_, err = b.keyValue(e, b.table, 0)
		}
		if err != nil {
			return err
		}
	}
	switch err := p.Error(); {
	case b.crowded != nil:
		return &SyntaxError{Start: b.crowded.Key.Start, End: b.crowded.Key.End, raw: "crowded",
			Message: "this is key " + strconv.Itoa(maxKeys+1) + " of one table; no table of a sheet has more than " + strconv.Itoa(maxKeys)}
	case err != nil:
		return b.syntax(err)
	}
	return nil
}

func (b *indexer) syntax(err error) *SyntaxError {
	at := len(b.body)
	end := at
	if parse, ok := err.(*unstable.ParserError); ok {
		// A highlight is part of the text and shares its memory.
		if from := cap(b.body) - cap(parse.Highlight); from >= 0 && from <= len(b.body) {
			at, end = from, min(from+max(len(parse.Highlight), 1), len(b.body))
		}
	}
	return &SyntaxError{Start: at + b.offset, End: end + b.offset, raw: err.Error(), Message: err.Error()}
}

func (b *indexer) tooDeep(s Span) *SyntaxError {
	return &SyntaxError{Start: s.Start, End: s.End, raw: "too deep",
		Message: deepMessage}
}

var deepMessage = "tables and lists stand more than " + strconv.Itoa(maxDepth) + " deep in one another here; a sheet never needs more than four"

// span makes a span of the file of one of the body.
func (b *indexer) span(start, end int) Span { return Span{start + b.offset, end + b.offset} }

// keyPart is one part of a dotted key.
type keyPart struct {
	name string
	at   Span
}

func (b *indexer) parts(it unstable.Iterator) ([]keyPart, *SyntaxError) {
	var parts []keyPart
	for it.Next() {
		n := it.Node()
		at := b.span(int(n.Raw.Offset), int(n.Raw.Offset+n.Raw.Length))
		if len(n.Data) > maxKeyLength {
			return nil, &SyntaxError{Start: at.Start, End: at.End, raw: "long key",
				Message: "this key is longer than any that a sheet has (" + strconv.Itoa(maxKeyLength) + " characters at most)"}
		}
		parts = append(parts, keyPart{string(n.Data), at})
		if len(parts) > maxDepth {
			return nil, b.tooDeep(at)
		}
	}
	return parts, nil
}

func (b *indexer) header(e *unstable.Node) *SyntaxError {
	parts, err := b.parts(e.Key())
	if err != nil || len(parts) == 0 {
		return err
	}
	brackets := 1
	if e.Kind == unstable.ArrayTable {
		brackets = 2
	}
	start := parts[0].at.Start - b.offset
	for start > 0 && (b.body[start-1] == ' ' || b.body[start-1] == '\t') {
		start--
	}
	end := parts[len(parts)-1].at.End - b.offset
	for end < len(b.body) && (b.body[end] == ' ' || b.body[end] == '\t') {
		end++
	}
	header := b.span(max(start-brackets, 0), min(end+brackets, len(b.body)))

	n := b.x.Root
	for _, part := range parts[:len(parts)-1] {
		n = b.into(n, part)
	}
	last := parts[len(parts)-1]
	child := n.Get(last.name)
	if brackets == 2 {
		if child == nil || child.Form != FormTables {
			if child != nil {
				b.x.repeats = append(b.x.repeats, repeat{child, header, true})
			}
			child = b.add(n, &Node{Name: last.name, Form: FormTables, Key: last.at, implicit: true})
		}
		child = child.add(&Node{N: len(child.Children) + 1, Form: FormTable, Key: last.at})
	} else {
		switch {
		case child == nil:
			child = b.add(n, &Node{Name: last.name, Form: FormTable, Key: last.at})
		case !child.implicit || child.Form != FormTable:
			b.x.repeats = append(b.x.repeats, repeat{child, header, true})
			child = b.add(n, &Node{Name: last.name, Form: FormTable, Key: last.at})
		}
	}
	child.implicit = false
	child.Key, child.Header = last.at, header
	if child.Whole.IsZero() {
		child.Whole = header
	}
	b.extend(child, header)
	b.table = child
	return nil
}

// into is the table of that name in n, of a list of tables its last; made if
// need be.
func (b *indexer) into(n *Node, part keyPart) *Node {
	child := n.Get(part.name)
	if child == nil {
		return b.add(n, &Node{Name: part.name, Form: FormTable, Key: part.at, implicit: true})
	}
	if child.Form == FormTables && len(child.Children) > 0 {
		return child.Children[len(child.Children)-1]
	}
	return child
}

const manyChildren = 12

func (b *indexer) add(n, child *Node) *Node {
	if child.N == 0 && len(n.Children) >= maxKeys && b.crowded == nil {
		b.crowded = child
	}
	return n.add(child)
}

func (n *Node) add(child *Node) *Node {
	child.Parent = n
	n.Children = append(n.Children, child)
	if child.N > 0 {
		return child
	}
	if n.byName == nil && len(n.Children) > manyChildren {
		n.byName = make(map[string]*Node, 2*manyChildren)
		for _, c := range n.Children {
			if _, ok := n.byName[c.Name]; !ok {
				n.byName[c.Name] = c
			}
		}
	} else if n.byName != nil {
		if _, ok := n.byName[child.Name]; !ok {
			n.byName[child.Name] = child
		}
	}
	return child
}

// extend makes s part of the tables that a node is in, as far as they go on
// without a break.
func (b *indexer) extend(n *Node, s Span) {
	for ; n != nil && n.Parent != nil; n = n.Parent {
		if n.Form != FormTable && n.Form != FormTables {
			continue
		}
		switch {
		case n.Whole.IsZero():
			n.Whole = s
		case n.Header == s:
		case n.touched < b.count-1:
			n.Parted = true
		default:
			n.Whole.End = max(n.Whole.End, s.End)
		}
		if !n.Parted {
			n.Value = n.Whole
			n.touched = b.count
		}
	}
}

// keyValue indexes `key = value` and returns where it ends in the body.
func (b *indexer) keyValue(e *unstable.Node, table *Node, depth int) (int, *SyntaxError) {
	parts, err := b.parts(e.Key())
	if err != nil || len(parts) == 0 {
		return 0, err
	}
	n := table
	for _, part := range parts[:len(parts)-1] {
		n = b.into(n, part)
	}
	last := parts[len(parts)-1]
	child := &Node{Name: last.name, Key: last.at}
	if before := n.Get(last.name); before != nil {
		b.x.repeats = append(b.x.repeats, repeat{before, last.at, false})
	}
	b.add(n, child)

	at := b.skip(last.at.End-b.offset, " \t")
	if at < len(b.body) && b.body[at] == '=' {
		at = b.skip(at+1, " \t")
	}
	end, err := b.value(e.Value(), child, at, depth)
	if err != nil {
		return 0, err
	}
	// A dotted key's whole begins with its first part.
	child.Whole = Span{parts[0].at.Start, end + b.offset}
	if depth == 0 {
		b.extend(n, child.Whole)
	} else {
		for up := n; up != nil && up != table; up = up.Parent {
			if up.Whole.IsZero() {
				up.Whole = child.Whole
			}
			up.Whole.End = max(up.Whole.End, child.Whole.End)
			up.Value = up.Whole
		}
	}
	return end, nil
}

var forms = map[unstable.Kind]Form{
	unstable.String:        FormText,
	unstable.Bool:          FormFlag,
	unstable.Float:         FormFraction,
	unstable.Integer:       FormWhole,
	unstable.LocalDate:     FormDay,
	unstable.LocalTime:     FormTime,
	unstable.LocalDateTime: FormMoment,
	unstable.DateTime:      FormMoment,
}

// value indexes a value that begins at start of the body, and returns where it
// ends. The parser gives no extent for lists and inline tables: their entries
// are walked with a cursor.
func (b *indexer) value(v *unstable.Node, n *Node, start, depth int) (int, *SyntaxError) {
	if depth > maxDepth {
		return 0, b.tooDeep(b.span(start, min(start+1, len(b.body))))
	}
	end := start
	switch v.Kind {
	case unstable.Array:
		n.Form = FormList
		at := start + 1
		for it := v.Children(); it.Next(); {
			at = b.skipTrivia(at)
			entry := n.add(&Node{N: len(n.Children) + 1})
			next, err := b.value(it.Node(), entry, at, depth+1)
			if err != nil {
				return 0, err
			}
			entry.Whole = b.span(at, next)
			at = next
		}
		end = b.skipTrivia(at) + 1
	case unstable.InlineTable:
		n.Form = FormInline
		at := start + 1
		for it := v.Children(); it.Next(); {
			next, err := b.keyValue(it.Node(), n, depth+1)
			if err != nil {
				return 0, err
			}
			at = next
		}
		end = b.skipTrivia(at) + 1
	default:
		n.Form = forms[v.Kind]
		start = int(v.Raw.Offset)
		end = start + int(v.Raw.Length)
	}
	end = min(end, len(b.body))
	n.Value = b.span(start, end)
	return end, nil
}

func (b *indexer) skip(at int, of string) int {
	for at < len(b.body) && strings.IndexByte(of, b.body[at]) >= 0 {
		at++
	}
	return at
}

// skipTrivia passes over blanks, newlines, commas and comments.
func (b *indexer) skipTrivia(at int) int {
	for at < len(b.body) {
		at = b.skip(at, " \t\r\n,")
		if at >= len(b.body) || b.body[at] != '#' {
			break
		}
		for at < len(b.body) && b.body[at] != '\n' {
			at++
		}
	}
	return at
}
