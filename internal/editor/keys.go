package editor

import (
	"slices"
	"strings"

	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
	"guidecoat/internal/trade"
)

// keysOfFile are the keys at the top of a file.
func keysOfFile(kind sheet.FileKind) []sheet.Key {
	switch kind {
	case sheet.IsShelf:
		return sheet.ShelfKeys()
	case sheet.IsHouse:
		return sheet.HouseKeys()
	case sheet.IsSheet:
		return sheet.SheetKeys()
	}
	return nil
}

// anyStepKeys are the keys of every verb together, for a step whose verb is not
// written yet.
var anyStepKeys = func() []sheet.Key {
	keys := slices.Clone(sheet.StepKeys())
	for _, v := range sheet.Verbs() {
		for _, k := range v.Keys {
			if keyNamed(keys, k.Name) == nil {
				k.Required = false
				keys = append(keys, k)
			}
		}
	}
	return keys
}()

// gradeKeys are the keys of a rule under [grades] that is written as a table.
var gradeKeys = []sheet.Key{
	{Name: "off", Takes: []sheet.Takes{sheet.TakesFlag}, Required: true, Example: "true", Meaning: "switches the rule off; not for a rule that guards people"},
	{Name: "reason", Takes: []sheet.Takes{sheet.TakesText}, Required: true, Example: `"our booth has its own way"`, Meaning: "why; without one no rule is off"},
}

func keyNamed(keys []sheet.Key, name string) *sheet.Key {
	for i := range keys {
		if keys[i].Name == name {
			return &keys[i]
		}
	}
	return nil
}

// keysIn are the keys that may stand in the table at a path. named: it is a
// table whose keys the shop names, or the rulebook.
func (p *page) keysIn(path []string, do string) (keys []sheet.Key, named bool) {
	keys = keysOfFile(p.kind)
	for i := 0; i < len(path); i++ {
		k := keyNamed(keys, path[i])
		switch {
		case k == nil:
			return nil, false
		case p.kind == sheet.IsSheet && i == 0 && k.Name == "step":
			if keys = sheet.KeysOf(strings.ToLower(strings.TrimSpace(do))); keys == nil {
				keys = anyStepKeys
			}
		case slices.Contains(k.Takes, sheet.TakesNamed):
			if i++; i == len(path) {
				return nil, true
			}
			keys = k.Fields
		case p.kind == sheet.IsHouse && i == 0 && (k.Name == "limits" || k.Name == "grades"):
			if i+1 == len(path) {
				return p.rulebookKeys(k.Name), true
			}
			keys = p.rulebookKeys(k.Name)
		default:
			keys = k.Fields
		}
	}
	return keys, false
}

// keyAt is the key at a path, or nil.
func (p *page) keyAt(path []string, do string) *sheet.Key {
	if len(path) == 0 {
		return nil
	}
	keys, _ := p.keysIn(path[:len(path)-1], do)
	return keyNamed(keys, path[len(path)-1])
}

// rulebookKeys are the keys of [limits] and [grades]: every limit, every rule.
func (p *page) rulebookKeys(table string) []sheet.Key {
	var keys []sheet.Key
	if table == "limits" {
		for _, l := range trade.Limits() {
			takes := sheet.TakesQuantity
			if l.Restoration.IsGrade() {
				takes = sheet.TakesGrade
			}
			keys = append(keys, sheet.Key{Name: l.Name, Takes: []sheet.Takes{takes}, Dim: l.Restoration.Dim,
				Example: `"` + l.Restoration.String() + `"`, Meaning: l.About})
		}
		return keys
	}
	for _, r := range p.rules() {
		keys = append(keys, sheet.Key{Name: r.Name, Takes: []sheet.Takes{sheet.TakesWord, sheet.TakesTable},
			Words: []string{"fails", "risk", "advice"}, Fields: gradeKeys, Example: `"advice"`, Meaning: r.Title})
	}
	return keys
}

// takes tells whether a key takes a value of a sort.
func takes(k *sheet.Key, what ...sheet.Takes) bool {
	return k != nil && slices.ContainsFunc(k.Takes, func(t sheet.Takes) bool { return slices.Contains(what, t) })
}

// usualUnits are the units of a dimension in the order in which a painter would
// look for them; those that no sheet is written in are left out.
var usualUnits = map[quantity.Dimension][]string{
	quantity.Time:          {"min", "h", "days", "weeks", "s"},
	quantity.Film:          {"mil", "µm", "mm", "in"},
	quantity.Temperature:   {"F", "C"},
	quantity.TempMargin:    {"F", "C"},
	quantity.Area:          {"ft2", "in2", "m2", "cm2"},
	quantity.Volume:        {"gal", "qt", "pt", "floz", "L", "mL"},
	quantity.Concentration: {"g/L", "lb/gal", "g/mL"},
	quantity.Pressure:      {"psi", "bar", "kPa"},
	quantity.Share:         {"%"},
	quantity.Coverage:      {"ft2/gal", "m2/L"},
}

// habits are the waits that are written without a number.
var habits = []struct{ word, means string }{
	{"overnight", "12 to 16 h"}, {"same day", "up to 8 h"},
	{"until matte", "satisfies a flash; leaves the clock open"}, {"until dry to touch", "satisfies a flash; leaves the clock open"},
}
