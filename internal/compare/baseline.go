package compare

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"

	"guidecoat/internal/printable"
	"guidecoat/internal/rulebook"
	"guidecoat/internal/stack"
)

// baselineFormat is the version of the file, which goes up when an older
// program could take it wrongly.
const baselineFormat = 1

// maxBaseline is the most bytes a baseline may have: 100,000 findings and more.
const maxBaseline = 64 << 20

// Known is one finding of a baseline.
type Known struct {
	// File is the sheet, with forward slashes, from the folder the baseline lies in.
	File string `toml:"file"`
	// ID is the finding's id, RULE@ON.
	ID string `toml:"id"`
	// Like is its id with what each step does in the place of its number, so
	// that it is known again after a step was put in. An entry without one,
	// written by hand, is known by its id.
	Like  string   `toml:"like,omitempty"`
	Grade string   `toml:"grade"`
	Zones []string `toml:"zones,omitempty"`
}

// Baseline is the findings a shop knows of.
type Baseline struct {
	Known []Known
}

type baselineFile struct {
	Format int     `toml:"format"`
	Known  []Known `toml:"known"`
}

// baselineHead explains the file to whoever opens it.
const baselineHead = `# Findings that are known: with --baseline, guidecoat inspect counts only what is
# not among them. Written by --keep-baseline; a finding that is put right may be
# taken out by hand.
`

// Add takes the findings of one sheet into the baseline.
func (b *Baseline) Add(file string, d *stack.Document, findings []rulebook.Finding) {
	for _, f := range findings {
		b.Known = append(b.Known, Known{File: fileName(file), ID: f.ID, Like: Like(d, f), Grade: f.Grade, Zones: f.Zones})
	}
}

// Encode is the text of the baseline: sorted, an entry a finding, the same
// bytes for the same findings.
func (b Baseline) Encode() ([]byte, error) {
	list := slices.Clone(b.Known)
	slices.SortStableFunc(list, func(a, b Known) int {
		return cmp.Or(strings.Compare(a.File, b.File), strings.Compare(a.ID, b.ID), strings.Compare(a.Like, b.Like),
			strings.Compare(a.Grade, b.Grade), slices.Compare(a.Zones, b.Zones))
	})
	var out bytes.Buffer
	out.WriteString(baselineHead)
	enc := toml.NewEncoder(&out)
	enc.Indent = ""
	if err := enc.Encode(baselineFile{baselineFormat, list}); err != nil {
		return nil, fmt.Errorf("writing the baseline: %w", err)
	}
	return printable.EscapedTOML(out.Bytes()), nil
}

// ReadBaseline reads a baseline. Its error says in a painter's words what is
// wrong, with the line where there is one.
func ReadBaseline(name string) (Baseline, error) {
	text, err := readBaseline(name)
	if err != nil {
		return Baseline{}, err
	}
	return DecodeBaseline(text)
}

func readBaseline(name string) ([]byte, error) {
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return nil, errors.New("there is no such file; --keep-baseline writes one")
	case errors.Is(err, os.ErrPermission):
		return nil, errors.New("this file may not be read; ask whoever owns it for leave to")
	case err != nil:
		return nil, fmt.Errorf("this file cannot be read: %w", err)
	case !info.Mode().IsRegular():
		return nil, errors.New("this is no plain file, and a baseline is one")
	}
	f, err := os.Open(name)
	if err != nil {
		return nil, fmt.Errorf("this file cannot be read: %w", errors.Unwrap(err))
	}
	defer func() { _ = f.Close() }()
	text, err := io.ReadAll(io.LimitReader(f, maxBaseline+1))
	if err != nil {
		return nil, fmt.Errorf("this file cannot be read: %w", err)
	}
	if len(text) > maxBaseline {
		return nil, fmt.Errorf("this file has more than %d MiB; a baseline is not that large", maxBaseline>>20)
	}
	return text, nil
}

// DecodeBaseline reads a baseline from its text.
func DecodeBaseline(text []byte) (Baseline, error) {
	var version struct {
		Format any `toml:"format"`
	}
	if err := decodeTOML(text, &version); err != nil {
		return Baseline{}, err
	}
	switch v := version.Format.(type) {
	case nil:
		return Baseline{}, errors.New("this is no baseline: it has no format = 1; --keep-baseline writes one")
	case int64:
		if v > baselineFormat {
			return Baseline{}, fmt.Errorf("this baseline has format = %d, of a newer guidecoat; this one reads format = %d", v, baselineFormat)
		}
		if v < baselineFormat {
			return Baseline{}, fmt.Errorf("this baseline has format = %d, and there is none before %d; write it again with --keep-baseline", v, baselineFormat)
		}
	default:
		return Baseline{}, fmt.Errorf("format is not a whole number here; a baseline has format = %d", baselineFormat)
	}
	var file baselineFile
	meta, err := toml.Decode(string(text), &file)
	if err != nil {
		return Baseline{}, tomlFault(err)
	}
	if more := meta.Undecoded(); len(more) > 0 {
		return Baseline{}, fmt.Errorf("%q is no key of a baseline; it has format, and [[known]] with file, id, like, grade and zones", printable.Visible(more[0].String()))
	}
	for i, k := range file.Known {
		entry := fmt.Sprintf("entry %d", i+1)
		rule, on, cut := strings.Cut(k.ID, "@")
		switch {
		case k.File == "":
			return Baseline{}, fmt.Errorf("%s has no file", entry)
		case !cut || rule == "" || on == "":
			return Baseline{}, fmt.Errorf("%s has the id %q; an id is a rule, @ and a place, as --as json tells it", entry, printable.Visible(k.ID))
		case k.Like != "" && !strings.HasPrefix(k.Like, rule+"@"):
			return Baseline{}, fmt.Errorf("%s has an id and a like of two rules, %q and %q", entry, printable.Visible(k.ID), printable.Visible(k.Like))
		case !rulebook.AtLeast(k.Grade, "advice"):
			return Baseline{}, fmt.Errorf("%s has the grade %q; the grades are fails, risk and advice", entry, printable.Visible(k.Grade))
		}
	}
	return Baseline{Known: file.Known}, nil
}

func decodeTOML(text []byte, v any) error {
	if _, err := toml.Decode(string(text), v); err != nil {
		return tomlFault(err)
	}
	return nil
}

// tomlFault is a fault of the text with its line.
func tomlFault(err error) error {
	var at toml.ParseError
	if errors.As(err, &at) {
		return fmt.Errorf("line %d: %s", at.Position.Line, printable.Visible(at.Message))
	}
	return errors.New(printable.Visible(strings.TrimPrefix(err.Error(), "toml: ")))
}

// Sorter parts the findings of sheets into known ones and new ones.
type Sorter struct {
	left map[spot][]*entry // entries not yet met there, the least grave first
	all  map[string][]*entry
}

// spot is where a finding is known, in one of its zones.
type spot struct{ file, like, zone string }

// entry is one finding of the baseline.
type entry struct {
	grade string
	met   bool // in one of its zones at least
}

// Sorter is a Sorter that has met no sheet yet.
func (b Baseline) Sorter() *Sorter {
	s := &Sorter{left: map[spot][]*entry{}, all: map[string][]*entry{}}
	for _, k := range b.Known {
		e := &entry{grade: k.Grade}
		s.all[k.File] = append(s.all[k.File], e)
		for _, zone := range inZones(k.Zones) {
			at := spot{k.File, cmp.Or(k.Like, k.ID), zone}
			s.left[at] = append(s.left[at], e)
		}
	}
	for _, entries := range s.left {
		slices.SortStableFunc(entries, func(a, b *entry) int {
			switch {
			case a.grade == b.grade:
				return 0
			case rulebook.AtLeast(a.grade, b.grade):
				return 1
			}
			return -1
		})
	}
	return s
}

func inZones(zones []string) []string {
	if len(zones) == 0 {
		return []string{""}
	}
	return slices.Compact(slices.Sorted(slices.Values(zones)))
}

// Sort parts the findings of one sheet, named as the baseline names it. A
// finding is known when an entry not yet met is of the same rule and the same
// place in each of its zones, and no less grave: what has become worse, or has
// reached another zone, is new. Gone is how many entries of the sheet stand for
// nothing any more.
func (s *Sorter) Sort(file string, d *stack.Document, findings []rulebook.Finding) (fresh, known []rulebook.Finding, gone int) {
	file = fileName(file)
	for _, f := range findings {
		if s.take(file, Like(d, f), f) || s.take(file, f.ID, f) {
			known = append(known, f)
			continue
		}
		fresh = append(fresh, f)
	}
	for _, e := range s.all[file] {
		if !e.met {
			gone++
		}
	}
	return fresh, known, gone
}

// take uses up an entry in each zone of a finding, or none. Of several it is
// the least grave that will do: a graver one is left for a graver finding.
func (s *Sorter) take(file, like string, f rulebook.Finding) bool {
	will := func(e *entry) bool { return rulebook.AtLeast(e.grade, f.Grade) }
	zones := inZones(f.Zones)
	for _, zone := range zones {
		if !slices.ContainsFunc(s.left[spot{file, like, zone}], will) {
			return false
		}
	}
	for _, zone := range zones {
		at := spot{file, like, zone}
		i := slices.IndexFunc(s.left[at], will)
		s.left[at][i].met = true
		s.left[at] = slices.Delete(s.left[at], i, i+1)
	}
	return true
}

// fileName is a file's name as TOML can hold it.
func fileName(name string) string { return strings.ToValidUTF8(name, "\uFFFD") }
