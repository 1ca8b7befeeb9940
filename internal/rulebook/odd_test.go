package rulebook

import (
	"context"
	"fmt"
	"maps"
	"math/rand/v2"
	"reflect"
	"slices"
	"strings"
	"testing"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// oddStack is a stack of the right shape with anything in it: every word one
// that could stand there, every number, null and list by chance. No sheet makes
// such a stack, and no rule may break on it.
type oddStack struct {
	*rand.Rand
	kinds []kindly
	ids   *int
}

// kindly is a kind with its traits as a real stack has them: a metal that is
// both steel and zinc is no odd stack, it is none.
type kindly struct {
	name   string
	traits stack.Traits
}

// kindsOf are the kinds of every layer in the rules' own sheets, each once.
func kindsOf(t *testing.T, b *Book) []kindly {
	t.Helper()
	found := map[string]stack.Traits{}
	docs := stacks(t, b)
	for _, name := range slices.Sorted(maps.Keys(docs)) {
		for _, l := range docs[name].LayersByID {
			found[l.Kind] = l.Traits
		}
	}
	var out []kindly
	for _, name := range slices.Sorted(maps.Keys(found)) {
		out = append(out, kindly{name, found[name]})
	}
	return out
}

// words that may stand in a field, by the end of its name.
var oddWords = map[string][]string{
	"class":        {"substrate", "finish", "primer", "surfacer", "promoter", "filler", "seam", "sealer", "color", "clear", "coating", "helper"},
	"do":           {"strip", "sand", "block", "scuff", "clean", "tack", "blow_off", "treat", "rinse", "neutralize", "spray", "brush", "spread", "caulk", "bake", "wait", "metalwork", "store", "polish"},
	"tool":         {"", "strip disc", "sander", "grinder", "wire wheel", "razor", "blast", "chemical stripper"},
	"media":        {"", "grit", "glass bead", "soda", "plastic"},
	"bared":        {"", "cut", "grit", "soda", "sander", "strip disc", "chemical stripper"},
	"by":           {"abrasion", "sander", "grinder", "grit blast", "strip disc", "none"},
	"rust":         {"none", "light", "pitted", "holes"},
	"work":         {"restoration", "collision"},
	"ends_as":      {"finished", "primed", "sealed"},
	"role":         {"", "repair", "blend", "edge"},
	"faces":        {"weather", "inside", "underside", "cavity"},
	"edge":         {"panel break", "open"},
	"where":        {"booth", "prep bay", "open shop", "outdoors"},
	"sense":        {"least", "most"},
	"source":       {"card", "typical", "limit", "house", "sheet"},
	"card_says":    {"silent", "allows", "forbids", "unlisted"},
	"window_given": {"card", "typical", "none"},
	"condition":    {"sound", "peeling", "chalking", "cracked", "unknown", ""},
	"soiled_by":    {"", "carried", "store", "metalwork"},
	"act":          {"abrasion", "film"},
	"ended_by":     {"film", "strip", "cut", "end"},
	"written":      {"step", "card", "none"},
	"known":        {"listed", "foreign", ""},
	"effect":       {"", "solid", "metallic", "pearl", "candy"},
	"plastic":      {"", "TPO", "PUR", "ABS", "unknown"},
	"region":       {"", "us", "eu", "quebec"},
	"binds":        {"maker", "user"},
	"measures":     {"film", "adhesion", "solvent rub", "lead", "dew point"},
	"inspected":    {"film", "adhesion", "solvent rub", "lead"},
	"wear":         {"supplied-air respirator", "gloves", "eye protection", "coverall", "particulate respirator", "extraction"},
	"hazards":      {"isocyanate", "epoxy hardener", "chromate", "lead", "acid", "fluoride", "peroxide", "flammable"},
	"zone":         {"panel", "dent", "rub-through"},
	"name":         {"grey (epoxy primer)", "panel", "dent", "P180"},
	"layer":        {"0:mild-steel", "1:grey", "2:blue"},
	"upper":        {"1:grey", "2:blue"},
	"lower":        {"0:mild-steel", "1:grey"},
}

func (o oddStack) word(field string) string {
	if field == "id" {
		*o.ids++
		return fmt.Sprint("panel/", *o.ids)
	}
	if strings.HasSuffix(field, "kind") || field == "substrate" || field == "goes_on" || field == "keep_off" || field == "touched" {
		return o.kinds[o.IntN(len(o.kinds))].name
	}
	for end, words := range oddWords {
		if field == end || strings.HasSuffix(field, "_"+end) {
			return words[o.IntN(len(words))]
		}
	}
	return field
}

func (o oddStack) fill(v reflect.Value, field string) {
	switch v.Kind() {
	case reflect.Bool:
		v.SetBool(o.IntN(2) == 0)
	case reflect.String:
		v.SetString(o.word(field))
	case reflect.Int:
		n := o.IntN(4)
		if field == "step" || field == "n" || field == "steps" {
			n++
		}
		v.SetInt(int64(n))
	case reflect.Float64:
		v.SetFloat([]float64{0, 0.5, 0.9, 1, 1.1, 2, 100}[o.IntN(7)])
	case reflect.Pointer:
		if o.IntN(3) > 0 {
			v.Set(reflect.New(v.Type().Elem()))
			o.fill(v.Elem(), field)
		}
	case reflect.Slice:
		n := o.IntN(3)
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			o.fill(v.Index(i), field)
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		for _, key := range []string{"0:mild-steel", "1:grey", "2:blue", "panel", "dent"} {
			item := reflect.New(v.Type().Elem()).Elem()
			o.fill(item, field)
			v.SetMapIndex(reflect.ValueOf(key), item)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
			if name != "-" {
				o.fill(v.Field(i), name)
			}
		}
		// The traits that stand beside a kind are that kind's.
		for _, of := range []string{"", "Upper", "Lower", "Surface", "Substrate", "Under"} {
			kind, traits := v.FieldByName(of+"Kind"), v.FieldByName(of+"Traits")
			if !kind.IsValid() || !traits.IsValid() {
				continue
			}
			k := o.kinds[o.IntN(len(o.kinds))]
			kind.SetString(k.name)
			if traits.Kind() != reflect.Pointer {
				traits.Set(reflect.ValueOf(k.traits))
			} else if !traits.IsNil() {
				traits.Elem().Set(reflect.ValueOf(k.traits))
			}
		}
	}
}

// oddDocument is one odd stack, with a limit of each name.
func oddDocument(seed uint64, kinds []kindly, limits []string) *stack.Document {
	o := oddStack{rand.New(rand.NewPCG(seed, 7)), kinds, new(int)}
	var d stack.Document
	o.fill(reflect.ValueOf(&d).Elem(), "")
	for i := range d.Steps {
		d.Steps[i].N, d.Steps[i].ID = i+1, fmt.Sprint(i+1)
	}
	d.Limits = map[string]stack.Limit{}
	for _, n := range limits {
		var l stack.Limit
		o.fill(reflect.ValueOf(&l).Elem(), "")
		d.Limits[n] = l
	}
	return &d
}

func TestNoRuleBreaksOnAnyStackOfTheRightShape(t *testing.T) {
	b, err := Builtin()
	if err != nil {
		t.Fatal(err)
	}
	names, err := b.LimitNames()
	if err != nil {
		t.Fatal(err)
	}
	kinds := kindsOf(t, b)
	told := map[string]bool{}
	spoke := map[string]bool{}
	for seed := range uint64(120) {
		d := oddDocument(seed, kinds, names)
		r, err := b.Judge(context.Background(), d, &sheet.Sheet{File: "odd.toml"}, Options{})
		if err != nil {
			t.Fatalf("seed %d: %v", seed, err)
		}
		for _, x := range r.Broke {
			if !told[x.Rule+x.Message] {
				told[x.Rule+x.Message] = true
				t.Errorf("seed %d: rule %s broke: %s", seed, x.Rule, x.Message)
			}
		}
		for _, f := range r.Findings {
			spoke[f.Rule] = true
			rule, err := b.Rule(f.Rule)
			if err != nil {
				t.Fatal(err)
			}
			if rank(f.Grade) > rank(rule.Grade) && !told[f.Rule] {
				told[f.Rule] = true
				t.Errorf("seed %d: %s gives %s, and METADATA says that %s is the gravest", seed, f.Rule, f.Grade, rule.Grade)
			}
			if strings.Contains(f.Message, "%!") && !told[f.Message] {
				told[f.Message] = true
				t.Errorf("seed %d: %s: the message is not put together right: %s", seed, f.Rule, f.Message)
			}
			if f.Certainty == "may" && f.Grade == "fails" && !told[f.Rule] {
				told[f.Rule] = true
				t.Errorf("seed %d: %s may happen, and is said to fail", seed, f.Rule)
			}
		}
	}
	// Most rules must have had something to say, or nothing is tried here.
	if len(spoke) < 80 {
		t.Errorf("only %d rules spoke: %v", len(spoke), slices.Sorted(maps.Keys(spoke)))
	}
	t.Logf("%d of %d rules spoke", len(spoke), len(b.names))
}
