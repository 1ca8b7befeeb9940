package rulebook

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"github.com/open-policy-agent/opa/v1/ast"

	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// filler fills any value with something, different each time, so that a field
// that is lost or swapped shows.
type filler struct{ n int }

func (f *filler) fill(v reflect.Value) {
	f.n++
	switch v.Kind() {
	case reflect.Bool:
		v.SetBool(f.n%3 == 0)
	case reflect.String:
		v.SetString(fmt.Sprintf("word %d", f.n%50))
	case reflect.Int:
		v.SetInt(int64(f.n % 700))
	case reflect.Float64:
		v.SetFloat([]float64{0, 1, 0.1, 25.6, 1e-9, 123456789.5, -40, 1e21}[f.n%8])
	case reflect.Pointer:
		if f.n%4 == 0 {
			return
		}
		v.Set(reflect.New(v.Type().Elem()))
		f.fill(v.Elem())
	case reflect.Slice:
		if f.n%7 == 0 {
			return
		}
		n := f.n % 3
		v.Set(reflect.MakeSlice(v.Type(), n, n))
		for i := range n {
			f.fill(v.Index(i))
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		for range f.n % 3 {
			item := reflect.New(v.Type().Elem()).Elem()
			f.fill(item)
			v.SetMapIndex(reflect.ValueOf(fmt.Sprintf("key %d", f.n)), item)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Field(i).CanSet() {
				f.fill(v.Field(i))
			}
		}
	}
}

func filledDocument(seed int) *stack.Document {
	var d stack.Document
	(&filler{n: seed}).fill(reflect.ValueOf(&d).Elem())
	return &d
}

// byJSON is the long way round: what a stock OPA would read from the stack printed as JSON.
func byJSON(t *testing.T, v any) ast.Value {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	value, err := ast.ValueFromReader(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return value
}

func TestAStackHandedOverStraightIsTheStackReadFromJSON(t *testing.T) {
	for seed := range 40 {
		d := filledDocument(seed)
		got, err := toValue(d)
		if err != nil {
			t.Fatal(err)
		}
		want := byJSON(t, d)
		if got.Compare(want) != 0 {
			t.Fatalf("seed %d:\n got %v\nwant %v", seed, got, want)
		}
		if got.Hash() != want.Hash() {
			t.Errorf("seed %d: the two are equal and their hashes are not: %d, %d", seed, got.Hash(), want.Hash())
		}
		if got.String() != want.String() {
			t.Errorf("seed %d: the two print differently", seed)
		}
	}
}

func TestEveryKindOfValueIsHandedOverAsJSONHasIt(t *testing.T) {
	type inner struct {
		Word string `json:"word"`
		Gone string `json:"-"`
	}
	type small struct {
		A, B string
		List []string `json:"list"`
		On   bool     `json:"on,omitempty"`
	}
	type embedding struct {
		inner
		X int `json:"x"`
	}
	for name, v := range map[string]any{
		"nothing":                      nil,
		"no list":                      []string(nil),
		"an empty list":                []string{},
		"no table":                     map[string]int(nil),
		"an empty table":               map[string]int{},
		"a field left out":             inner{"seen", "not seen"},
		"a pointer to nothing":         (*inner)(nil),
		"lists of lists":               [][]int{{1}, {}, nil},
		"small records alike":          []small{{A: "x", List: []string{"y"}}, {A: "x", List: []string{"y"}}},
		"small records all but alike":  []small{{A: "x", List: []string{"y"}}, {A: "x", B: "y", List: []string{}}, {A: "x"}, {A: "xy"}, {B: "xy"}},
		"words with odd bytes":         []small{{A: "\x00", B: "\x01"}, {A: "\x00\x01"}, {A: "1:", B: ":1"}},
		"a record within a record":     embedding{inner{"w", ""}, 3},
		"figures":                      []float64{0, 1, -1, 0.1, 1e-7, 1e-6, 1e20, 1e21, 1e22, 123456789012, 2.5e-10, 600, 0.30000000000000004},
		"a place":                      sheet.Place{File: "a.toml", Line: 3, Column: 1, Start: 12},
		"anything in a table":          map[string]any{"a": 1, "b": []any{"x", 2.5, nil}, "c": map[string]any{}},
		"words of the whole alphabet":  "Lack, Härter; \"1 - 3 mil\" \u2028 <b>",
		"a number as large as a float": math.MaxFloat64,
	} {
		t.Run(name, func(t *testing.T) {
			got, err := toValue(v)
			if err != nil {
				t.Fatal(err)
			}
			if want := byJSON(t, v); got.Compare(want) != 0 || got.Hash() != want.Hash() {
				t.Errorf("got %v, want %v", got, want)
			}
		})
	}
}

func TestWhatCannotBeHandedOverIsAnError(t *testing.T) {
	for name, v := range map[string]any{
		"not a number": math.NaN(),
		"no end":       []float64{math.Inf(1)},
		"a channel":    make(chan int),
		"a function":   struct{ F func() }{func() {}},
		"bytes":        []byte("x"),
		"odd keys":     map[int]string{1: "x"},
	} {
		t.Run(name, func(t *testing.T) {
			if got, err := toValue(v); err == nil {
				t.Errorf("got %v and no error", got)
			} else if !strings.HasPrefix(err.Error(), "handing the stack to the rules: ") {
				t.Errorf("the error does not say what was being done: %v", err)
			}
		})
	}
}

func TestAValueComesBackAsItWent(t *testing.T) {
	want := map[string]any{
		"a": 1, "b": 2.5, "c": "word", "d": true, "e": nil,
		"f": []any{1, "x"}, "g": map[string]any{"h": -3},
	}
	v, err := toValue(want)
	if err != nil {
		t.Fatal(err)
	}
	got, err := plain(v)
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %#v, want %#v", got, want)
	}
	set := ast.NewSet(ast.StringTerm("b"), ast.StringTerm("a"))
	if got, err := plain(set); err != nil || !reflect.DeepEqual(got, []any{"a", "b"}) {
		t.Errorf("a set comes back as %v, %v; want it sorted", got, err)
	}
	odd := ast.NewObject([2]*ast.Term{ast.IntNumberTerm(1), ast.StringTerm("x")})
	if got, err := plain(odd); err == nil {
		t.Errorf("a key that is no word comes back as %v", got)
	}
}
