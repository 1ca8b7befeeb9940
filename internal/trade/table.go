package trade

import (
	"encoding/json"
	"fmt"
	"slices"
	"sort"
	"strings"
	"sync"

	"github.com/agnivade/levenshtein"

	"guidecoat/internal/quantity"
	"guidecoat/policies"
)

// Table is every kind the trade knows here, by name.
type Table struct {
	kinds  map[string]*Kind
	names  []string         // own names, sorted
	spoken map[string]*Kind // own and everyday names, folded
}

// Kinds is the table of policies/kinds.json, read once. The file is part of
// the program and a test reads all of it; were it broken, the table is empty
// and LoadError says why.
func Kinds() *Table {
	t, _ := loadKinds()
	return t
}

// LoadError is what is wrong with the data the program carries (kinds, limits,
// VOC figures), or nil.
func LoadError() error {
	if _, err := loadKinds(); err != nil {
		return err
	}
	if _, err := loadLimits(); err != nil {
		return err
	}
	_, err := loadVOC()
	return err
}

var loadKinds = sync.OnceValues(func() (*Table, error) {
	data, err := policies.Files.ReadFile("kinds.json")
	if err != nil {
		return &Table{}, fmt.Errorf("reading the kinds: %w", err)
	}
	return readKinds(data)
})

// readKinds reads a table of kinds. On an error the table holds what could be read.
func readKinds(data []byte) (*Table, error) {
	var file struct {
		Kinds map[string]*Kind `json:"kinds"`
	}
	t := &Table{kinds: map[string]*Kind{}, spoken: map[string]*Kind{}}
	if err := json.Unmarshal(data, &file); err != nil {
		return t, fmt.Errorf("reading the kinds: %w", err)
	}
	for name := range file.Kinds {
		t.names = append(t.names, name)
	}
	sort.Strings(t.names)
	for _, name := range t.names {
		k := file.Kinds[name]
		k.Name = name
		typical, err := readTypical(k.Typical)
		if err != nil {
			return t, fmt.Errorf("kind %s: %w", name, err)
		}
		k.read = &typical
		t.kinds[name] = k
		for _, spoken := range append([]string{name}, k.Names...) {
			folded := foldName(spoken)
			if other := t.spoken[folded]; other != nil && other != k {
				return t, fmt.Errorf("%q is a name of both %s and %s", spoken, other.Name, name)
			}
			t.spoken[folded] = k
		}
	}
	return t, nil
}

// foldName makes names that differ in case, hyphens or spaces one.
func foldName(name string) string {
	return strings.Join(strings.Fields(separatorsToSpaces.Replace(strings.ToLower(name))), " ")
}

var separatorsToSpaces = strings.NewReplacer("-", " ", "–", " ", "&", " and ")

// Lookup finds a kind by its own name or an everyday one; case, hyphens and
// doubled spaces do not matter.
func (t *Table) Lookup(name string) (*Kind, bool) {
	if k, ok := t.kinds[name]; ok {
		return k, true
	}
	k, ok := t.spoken[foldName(name)]
	return k, ok
}

// Names are the own names of the kinds with one of the roles (all kinds when
// none is given), sorted.
func (t *Table) Names(roles ...string) []string {
	names := []string{}
	for _, name := range t.names {
		if len(roles) == 0 || slices.Contains(roles, t.kinds[name].Role) {
			names = append(names, name)
		}
	}
	return names
}

// Near are the own names of up to three kinds of the roles (any when none is
// given) whose own or everyday names are most like a name, nearest first.
func (t *Table) Near(name string, roles ...string) []string {
	wanted := foldName(name)
	var all []candidate
	for _, own := range t.Names(roles...) {
		k := t.kinds[own]
		best := 1.0
		for _, spoken := range append([]string{own}, k.Names...) {
			best = min(best, unlike(wanted, foldName(spoken)))
		}
		if best < 1 {
			all = append(all, candidate{own, best})
		}
	}
	return nearestOf(all)
}

// candidate is a name and how far it is from the one that was written.
type candidate struct {
	name string
	away float64
}

// nearestOf are the names of up to three candidates, nearest first, in their
// own order where they are as near.
func nearestOf(all []candidate) []string {
	sort.SliceStable(all, func(i, j int) bool { return all[i].away < all[j].away })
	names := []string{}
	for _, c := range all[:min(3, len(all))] {
		names = append(names, c.name)
	}
	return names
}

// unlike is how far two folded names are apart: by their letters from 0 to
// 0.45, by the words they share from 0.05 to 0.41, whichever is less; 1 where
// they have nothing in common.
func unlike(a, b string) float64 {
	const tooLong = 60
	letters := len([]rune(a))
	longest := max(letters, len([]rune(b)))
	if letters == 0 || letters > tooLong {
		return 1
	}
	apart := 1.0
	if by := float64(levenshtein.ComputeDistance(a, b)) / float64(longest); by <= 0.45 {
		apart = by
	}
	words, others := strings.Fields(a), strings.Fields(b)
	shared := 0
	for _, w := range words {
		if w != "and" && slices.Contains(others, w) {
			shared++
		}
	}
	if common := 2 * float64(shared) / float64(len(words)+len(others)); common >= 0.4 {
		apart = min(apart, 0.05+0.6*(1-common))
	}
	return apart
}

// KindOf finds a kind by its own or an everyday name, in the program's table;
// nil if there is none.
func KindOf(name string) *Kind {
	k, _ := Kinds().Lookup(name)
	return k
}

// TypicalOf is k.Read(), and nothing for a nil kind.
func TypicalOf(k *Kind) Typical {
	if k == nil {
		return Typical{}
	}
	return k.Read()
}

// Read is the kind's typical numbers, read. Of a kind that was not loaded from
// a table it is what reads of them.
func (k *Kind) Read() Typical {
	if k.read != nil {
		return *k.read
	}
	t, _ := readTypical(k.Typical)
	return t
}

// Has reports whether the kind has a trait, by the names of Kind.Traits.
func (k *Kind) Has(trait string) bool { return slices.Contains(k.Traits, trait) }

// typicalKeys are the keys of Kind.Typical that are plain quantities.
var typicalKeys = []struct {
	key string
	dim quantity.Dimension
	of  func(*Typical) *quantity.Quantity
}{
	{"film", quantity.Film, func(t *Typical) *quantity.Quantity { return &t.Film }},
	{"flash", quantity.Time, func(t *Typical) *quantity.Quantity { return &t.Flash }},
	{"flash_most", quantity.Time, func(t *Typical) *quantity.Quantity { return &t.FlashMost }},
	{"sand_after", quantity.Time, func(t *Typical) *quantity.Quantity { return &t.SandAfter }},
	{"settles", quantity.Time, func(t *Typical) *quantity.Quantity { return &t.Settles }},
	{"volume_solids", quantity.Share, func(t *Typical) *quantity.Quantity { return &t.VolumeSolids }},
	{"pot_life", quantity.Time, func(t *Typical) *quantity.Quantity { return &t.PotLife }},
	{"fill_after", quantity.Time, func(t *Typical) *quantity.Quantity { return &t.FillAfter }},
	{"tape_after", quantity.Time, func(t *Typical) *quantity.Quantity { return &t.TapeAfter }},
	{"polish_after", quantity.Time, func(t *Typical) *quantity.Quantity { return &t.PolishAfter }},
	{"no_recoat", quantity.Time, func(t *Typical) *quantity.Quantity { return &t.NoRecoat }},
}

// readTypical reads typical numbers; on an error what it returns holds those
// that read.
func readTypical(written map[string]string) (Typical, error) {
	var t Typical
	var first error
	note := func(key string, err error) {
		if err != nil && first == nil {
			first = fmt.Errorf("typical %s: %w", key, err)
		}
	}
	known := map[string]bool{"recoat": true, "grit_beneath": true}
	for _, k := range typicalKeys {
		known[k.key] = true
		if text, ok := written[k.key]; ok {
			q, err := quantity.ParseTypical(k.dim, text)
			note(k.key, err)
			*k.of(&t) = q
		}
	}
	if text, ok := written["grit_beneath"]; ok {
		r, err := quantity.ParseAbrasiveRange(text)
		note("grit_beneath", err)
		t.GritBeneath = r
	}
	if text, ok := written["recoat"]; ok {
		note("recoat", t.readRecoat(text))
	}
	keys := make([]string, 0, len(written))
	for key := range written {
		keys = append(keys, key)
	}
	sort.Strings(keys)
	for _, key := range keys {
		if !known[key] {
			note(key, fmt.Errorf("no such key"))
		}
	}
	return t, first
}

// readRecoat reads a window: "1 h - 72 h", "30 min - any", "12 h - never",
// "never".
func (t *Typical) readRecoat(text string) error {
	unsanded := quantity.Quantity{Dim: quantity.Time, Text: text, Written: true, Never: true}
	if text == "never" {
		t.RecoatMost = unsanded
		return nil
	}
	if low, ok := strings.CutSuffix(text, " - never"); ok {
		q, err := quantity.Parse(quantity.Time, low)
		if err != nil {
			return err
		}
		t.RecoatLeast, t.RecoatMost = q, unsanded
		return nil
	}
	q, err := quantity.Parse(quantity.Time, text)
	if err != nil {
		return err
	}
	t.RecoatLeast, t.RecoatMost = q, q
	t.RecoatLeast.Interval = quantity.Exactly(q.Lo)
	if q.IsOpen() {
		t.RecoatAny = true
		t.RecoatMost.Interval = quantity.Open
		return nil
	}
	t.RecoatMost.Interval = quantity.Exactly(q.Hi)
	// "30 min - 24 h": the least is shown in its own unit.
	if low, _, isRange := strings.Cut(text, " - "); isRange {
		if least, err := quantity.Parse(quantity.Time, low); err == nil {
			t.RecoatLeast.Unit = least.Unit
		}
	}
	return nil
}
