package sheet

import (
	"bytes"
	"regexp"
)

// FileKind is what a TOML file is to this program.
type FileKind int

// What a file may be.
const (
	IsOther FileKind = iota // none of ours
	IsSheet                 // a process sheet, or what looks like one and cannot be read
	IsShelf                 // product cards
	IsHouse                 // a house file
)

func (k FileKind) String() string {
	switch k {
	case IsSheet:
		return "a process sheet"
	case IsShelf:
		return "a shelf of product cards"
	case IsHouse:
		return "a house file"
	}
	return "none of this program's files"
}

// Classify tells what a TOML file is, by the tables it has. A text that is no
// TOML but looks like a sheet counts as one, so that it is told of and not
// passed over.
func Classify(text []byte) FileKind {
	values, x, problems := decode("", text)
	if problems == nil {
		return classify(x, values)
	}
	return looksLike(text)
}

func classify(x *Index, values map[string]any) FileKind {
	has := func(name string) bool { return x.Root.Get(name) != nil }
	switch {
	case isTable(x.Root.Get("sheet")), has("step") && (has("format") || stepsDo(x.Root.Get("step"))):
		return IsSheet
	case isTable(x.Root.Get("shelf")), has("format") && isTable(x.Root.Get("product")) && !has("panel") && !has("booth"):
		return IsShelf
	case has("format") && isTable(x.Root.Get("panel")):
		return IsSheet
	case isTable(x.Root.Get("house")), isTable(x.Root.Get("grades")) && isTable(x.Root.Get("limits")):
		return IsHouse
	}
	return IsOther
}

func isTable(n *Node) bool { return n != nil && (n.Form == FormTable || n.Form == FormInline) }

// stepsDo tells whether every table of a list has `do`.
func stepsDo(n *Node) bool {
	if n == nil || n.Form != FormTables {
		return false
	}
	for _, step := range n.Children {
		if step.Get("do") == nil {
			return false
		}
	}
	return true
}

// Lines as only the sheet's own tables begin.
var (
	sheetLine = regexp.MustCompile(`(?m)^\s*(\[\s*sheet\s*\]|\[\[\s*step\s*\]\])`)
	panelLine = regexp.MustCompile(`(?m)^\s*\[\s*panel\s*\]`)
	boothLine = regexp.MustCompile(`(?m)^\s*\[\s*booth\s*\]`)
	stepLine  = regexp.MustCompile(`(?m)^\s*\[{1,2}\s*step\s*\]{0,2}\s*(#.*)?\r?$`)
	doLine    = regexp.MustCompile(`(?m)^\s*do\s*=`)
	shelfLine = regexp.MustCompile(`(?m)^\s*\[\s*shelf\s*\]`)
	houseLine = regexp.MustCompile(`(?m)^\s*\[\s*house\s*\]`)
)

// looksLike tells by its lines what a text was meant to be.
func looksLike(text []byte) FileKind {
	if len(text) > MaxFileSize {
		text = text[:MaxFileSize]
	}
	// Of a text in UTF-16 the letters are still there, each beside a NUL.
	text = bytes.TrimLeft(bytes.ReplaceAll(text, []byte{0}, nil), "\xff\xfe\xef\xbb\xbf")
	switch {
	case sheetLine.Match(text), panelLine.Match(text) && boothLine.Match(text), stepLine.Match(text) && doLine.Match(text):
		return IsSheet
	case shelfLine.Match(text):
		return IsShelf
	case houseLine.Match(text):
		return IsHouse
	}
	return IsOther
}
