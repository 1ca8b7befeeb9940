package editor

import (
	"context"
	"net/url"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"

	"guidecoat/internal/mend"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// page is one file as it stood open at one moment. Its text never changes; what
// can be known of it is worked out once, when first asked for. When the text, or
// another file that it leads to, changes, another page takes its place.
type page struct {
	s       *server
	uri     string
	file    string // absolute, with forward slashes
	version int32
	n       uint64 // pages of one file are told apart by it, the later the greater
	text    *text
	kind    sheet.FileKind
	began   time.Time
	cancel  context.CancelFunc // of its judging

	index func() *sheet.Index
	read  func() reading
	built func() building
	reach func() within

	mu     sync.Mutex
	leans  map[string]bool       // paths of the files that it was read from
	offers map[string][]mend.Fix // by finding, as far as they were asked for

	finished sync.Once
	done     chan struct{} // closed once outcome is there, or never will be
	outcome  *outcome      // nil where another page came first
}

// finish says what judging the page gave; only the first word counts.
func (p *page) finish(out *outcome) {
	p.finished.Do(func() {
		p.outcome = out
		close(p.done)
	})
}

// reading is what reading a sheet gives.
type reading struct {
	sheet    *sheet.Sheet // nil where there are problems
	problems []sheet.Problem
}

// building is what carrying a sheet out gives.
type building struct {
	doc      *stack.Document // nil where the sheet cannot be read or built
	problems []sheet.Problem
}

// within is what a sheet has in reach though it may not be readable.
type within struct {
	cards map[string]*sheet.Card
	house *sheet.House
}

// written takes a text as what an open file now holds, and has it judged after
// a while in which nothing else was typed.
func (s *server) written(id versionedID, b []byte, after pause) {
	s.mu.Lock()
	before := s.pages[id.URI]
	s.mu.Unlock()
	p := s.newPage(id, b, before)
	s.turn(p, after)
	s.touchedBut(p.file, p.uri)
}

// newPage is a page of a text. Of a text that is no longer, or not yet, TOML of
// ours, it is what it was before.
func (s *server) newPage(id versionedID, b []byte, before *page) *page {
	p := &page{s: s, uri: id.URI, version: id.Version, text: newText(b), leans: map[string]bool{}, offers: map[string][]mend.Fix{}, began: time.Now(), done: make(chan struct{})}
	s.mu.Lock()
	p.file = filepath.ToSlash(pathOf(id.URI))
	if p.file == "" { // a file that was never saved
		p.file = filepath.ToSlash(filepath.Join(s.root, "unsaved.toml"))
	}
	s.mu.Unlock()
	p.kind = sheet.Classify(b)
	if p.kind == sheet.IsOther {
		switch {
		case before != nil:
			p.kind = before.kind
		case filepath.Base(p.file) == sheet.HouseFile:
			p.kind = sheet.IsHouse
		}
	}
	p.index = sync.OnceValue(func() *sheet.Index { return indexed(p.file, b) })
	p.read = sync.OnceValue(p.readSheet)
	p.built = sync.OnceValue(func() building {
		if p.kind != sheet.IsSheet || p.read().sheet == nil {
			return building{}
		}
		doc, problems := stack.Build(p.read().sheet)
		return building{doc, problems}
	})
	p.reach = sync.OnceValue(func() within {
		r := s.reader(p.lean)
		defer func() { _ = r.Close() }()
		cards, house := r.InReach(p.file, p.shelves())
		return within{cards, house}
	})
	return p
}

func (p *page) readSheet() reading {
	r := p.s.reader(p.lean)
	defer func() { _ = r.Close() }()
	if p.kind != sheet.IsSheet {
		return reading{nil, r.Check(p.kind, p.file, p.text.bytes)}
	}
	s, problems := r.ReadText(p.file, p.text.bytes)
	return reading{s, problems}
}

// lean notes that the page was read from a file. It is called before the file
// is read, so that no change of it is missed.
func (p *page) lean(path string) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.leans[filepath.ToSlash(path)] = true
}

func (p *page) leansOn(file string) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.leans[file]
}

// turn makes a page its file's, in place of the one before, and has it judged.
func (s *server) turn(p *page, after pause) {
	var ctx context.Context
	ctx, p.cancel = context.WithCancel(s.ctx)
	s.mu.Lock()
	s.count++
	p.n = s.count
	before := s.pages[p.uri]
	s.pages[p.uri] = p
	s.mu.Unlock()
	if before != nil {
		before.cancel()
	}
	s.aside(func() {
		defer p.finish(nil)
		s.judge(ctx, p, after)
	})
}

func (s *server) closed(uri string) {
	s.mu.Lock()
	p := s.pages[uri]
	delete(s.pages, uri)
	s.count++
	n := s.count
	s.mu.Unlock()
	if p == nil {
		return
	}
	p.cancel()
	s.aside(func() { s.tell(p, n, nil) })
	s.touchedBut(p.file, uri)
}

// touched has every open page judged anew that was read from a file, and the
// file itself where it is open.
func (s *server) touched(path string) { s.touchedBut(filepath.ToSlash(path), "") }

func (s *server) touchedBut(file, but string) {
	if file == "" {
		return
	}
	rules := strings.HasSuffix(file, ".rego")
	for _, p := range s.open() {
		if p.uri != but && (p.file == file || p.leansOn(file) || rules && p.kind == sheet.IsSheet) {
			s.turn(s.newPage(versionedID{p.uri, p.version}, p.text.bytes, p), debounce)
		}
	}
}

// open are the open pages, in no order.
func (s *server) open() []*page {
	s.mu.Lock()
	defer s.mu.Unlock()
	all := make([]*page, 0, len(s.pages))
	for _, p := range s.pages {
		all = append(all, p)
	}
	return all
}

// page is the open page of a URI, or nil.
func (s *server) page(uri string) *page {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.pages[uri]
}

// openText is the text of a file that is open.
func (s *server) openText(path string) ([]byte, bool) {
	path = filepath.ToSlash(path)
	for _, p := range s.open() {
		if p.file == path {
			return p.text.bytes, true
		}
	}
	return nil, false
}

// textOf is the text of a file: the page's own, another open one's, or what is
// on the disk; of a file that cannot be read, nothing.
func (p *page) textOf(file string) *text {
	if file == p.file {
		return p.text
	}
	if b, ok := p.s.openText(file); ok {
		return newText(b)
	}
	b, err := sheet.ReadFile(filepath.FromSlash(file))
	if err != nil {
		b = nil
	}
	return newText(b)
}

// uriOf is the URI of a file: as the client writes it, where it has it open.
func (s *server) uriOf(file string) string {
	for _, p := range s.open() {
		if p.file == file {
			return p.uri
		}
	}
	if !strings.HasPrefix(file, "/") {
		file = "/" + file // C:/...
	}
	return (&url.URL{Scheme: "file", Path: file}).String()
}

// pathOf is the path of a URI, cleaned; "" for one that names no file.
func pathOf(uri string) string {
	u, err := url.Parse(uri)
	if err != nil || u.Scheme != "file" || u.Path == "" || strings.ContainsRune(u.Path, 0) {
		return ""
	}
	path := u.Path
	if runtime.GOOS == "windows" {
		path = strings.TrimPrefix(path, "/")
	}
	return filepath.Clean(filepath.FromSlash(path))
}
