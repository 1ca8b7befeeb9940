package picture

import (
	"slices"
	"testing"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// bench is a zone whose steel was covered at step 3, stripped, and covered again at step 9.
func bench() *stack.Document {
	return &stack.Document{
		Zones: []stack.Zone{{Name: "door"}, {Name: "roof"}},
		Contacts: []stack.Contact{
			{ID: "door/3:epoxy", Zone: "door", Step: 3, Upper: "3:epoxy", Lower: "0:steel"},
			{ID: "door/9:epoxy", Zone: "door", Step: 9, Upper: "9:epoxy", Lower: "0:steel"},
		},
		Exposures:  []stack.Exposure{{ID: "door/4-9", Zone: "door", Layer: "0:steel", Contact: "door/9:epoxy"}, {ID: "roof/9-0", Zone: "roof", Layer: "9:epoxy"}},
		Lays:       []stack.Lay{{ID: "9", Step: 9, Layer: "9:epoxy", Zones: []string{"door", "roof"}}},
		LayersByID: map[string]stack.Layer{"9:epoxy": {ID: "9:epoxy", Zones: []string{"door", "roof"}}},
	}
}

func TestAFindingIsMarkedWhereItIs(t *testing.T) {
	at := func(n int) *int { return &n }
	for name, c := range map[string]struct {
		f    rulebook.Finding
		want []string // contact, surface and film of each mark
	}{
		"the contact of its film":                 {rulebook.Finding{Upper: "3:epoxy", Lower: "0:steel", Zones: []string{"door"}, On: "door/3:epoxy"}, []string{"door/3:epoxy||"}},
		"the contact that covered its surface":    {rulebook.Finding{Lower: "0:steel", Step: at(2), Zones: []string{"door"}, On: "door/2"}, []string{"door/3:epoxy||"}},
		"the next one, not one before it":         {rulebook.Finding{Lower: "0:steel", Step: at(5), Zones: []string{"door"}, On: "door/5"}, []string{"door/9:epoxy||"}},
		"the open face, where nothing covered it": {rulebook.Finding{Lower: "0:steel", Step: at(10), Zones: []string{"door"}, On: "door/10"}, []string{"|door/0:steel|"}},
		"the contact that ended an exposure":      {rulebook.Finding{Zones: []string{"door"}, On: "door/4-9"}, []string{"door/9:epoxy||"}},
		"an exposure that nothing ended":          {rulebook.Finding{Zones: []string{"roof"}, On: "roof/9-0"}, []string{"|roof/9:epoxy|"}},
		"a contact named by the finding alone":    {rulebook.Finding{On: "door/3:epoxy"}, []string{"door/3:epoxy||"}},
		"the film that a step lays":               {rulebook.Finding{On: "9", Step: at(9)}, []string{"||door/9:epoxy", "||roof/9:epoxy"}},
		"a film":                                  {rulebook.Finding{On: "9:epoxy", Zones: []string{"roof"}}, []string{"||roof/9:epoxy"}},
		"what is about a person":                  {rulebook.Finding{On: "9", Step: at(9), People: true}, nil},
		"what is about no film":                   {rulebook.Finding{On: "sheet"}, nil},
	} {
		c.f.ID, c.f.Rule, c.f.Grade, c.f.Certainty, c.f.Message = "id", "rule", "risk", "may", "words"
		marks, elsewhere := Marks(bench(), []rulebook.Finding{c.f})
		var got []string
		for _, m := range marks {
			got = append(got, m.Contact+"|"+m.Surface+"|"+m.Film)
			if m.Finding != "id" || m.Label != "RISK: words [rule]" || m.Will {
				t.Errorf("%s: the mark is %+v", name, m)
			}
		}
		if !slices.Equal(got, c.want) || (len(elsewhere) == 1) != (c.want == nil) {
			t.Errorf("%s: marked %v, want %v; elsewhere %d", name, got, c.want, len(elsewhere))
		}
	}
	if marks, elsewhere := Marks(bench(), []rulebook.Finding{{On: "9", Grade: "advice"}}); marks != nil || elsewhere != nil {
		t.Error("advice is marked")
	}
}

func TestMarksAsOfAStep(t *testing.T) {
	whole := []Mark{{Contact: "door/3:epoxy", Step: 2}, {Contact: "door/9:epoxy", Step: 5}, {Contact: "door/9:epoxy", Step: 9}, {Film: "door/9:epoxy", Step: 9}}
	for step, want := range map[int][]string{
		1: nil,
		2: {"|door/0:steel|"},
		3: {"door/3:epoxy||"},
		5: {"door/3:epoxy||", "|door/0:steel|"},
		9: {"door/3:epoxy||", "door/9:epoxy||", "door/9:epoxy||", "||door/9:epoxy"},
	} {
		var got []string
		for _, m := range AsOf(whole, bench(), step) {
			got = append(got, m.Contact+"|"+m.Surface+"|"+m.Film)
		}
		if !slices.Equal(got, want) {
			t.Errorf("after step %d: %v, want %v", step, got, want)
		}
	}
}

// Covered and exposed again, a surface is new: the
// scratch it had before counts no more.
func TestASurfaceBaredAgainIsNew(t *testing.T) {
	const text = `format = 1
[sheet]
title = "door"
work = "restoration"
[panel]
substrate = "mild steel"
[product.grey]
kind = "epoxy primer"
[[step]]
do = "sand"
grit = "P80"
[[step]]
do = "spray"
product = "grey"
[[step]]
do = "strip"
tool = "chemical stripper"
[[step]]
do = "rinse"
[[step]]
do = "strip"
tool = "blast"
media = "grit"
`
	for steps, want := range map[int]Surface{
		1: {Tooth: "P80", Microns: 201},
		3: {Touched: []string{"chemical stripper"}},
		4: {Touched: []string{"chemical stripper", "rinse"}, Water: true},
		5: {Tooth: "grit blast"},
	} {
		s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "door.toml", []byte(text))
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		s.Steps = s.Steps[:steps]
		doc, problems := stack.Build(s)
		if len(problems) > 0 {
			t.Fatal(problems)
		}
		got := Columns(doc, nil)[0].Films[0].Face
		if got.Tooth != want.Tooth || got.Microns != want.Microns || got.Water != want.Water || !slices.Equal(got.Touched, want.Touched) {
			t.Errorf("after step %d the steel is %+v, want %+v", steps, got, want)
		}
	}
}
