package mend

import (
	"bytes"
	"fmt"
	"slices"
	"sort"
	"strings"

	"guidecoat/internal/sheet"
)

// script is the text of a sheet with the places of its steps.
type script struct {
	text  []byte
	steps []*sheet.Node // in the order of the text
	list  *sheet.Node   // the node step, of form FormTables or FormList
	end   string        // line end in use
}

func newScript(file string, text []byte) (*script, error) {
	x, fault := sheet.NewIndex(file, text)
	if fault != nil {
		return nil, fault
	}
	s := &script{text: text, list: x.Root.Get("step"), end: "\n"}
	if i := bytes.IndexByte(text, '\n'); i > 0 && text[i-1] == '\r' {
		s.end = "\r\n"
	}
	// A table called step, [[step.0]], has no steps.
	if s.list != nil && (s.list.Form == sheet.FormTables || s.list.Form == sheet.FormList) {
		s.steps = s.list.Children
	}
	return s, nil
}

// splice is one stretch of the text with what takes its place.
type splice struct {
	at  sheet.Span
	new string
}

// spliced makes the edits of one text, which do not overlap. Those at one
// place are made in the order given.
func spliced(text []byte, edits []splice) []byte {
	sort.SliceStable(edits, func(i, j int) bool { return edits[i].at.Start < edits[j].at.Start })
	var out bytes.Buffer
	done := 0
	for _, e := range edits {
		out.Write(text[done:e.at.Start])
		out.WriteString(e.new)
		done = e.at.End
	}
	out.Write(text[done:])
	return out.Bytes()
}

// entry is a key with its value as TOML writes it.
type entry struct{ key, value string }

// keyOrder is the order a painter writes a step's keys in.
var keyOrder = []string{"do", "call", "product", "as", "with", "on", "except", "tool", "media", "grit", "pad", "profile", "down_to",
	"guide_coat", "wet", "takes_off", "cuts_to", "feathers", "coats", "wet_film", "thickness", "between", "mix", "hardener", "reducer",
	"additive", "stood", "batch", "fresh_cup", "fades", "gun", "tip", "pressure", "metal", "measure", "welding", "by", "over",
	"dried_within", "for", "then_wait", "where", "air", "panel", "humidity", "wear", "says"}

func rank(key string) int {
	if i := slices.Index(keyOrder, key); i >= 0 {
		return i
	}
	return len(keyOrder)
}

func inOrder(entries []entry) {
	sort.SliceStable(entries, func(i, j int) bool { return rank(entries[i].key) < rank(entries[j].key) })
}

// step is the node of step n, from 1.
func (s *script) step(n int) (*sheet.Node, error) {
	if n < 1 || n > len(s.steps) {
		return nil, fmt.Errorf("there is no step %d", n)
	}
	return s.steps[n-1], nil
}

// write writes keys of step n and takes others out.
func (s *script) write(n int, set []entry, drop []string) ([]byte, error) {
	node, err := s.step(n)
	if err != nil {
		return nil, err
	}
	var edits []splice
	var out []*sheet.Node
	for _, key := range drop {
		child := node.Get(key)
		switch {
		case child == nil:
		case !direct(child):
			return nil, fmt.Errorf("%s of step %d is written in pieces", key, n)
		case node.Form == sheet.FormInline:
			out = append(out, child)
		default:
			edits = append(edits, s.without(child))
		}
	}
	if len(out) > 0 {
		edits = append(edits, s.unlisted(node.Children, out)...)
	}
	set = slices.Clone(set)
	inOrder(set)
	for _, e := range set {
		if child := node.Get(e.key); child != nil {
			if !direct(child) {
				return nil, fmt.Errorf("%s of step %d is written in pieces", e.key, n)
			}
			edits = append(edits, splice{child.Value, e.value})
			continue
		}
		after := s.before(node, e.key, drop)
		if after == nil {
			return nil, fmt.Errorf("step %d has no line to write %s after", n, e.key)
		}
		if node.Form == sheet.FormInline {
			edits = append(edits, splice{sheet.Span{Start: after.Whole.End, End: after.Whole.End}, ", " + e.key + " = " + e.value})
			continue
		}
		at := s.lineEnd(after.Whole.End)
		edits = append(edits, splice{sheet.Span{Start: at, End: at},
			s.end + s.indent(after.Whole.Start) + padded(e.key, s.column(node)) + " = " + e.value})
	}
	return spliced(s.text, edits), nil
}

// direct: the value is written as key = value, and not as a table of its own
// or with a dotted key.
func direct(c *sheet.Node) bool {
	return c.Form != sheet.FormTable && c.Form != sheet.FormTables && !c.Whole.IsZero()
}

// before is the key of a step that a new one is written behind: the last that
// a painter would write ahead of it.
func (s *script) before(node *sheet.Node, key string, drop []string) *sheet.Node {
	var best, any *sheet.Node
	for _, c := range node.Children {
		if !direct(c) || slices.Contains(drop, c.Name) {
			continue
		}
		any = c
		if rank(c.Name) < rank(key) {
			best = c
		}
	}
	if best == nil {
		return any
	}
	return best
}

// without is the edit that takes a key out of a step: its lines, or, where a
// comment stands behind it, all but the comment.
func (s *script) without(child *sheet.Node) splice {
	start, end := s.lineStart(child.Whole.Start), s.lineEnd(child.Whole.End)
	if rest := bytes.TrimSpace(s.text[child.Whole.End:end]); len(rest) > 0 {
		return splice{sheet.Span{Start: child.Whole.Start, End: end - len(rest)}, ""}
	}
	return splice{sheet.Span{Start: start, End: s.next(end)}, ""}
}

// unlisted are the edits that take some of several between commas out. Comments
// stay where they stand; a line with nothing left on it goes.
func (s *script) unlisted(all, out []*sheet.Node) []splice {
	var cuts []sheet.Span
	behind := map[int]*sheet.Node{} // what goes out with the comma at an offset
	kept := -1                      // the last that stays
	for i, one := range all {
		if !slices.Contains(out, one) {
			kept = i
			continue
		}
		cuts = append(cuts, one.Whole)
		comma, ok := s.comma(one.Whole.End)
		if ok {
			cuts = append(cuts, comma)
			behind[comma.Start] = one
		} else if comma, ok := s.lastComma(one, behind); ok {
			cuts = append(cuts, comma)
		} else if kept >= 0 {
			if comma, ok := s.comma(all[kept].Whole.End); ok {
				cuts = append(cuts, comma)
			}
		}
	}
	slices.SortFunc(cuts, func(a, b sheet.Span) int { return a.Start - b.Start })
	var edits []splice
	for i := 0; i < len(cuts); i++ {
		at := cuts[i]
		for i+1 < len(cuts) && len(bytes.Trim(s.text[at.End:cuts[i+1].Start], " \t")) == 0 {
			i++
			at.End = cuts[i].End
		}
		start, end := s.lineStart(at.Start), s.lineEnd(at.End)
		switch before, after := s.text[start:at.Start], s.text[at.End:end]; {
		case len(bytes.TrimSpace(before)) == 0 && len(bytes.TrimSpace(after)) == 0 && end < len(s.text):
			at = sheet.Span{Start: start, End: s.next(end)}
		case s.text[at.End-1] == ',' && len(bytes.TrimSpace(after)) > 0:
			at.End += len(after) - len(bytes.TrimLeft(after, " \t")) // the blank that a comma has behind it
		}
		edits = append(edits, splice{at, ""})
	}
	return edits
}

// lastComma is the comma before the last entry, which has nothing to part when
// that goes out; or, where that goes with the entry before it, the one before that.
func (s *script) lastComma(one *sheet.Node, behind map[int]*sheet.Node) (sheet.Span, bool) {
	for one != nil {
		before := bytes.TrimRight(s.text[:one.Whole.Start], " \t\r\n")
		at := len(before) - 1
		if at < 0 || before[at] != ',' {
			return sheet.Span{}, false
		}
		if one = behind[at]; one == nil {
			return sheet.Span{Start: at, End: at + 1}, true
		}
	}
	return sheet.Span{}, false
}

// comma is the comma that follows an entry of a list, past blanks, lines and
// comments.
func (s *script) comma(at int) (sheet.Span, bool) {
	for at < len(s.text) {
		switch s.text[at] {
		case ' ', '\t', '\r', '\n':
			at++
		case '#':
			at = s.lineEnd(at)
		case ',':
			return sheet.Span{Start: at, End: at + 1}, true
		default:
			return sheet.Span{}, false
		}
	}
	return sheet.Span{}, false
}

// insert writes a step of its own before step n, or behind the last where n
// is one more than there are.
func (s *script) insert(n int, keys []entry) ([]byte, error) {
	if len(s.steps) == 0 || n < 1 || n > len(s.steps)+1 {
		return nil, fmt.Errorf("there is no step %d to insert before", n)
	}
	keys = slices.Clone(keys)
	inOrder(keys)
	last := n > len(s.steps)
	near := s.steps[min(n, len(s.steps))-1]
	if s.list.Form == sheet.FormList {
		words := make([]string, len(keys))
		for i, k := range keys {
			words[i] = k.key + " = " + k.value
		}
		inline := "{" + strings.Join(words, ", ") + "}"
		between := ", "
		if strings.TrimSpace(string(s.text[s.lineStart(near.Value.Start):near.Value.Start])) == "" {
			between = "," + s.end + s.indent(near.Value.Start)
		}
		if last {
			return spliced(s.text, []splice{{sheet.Span{Start: near.Value.End, End: near.Value.End}, between + inline}}), nil
		}
		return spliced(s.text, []splice{{sheet.Span{Start: near.Value.Start, End: near.Value.Start}, inline + between}}), nil
	}
	indent := s.indent(near.Header.Start)
	width := 0
	if s.column(near) > 0 {
		width = s.column(near)
		for _, k := range keys {
			width = max(width, len(k.key))
		}
	}
	var b strings.Builder
	b.WriteString(indent + string(s.text[near.Header.Start:near.Header.End]) + s.end)
	for _, k := range keys {
		b.WriteString(indent + padded(k.key, width) + " = " + k.value + s.end)
	}
	if !last {
		at := s.above(near)
		return spliced(s.text, []splice{{sheet.Span{Start: at, End: at}, b.String() + s.end}}), nil
	}
	line := s.lineEnd(near.Whole.End)
	at := s.next(line)
	lead := s.end
	if at == line {
		lead += s.end // the last line of the file has no end of its own
	}
	block := b.String()
	if at == line {
		block = strings.TrimSuffix(block, s.end)
	}
	return spliced(s.text, []splice{{sheet.Span{Start: at, End: at}, lead + block}}), nil
}

// drop takes step n out. What was written about it in comments stays, under a
// line that says what stood there: a note is never lost to an edit.
func (s *script) drop(n int) ([]byte, error) {
	node, err := s.step(n)
	if err != nil {
		return nil, err
	}
	if s.list.Form == sheet.FormList {
		return spliced(s.text, s.unlisted(s.steps, []*sheet.Node{node})), nil
	}
	if node.Parted {
		return nil, fmt.Errorf("step %d is written in pieces", n)
	}
	start, end := s.lineStart(node.Header.Start), s.next(s.lineEnd(node.Whole.End))
	comments := s.comments(node)
	if above := s.above(node); above < start || len(comments) > 0 {
		var b strings.Builder
		b.WriteString("# taken out here:")
		for _, key := range []string{"do", "product", "with"} {
			if c := node.Get(key); c != nil {
				b.WriteString(" " + key + " = " + strings.Join(strings.Fields(string(s.text[c.Value.Start:c.Value.End])), " "))
			}
		}
		b.WriteString(s.end)
		for _, c := range comments {
			b.WriteString(c + s.end)
		}
		return spliced(s.text, []splice{{sheet.Span{Start: start, End: end}, b.String()}}), nil
	}
	if blank := s.next(s.lineEnd(end)); end < len(s.text) && len(bytes.TrimSpace(s.text[end:blank])) == 0 {
		end = blank
	}
	return spliced(s.text, []splice{{sheet.Span{Start: start, End: end}, ""}}), nil
}

// comments are the comments inside a step, from its header to its last value.
func (s *script) comments(node *sheet.Node) []string {
	end := s.lineEnd(node.Whole.End)
	var out []string
	at := node.Header.End
	gap := func(to int) {
		for at < to {
			line := s.text[at:min(s.lineEnd(at), to)]
			if c := strings.TrimSpace(string(line)); strings.HasPrefix(c, "#") {
				out = append(out, c)
			}
			at = s.next(at)
		}
	}
	for _, c := range node.Children {
		if c.Whole.Start >= at {
			gap(c.Whole.Start)
			at = c.Whole.End
		}
	}
	gap(end)
	return out
}

// above is where a step begins with the comments that stand right on it.
func (s *script) above(node *sheet.Node) int {
	at := s.lineStart(node.Header.Start)
	for at > 0 {
		line := s.lineStart(at - 1)
		if !bytes.HasPrefix(bytes.TrimSpace(s.text[line:at]), []byte("#")) {
			return at
		}
		at = line
	}
	return at
}

// column is how wide a step writes its keys so that the equals signs stand in
// line; 0 where they do not.
func (s *script) column(node *sheet.Node) int {
	width, padded := 0, false
	for _, c := range node.Children {
		if !direct(c) || node.Form == sheet.FormInline {
			continue
		}
		eq := bytes.IndexByte(s.text[c.Key.End:c.Value.Start], '=')
		if eq < 1 {
			return 0
		}
		wide := c.Key.End + eq - 1 - c.Whole.Start
		if width > 0 && wide != width {
			return 0
		}
		width = wide
		padded = padded || eq > 1
	}
	if !padded {
		return 0
	}
	return width
}

func padded(key string, width int) string {
	return key + strings.Repeat(" ", max(0, width-len(key)))
}

func (s *script) lineStart(at int) int {
	start := bytes.LastIndexByte(s.text[:at], '\n') + 1
	if start == 0 && bytes.HasPrefix(s.text, byteOrderMark) {
		return min(len(byteOrderMark), at) // which begins the text, whatever is put before its first line
	}
	return start
}

// byteOrderMark is what some editors begin a text with.
var byteOrderMark = []byte("\ufeff")

// lineEnd is where the line at an offset ends, its line end apart.
func (s *script) lineEnd(at int) int {
	i := bytes.IndexByte(s.text[at:], '\n')
	if i < 0 {
		return len(s.text)
	}
	at += i
	if at > 0 && s.text[at-1] == '\r' {
		at--
	}
	return at
}

// next is where the line after one that ends at an offset begins.
func (s *script) next(end int) int {
	if i := bytes.IndexByte(s.text[end:], '\n'); i >= 0 {
		return end + i + 1
	}
	return len(s.text)
}

func (s *script) indent(at int) string {
	line := s.text[s.lineStart(at):at]
	return string(line[:len(line)-len(bytes.TrimLeft(line, " \t"))])
}
