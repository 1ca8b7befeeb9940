package sheet

import (
	"errors"
	"io/fs"
	"path"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"guidecoat/internal/quantity"
	"guidecoat/internal/trade"
)

// Options say where sheets are read from, and what is known of the rulebook.
type Options struct {
	// Root is the working directory, the current one when empty: a house file
	// is looked for up to it, and nothing that is written in a file inside it
	// may lead out of it.
	Root string
	// Folders are further folders that the user has named. A sheet inside one
	// of them is bound to it as one inside Root is to Root; any other sheet is
	// bound to the nearest folder above it that has a house file, else to its own.
	Folders []string
	// House is a house file that the user has named, relative to Root or
	// absolute; when empty, it is looked for from the sheet's folder upward.
	House string
	// NoHouse: no house file is looked for.
	NoHouse bool
	// Rules are the names of the rules, each with its family. Nil: names of
	// rules are not checked. Where the house file names a folder of rules, a
	// name that is not known is left to whoever knows them: see UnknownRule.
	Rules map[string]string
	// Text is asked for the text of every file that a sheet leads to before the
	// disk is, by its absolute path; false leaves it to the disk. It is how an
	// editor lets what is written and not yet saved count. Nil: the disk alone.
	Text func(path string) ([]byte, bool)
}

// Reader reads sheets. It reads each shelf and house file once, and is safe
// for concurrent use.
type Reader struct {
	o       Options
	root    string // absolute
	folders folders

	mu      sync.Mutex
	shelves map[location]*shelf
	houses  map[location]*house
}

// NewReader makes a Reader.
func NewReader(o Options) *Reader {
	root := o.Root
	if root == "" {
		root = "."
	}
	if abs, err := filepath.Abs(root); err == nil {
		root = abs
	}
	return &Reader{o: o, root: root, shelves: map[location]*shelf{}, houses: map[location]*house{}}
}

// Close lets go of the folders that are held open.
func (r *Reader) Close() error { return r.folders.close() }

// Read reads one sheet with a Reader of its own.
func Read(o Options, file string) (*Sheet, []Problem) {
	r := NewReader(o)
	defer func() { _ = r.Close() }()
	return r.Read(file)
}

// ReadText reads one sheet from memory with a Reader of its own.
func ReadText(o Options, file string, text []byte) (*Sheet, []Problem) {
	r := NewReader(o)
	defer func() { _ = r.Close() }()
	return r.ReadText(file, text)
}

// Read reads the sheet of a file, named relative to Root or from the top of
// the disk. A sheet with problems is nil, and the problems are all that its
// files have, by place.
func (r *Reader) Read(file string) (*Sheet, []Problem) {
	loc := r.locate(file)
	text, err := r.text(loc)
	if err != nil {
		return nil, []Problem{{Place: top(loc.name), Message: plain(err)}}
	}
	return r.read(loc, text)
}

// ReadFound reads a file that was come upon, not named: what it is decides
// whether it is read at all. It is nil without a problem where it is no sheet.
// What is a sheet, looks like one, or cannot be looked into is told of.
func (r *Reader) ReadFound(file string) (s *Sheet, kind FileKind, problems []Problem) {
	loc := r.locate(file)
	text, err := r.text(loc)
	if err != nil {
		// It may be a link that leads out, to what is none of our business.
		switch text, unopened := ReadFile(loc.abs); {
		case unopened != nil:
			return nil, IsSheet, []Problem{{Place: Place{File: loc.name}, Message: plain(unopened)}}
		case Classify(text) != IsSheet:
			return nil, IsOther, nil
		}
		return nil, IsSheet, []Problem{{Place: top(loc.name), Message: plain(err)}}
	}
	values, x, problems := decode(loc.name, text)
	if problems == nil {
		kind = classify(x, values)
	} else {
		kind = looksLike(text)
	}
	if kind != IsSheet {
		return nil, kind, nil
	}
	s, problems = r.readDecoded(loc, values, x, problems)
	return s, kind, problems
}

// ReadText reads a sheet from memory, as if it were the text of that file; its
// shelves and house file come from the disk.
func (r *Reader) ReadText(file string, text []byte) (*Sheet, []Problem) {
	return r.read(r.locate(file), text)
}

// text is the text of a file.
func (r *Reader) text(loc location) ([]byte, error) {
	if r.o.Text != nil {
		if text, ok := r.o.Text(loc.abs); ok {
			return text, nil
		}
	}
	return r.folders.read(loc.base, loc.rel())
}

// shelf is a file of cards, read once.
type shelf struct {
	once     sync.Once
	loc      location
	cards    map[string]namedCard
	problems []Problem
	missing  error // why there is no text at all
}

// shelf reads a shelf, or gives what an earlier sheet made of it.
func (r *Reader) shelf(loc location) *shelf {
	r.mu.Lock()
	s := r.shelves[loc]
	if s == nil {
		s = &shelf{loc: loc}
		r.shelves[loc] = s
	}
	r.mu.Unlock()
	s.once.Do(func() {
		text, err := r.text(loc)
		if err != nil {
			s.missing = err
			return
		}
		s.read(text)
	})
	return s
}

var (
	shelfSpec     = newKeySet(shelfKeys)
	shelfHeadSpec = newKeySet(shelfSpec.byName["shelf"].Fields)
)

func (s *shelf) read(text []byte) {
	values, x, problems := decode(s.loc.name, text)
	if problems != nil {
		s.problems = problems
		return
	}
	d := &doc{loc: s.loc, x: x}
	root := table{d: d, n: x.Root, v: values, spec: shelfSpec}
	if what := classify(x, values); what == IsSheet || what == IsHouse {
		s.problems = []Problem{{Place: top(s.loc.name), Message: "this is " + what.String() + ", and a shelf is wanted: a file with format = 1 and cards, [product.NAME]"}}
		return
	}
	root.check("a shelf")
	root.format()
	if head, ok := root.sub("shelf", shelfHeadSpec); ok {
		if n := head.n.Get("shelf"); n != nil {
			d.say(n.Key, n.Path(), "a shelf names no other shelves; name them all in the sheet or the house file")
		}
		head.check("a shelf's head")
		head.text("title")
		head.day("date")
	}
	s.cards = readCards(root, false)
	s.problems = d.problems
}

// format checks the version of the language.
func (t table) format() {
	v, n, k, ok := t.get("format")
	if !ok {
		return
	}
	switch f := v.(type) {
	case int64:
		if f != Format {
			t.d.say(n.Value, n.Path(), "format %d is not known to this program; it reads format = %d", f, Format)
		}
	default:
		t.wrongForm(n, k)
	}
}

// shelvesOf reads the shelves that a key of a file names, and notes where one
// cannot be read. What is wrong in the shelves themselves is among the
// problems that come back.
func (r *Reader) shelvesOf(t table, name string, files map[string]bool) (shelves []*shelf, problems []Problem) {
	texts := t.texts(name)
	for i, written := range texts.Values {
		at := texts.Places[i]
		note := func(err error) {
			message := "the shelf " + quoted(written) + " cannot be read: " + plain(err)
			if errors.Is(err, fs.ErrNotExist) {
				message = "there is no shelf " + quoted(written) + " in the folder of this file"
				if loc, err := t.d.loc.beside(written); err == nil {
					near := r.folders.nearShelves(loc.base, loc.rel())
					for i, n := range near {
						near[i] = path.Join(path.Dir(filepath.ToSlash(written)), n)
					}
					if want := didYouMean(near); want != "" {
						message += "; " + want
					}
				}
			}
			t.d.sayAt(at, entryKey(t, name, at), message)
		}
		loc, err := t.d.loc.beside(written)
		if err != nil {
			note(err)
			continue
		}
		if loc.abs == t.d.loc.abs {
			note(errors.New("it is this very file"))
			continue
		}
		s := r.shelf(loc)
		if s.missing != nil {
			note(s.missing)
			continue
		}
		files[loc.name] = true
		problems = append(problems, s.problems...)
		shelves = append(shelves, s)
	}
	return shelves, problems
}

// house is a house file, read once.
type house struct {
	once     sync.Once
	loc      location
	house    *House
	shelves  []*shelf
	files    map[string]bool
	problems []Problem
	missing  error
}

var (
	houseSpec     = newKeySet(houseKeys)
	houseHeadSpec = newKeySet(houseSpec.byName["house"].Fields)
	gradeSpec     = newKeySet(gradeFields)
)

// houseFor finds and reads the house file of a sheet; nil where there is none.
func (r *Reader) houseFor(sheet location) *house {
	switch {
	case r.o.House != "":
		named, _ := locate(r.o.House, r.root, r.o.Folders)
		return r.houseAt(named)
	case r.o.NoHouse:
		return nil
	}
	for dir, name := filepath.Dir(sheet.abs), path.Dir(sheet.name); ; dir, name = filepath.Dir(dir), path.Join(name, "..") {
		if _, ok := inside(sheet.base, dir); !ok {
			return nil
		}
		loc := location{name: path.Join(name, HouseFile), abs: filepath.Join(dir, HouseFile), base: sheet.base}
		h := r.houseAt(loc)
		if !errors.Is(h.missing, fs.ErrNotExist) {
			return h
		}
	}
}

func (r *Reader) houseAt(loc location) *house {
	r.mu.Lock()
	h := r.houses[loc]
	if h == nil {
		h = &house{loc: loc}
		r.houses[loc] = h
	}
	r.mu.Unlock()
	h.once.Do(func() {
		text, err := r.text(loc)
		if err != nil {
			h.missing = err
			if !errors.Is(err, fs.ErrNotExist) || r.o.House != "" {
				h.problems = []Problem{{Place: top(loc.name), Message: "the house file cannot be read: " + plain(err)}}
			}
			return
		}
		h.read(r, text)
	})
	return h
}

func (h *house) read(r *Reader, text []byte) {
	h.files = map[string]bool{h.loc.name: true}
	values, x, problems := decode(h.loc.name, text)
	if problems != nil {
		h.problems = problems
		return
	}
	d := &doc{loc: h.loc, x: x}
	root := table{d: d, n: x.Root, v: values, spec: houseSpec}
	root.check("a house file")
	root.format()
	h.house = &House{File: h.loc.name}
	var more []Problem
	if head, ok := root.sub("house", houseHeadSpec); ok {
		head.check("the house table")
		h.house.Region = region(head.word("region").Value)
		h.shelves, more = r.shelvesOf(head, "shelf", h.files)
		for _, s := range h.shelves {
			h.house.Shelf = append(h.house.Shelf, s.loc.name)
		}
		if rules := head.text("rules"); rules.Written {
			loc, err := h.loc.beside(rules.Value)
			if err == nil {
				err = r.folders.isDir(loc.base, loc.rel())
			}
			if err != nil {
				d.sayAt(rules.Place, head.key("rules"), "the folder of rules "+quoted(rules.Value)+" cannot be read: "+plain(err))
			}
			h.house.Rules = loc.name
		}
	}
	h.readLimits(root)
	h.readGrades(root, r.o.Rules)
	_, clash := merged(h.shelves)
	h.problems = append(append(append(h.problems, d.problems...), more...), clash...)
}

// region is a region's word as the rest of the program has it.
func region(word string) string {
	if word == "none" {
		return ""
	}
	return word
}

func (h *house) readLimits(root table) {
	t, ok := root.sub("limits", newKeySet(nil))
	if !ok {
		return
	}
	for _, n := range t.n.Children {
		limit, known := trade.LimitNamed(n.Name)
		if !known {
			want := didYouMean(trade.NearLimits(n.Name))
			if want == "" {
				want = "`guidecoat rulebook --limits` lists them"
			}
			t.d.say(headOf(n), n.Path(), "there is no limit %s; %s", quoted(n.Name), want)
			continue
		}
		text, isText := asText(t.v[n.Name])
		if !isText {
			t.d.say(n.Value, n.Path(), "%s stands here, and a limit is one quantity, such as %s = %s", formNames[n.Form], n.Name, quoted(limit.Restoration.String()))
			continue
		}
		if n.Form != FormText && limit.Restoration.Dim != quantity.Count {
			t.d.say(n.Value, n.Path(), "%s has no unit; write it as the rulebook does, such as %s = %s", text, n.Name, quoted(limit.Restoration.String()))
			continue
		}
		value, err := limit.ParseHouse(text)
		if err != nil {
			t.d.say(n.Value, n.Path(), "%s", words(err))
			continue
		}
		if most := limit.Restoration; n.Name == peopleWaiver && value.Interval.Hi > most.Interval.Hi {
			t.d.say(n.Value, n.Path(), "a rule that guards people may be waived for %s at most; a house may shorten that, and not lengthen it", most)
			continue
		}
		h.house.Limits = append(h.house.Limits, HouseLimit{Name: n.Name, Text: text, Place: t.d.x.Place(n.Whole)})
	}
	slices.SortFunc(h.house.Limits, func(a, b HouseLimit) int { return strings.Compare(a.Name, b.Name) })
}

// peopleFamily is the family of rules that can never be off, and peopleWaiver
// the limit of how long one of them may be waived.
const (
	peopleFamily = "people"
	peopleWaiver = "people_waiver"
)

func (h *house) readGrades(root table, rules map[string]string) {
	t, ok := root.sub("grades", newKeySet(nil))
	if !ok {
		return
	}
	for _, n := range t.n.Children {
		family, known := rules[n.Name]
		if rules != nil && !known && h.house.Rules == "" {
			t.d.sayAt(t.d.x.Place(headOf(n)), n.Path(), unknownRule(n.Name, rules))
			continue
		}
		g := HouseGrade{Rule: n.Name, Place: t.d.x.Place(n.Whole)}
		switch v := t.v[n.Name].(type) {
		case string:
			w, ok := wordOf(v, gradeWords)
			if !ok {
				t.d.say(n.Value, n.Path(), "%s; or {off = true, reason = \"...\"}", notOf(v, gradeWords))
				continue
			}
			g.Grade = w
		case map[string]any:
			off := table{d: t.d, n: n, v: v, spec: gradeSpec}
			off.check("a rule that is off")
			g.Off = off.flag("off").Value
			g.Reason = strings.TrimSpace(off.text("reason").Value)
			switch {
			case !g.Off:
				t.d.say(n.Value, n.Path(), "this switches nothing off; write {off = true, reason = \"...\"}, or a grade: %s", listed(gradeWords, "or", asIs))
				continue
			case family == peopleFamily:
				t.d.say(n.Value, n.Path(), "%s guards people, and such a rule is never off; a waiver with a name, a reason and a day can set one finding aside", quoted(n.Name))
				continue
			case g.Reason == "":
				t.d.say(n.Value, n.Path(), "a rule is off only for a reason; write {off = true, reason = \"...\"}")
				continue
			}
		default:
			t.d.say(n.Value, n.Path(), "%s stands here; write a grade (%s), or {off = true, reason = \"...\"}", formNames[n.Form], listed(gradeWords, "or", asIs))
			continue
		}
		h.house.Grades = append(h.house.Grades, g)
	}
	slices.SortFunc(h.house.Grades, func(a, b HouseGrade) int { return strings.Compare(a.Rule, b.Rule) })
}

func unknownRule(name string, rules map[string]string) string {
	names := make([]string, 0, len(rules))
	for n := range rules {
		names = append(names, n)
	}
	slices.Sort(names)
	want := didYouMean(nearest(name, names))
	if want == "" {
		want = "`guidecoat rulebook` lists them"
	}
	return "there is no rule " + quoted(name) + "; " + want
}

// UnknownRule is the problem of a waiver or a house grade at a place, for a
// key, that names a rule which is not among the known ones.
func UnknownRule(at Place, key, name string, rules map[string]string) Problem {
	return Problem{Place: at, Key: key, Message: unknownRule(name, rules)}
}

// RulesIn are the rules of a policies folder, each with its family: the names
// of the folders FAMILY/RULE that hold a rule.rego.
func RulesIn(files fs.FS) (map[string]string, error) {
	found, err := fs.Glob(files, "*/*/rule.rego")
	if err != nil {
		return nil, err
	}
	rules := make(map[string]string, len(found))
	for _, f := range found {
		family, rest, _ := strings.Cut(f, "/")
		name, _, _ := strings.Cut(rest, "/")
		rules[name] = family
	}
	return rules, nil
}
