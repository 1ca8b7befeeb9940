package editor

import (
	"bytes"
	"sort"
	"unicode/utf8"
)

// text is a file's text with a look-up between byte offsets and the places of
// the protocol: lines end with \n, \r\n or \r, and characters are counted in
// UTF-16 units. A byte that is no UTF-8 counts as one unit, as editors show it.
type text struct {
	bytes []byte
	lines []int // offset of each line's first byte
}

func newText(b []byte) *text {
	t := &text{bytes: b, lines: []int{0}}
	for i, c := range b {
		if c == '\n' || c == '\r' && (i+1 == len(b) || b[i+1] != '\n') {
			t.lines = append(t.lines, i+1)
		}
	}
	return t
}

// lineEnd is the offset of a line's end mark, or of the end of the text.
func (t *text) lineEnd(line int) int {
	if line+1 >= len(t.lines) {
		return len(t.bytes)
	}
	end := t.lines[line+1] - 1
	if t.bytes[end] == '\n' && end > t.lines[line] && t.bytes[end-1] == '\r' {
		end--
	}
	return end
}

// offset is the byte offset of a position; of one beyond a line its end, of one
// in the middle of a pair of units the pair's beginning.
func (t *text) offset(p position) int {
	if int64(p.Line) >= int64(len(t.lines)) {
		return len(t.bytes)
	}
	at, end := t.lines[p.Line], t.lineEnd(int(p.Line))
	left := int64(p.Character)
	for at < end && left > 0 {
		r, size := utf8.DecodeRune(t.bytes[at:end])
		if left -= int64(units(r)); left < 0 {
			break
		}
		at += size
	}
	return at
}

// position is where a byte offset stands; of one inside a character, that
// character's beginning.
func (t *text) position(offset int) position {
	offset = max(0, min(offset, len(t.bytes)))
	line := sort.SearchInts(t.lines, offset+1) - 1
	at, end, count := t.lines[line], min(offset, t.lineEnd(line)), 0
	for at < end {
		r, size := utf8.DecodeRune(t.bytes[at:])
		if at+size > end {
			break
		}
		count += units(r)
		at += size
	}
	return position{uint32(line), uint32(count)}
}

func (t *text) span(start, end int) span {
	return span{t.position(start), t.position(max(start, end))}
}

// line is the number of the line that an offset is on, from 0.
func (t *text) line(offset int) int { return sort.SearchInts(t.lines, offset+1) - 1 }

// units is how many UTF-16 units a character takes.
func units(r rune) int {
	if r >= 0x10000 {
		return 2
	}
	return 1
}

// at is the offset of a line and column as sheets count them: both from 1,
// lines by \n alone, columns in characters, the byte-order mark in none.
func (t *text) at(line, column int) int {
	if line < 1 {
		return 0
	}
	at := 0
	for ; line > 1; line-- {
		next := bytes.IndexByte(t.bytes[at:], '\n')
		if next < 0 {
			return len(t.bytes)
		}
		at += next + 1
	}
	if at == 0 && bytes.HasPrefix(t.bytes, []byte("\xef\xbb\xbf")) {
		at = 3
	}
	for ; column > 1 && at < len(t.bytes) && t.bytes[at] != '\n'; column-- {
		_, size := utf8.DecodeRune(t.bytes[at:])
		at += size
	}
	return at
}

// unitsOf is how many UTF-16 units a text takes.
func unitsOf(s string) int {
	n := 0
	for _, r := range s {
		n += units(r)
	}
	return n
}
