package stack

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"reflect"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/generate"
	"guidecoat/internal/quantity"
	"guidecoat/internal/sheet"
)

func onDay(year int, month time.Month, d int) sheet.Date {
	return sheet.Date{Value: time.Date(year, month, d, 0, 0, 0, 0, time.UTC), Written: true}
}

func TestADataSheetIsAsOldAsWhenItWasLastLookedAt(t *testing.T) {
	l := rulebookLimits()
	// From 2 March 2025 to 2 March 2026 are 365 days: not yet stale. A day earlier is over.
	n := sheet.SheetNote{Number: saidText("T-020"), Issued: onDay(2020, 1, 1), Checked: onDay(2025, 3, 2), Written: true}
	r := sheetRecord(n, onDay(2026, 3, 2), l)
	if r.Age == nil || r.Age.Over.Lo != 1 || r.Checked != "2025-03-02" || r.Age.Measured.Text != "365 days" {
		t.Errorf("%+v", r.Age)
	}
	n.Checked = onDay(2025, 3, 1)
	if r := sheetRecord(n, onDay(2026, 3, 2), l); r.Age.Over.Lo <= 1 {
		t.Errorf("%+v", r.Age)
	}
	// Twelve months over a 29 February are 366 days, and still twelve months; of 100 days each counts.
	n.Checked = onDay(2023, 6, 1)
	if r := sheetRecord(n, onDay(2024, 6, 1), l); r.Age.Over.Lo != 1 {
		t.Errorf("%+v", r.Age)
	}
	if r := sheetRecord(n, onDay(2024, 6, 2), l); r.Age.Over.Lo <= 1 || r.Age.Measured.Text != "367 days" {
		t.Errorf("%+v", r.Age)
	}
	for days, over := range map[float64]bool{730: false, 729: true, 100: true} {
		house := maps.Clone(l)
		house["sheet_stale"] = number{iv: quantity.Exactly(days * 24 * 60), dim: quantity.Time, unit: "days", source: "house", ok: true}
		n.Checked = onDay(2023, 3, 1)
		if r := sheetRecord(n, onDay(2025, 3, 1), house); (r.Age.Over.Lo > 1) != over {
			t.Errorf("%v days: %+v", days, r.Age)
		}
	}
	// Never checked: since it was issued.
	n.Checked = sheet.Date{}
	if r := sheetRecord(n, onDay(2020, 1, 11), l); r.Age.Measured.Text != "10 days" || r.Checked != "" {
		t.Errorf("%+v", r.Age)
	}
	if r := sheetRecord(n, sheet.Date{}, l); r.Age != nil {
		t.Errorf("a sheet without a date: %+v", r.Age)
	}
	if r := sheetRecord(sheet.SheetNote{}, onDay(2026, 1, 1), l); r.Written || r.Age != nil {
		t.Errorf("no record: %+v", r)
	}
}

func TestCardsAreTheOnesThatStepsUseAndTheSheetsOwn(t *testing.T) {
	surfacer, hardener := plainCard("quick", "urethane surfacer"), plainCard("act", "hardener")
	surfacer.Mix, surfacer.Hardener = saidMix(t, "4:1"), saidList("act")
	sealer := plainCard("grey", "epoxy sealer")
	sealer.Use = "sealer"
	grey := plainCard("grey", "epoxy primer")
	grey.Own, grey.Uses = true, map[string]*sheet.Card{"sealer": sealer}
	left, shelf := plainCard("left-over", "urethane clear"), plainCard("shelf-only", "urethane clear")
	left.Own = true
	wipe := plainCard("wipe", "wax and grease remover")
	s := &sheet.Sheet{
		Work:  "restoration",
		Cards: map[string]*sheet.Card{"quick": surfacer, "act": hardener, "grey": grey, "left-over": left, "shelf-only": shelf, "wipe": wipe},
		Steps: []sheet.Step{
			{N: 1, Do: "clean", WithCard: "wipe"},
			{N: 2, Do: "spray", Card: surfacer},
			{N: 3, Do: "spray", Card: sealer},
			{N: 4, Do: "spray", Card: surfacer},
		},
	}
	uses := cardUses(s, rulebookLimits())
	type use struct {
		laid, used bool
		steps      []int
	}
	got := map[string]use{}
	for ref, u := range uses {
		got[ref] = use{u.laid, u.used, u.steps}
	}
	want := map[string]use{
		"wipe":           {false, true, []int{1}},
		"quick":          {true, true, []int{2, 4}},
		"act":            {false, true, []int{2, 4}}, // listed by the surfacer's card, which mixes it
		"grey as sealer": {true, true, []int{3}},
		"grey":           {false, true, nil}, // its can is used
		"left-over":      {false, false, nil},
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("got %+v", got)
	}
}

func TestACardSaysWhatIsWrittenAndWhatIsAssumed(t *testing.T) {
	c := plainCard("quick", "urethane surfacer")
	c.Film, c.Flash = saidFilm(t, "2-6 mil"), saidTime(t, "10 min")
	c.Mix, c.Hardener = saidMix(t, "4:1"), saidList("a", "b")
	c.Recoat = map[string]sheet.Window{
		"paint":  {Least: saidTime(t, "1 h"), Most: saidTime(t, "24 h"), Written: true},
		"filler": {Least: saidTime(t, "3 h"), Any: true, Written: true},
	}
	c.DirectTo = saidList("aluminum")
	c.Bake = sheet.BakeSchedule{Metal: said(t, quantity.Temperature, "140 F"), For: saidTime(t, "30 min"), Written: true}
	l := rulebookLimits()
	f := cardFacts(&cardUse{view: viewCard(c, l), laid: true, used: true, steps: []int{2}}, onDay(2026, 1, 1), l)
	want := map[string]string{
		"film": "2-6 mil", "flash": "10 min", "mix": "4:1", "hardener": "a, b",
		"recoat": "filler 3 h - any, paint 1 h - 24 h", "direct_to_metal": "aluminum", "bake": "metal 140 F, for 30 min",
	}
	if !reflect.DeepEqual(f.Card, want) {
		t.Errorf("written %v", f.Card)
	}
	if f.Typical["film"] != "2-6 mil" || f.Typical["pot_life"] != "45 min" {
		t.Errorf("typical %v", f.Typical)
	}
	for _, key := range f.Assumed {
		if key == "film" || key == "flash" || key == "recoat" {
			t.Errorf("%s is on the card", key)
		}
	}
	if !reflect.DeepEqual(f.Assumed, []string{"fill_after", "grit_beneath", "pot_life", "sand_after", "settles", "tape_after", "volume_solids"}) {
		t.Errorf("assumed %v", f.Assumed)
	}
	if !f.HasDirect || !f.HasDirectList || !reflect.DeepEqual(f.DirectToMetal, []string{"aluminum"}) || f.HasGoesOn {
		t.Errorf("direct %v", f.DirectToMetal)
	}
	c.DirectTo, c.DirectToMetal = sheet.Texts{}, sheet.Flag{Value: true, Written: true}
	f = cardFacts(&cardUse{view: viewCard(c, l)}, sheet.Date{}, l)
	if !reflect.DeepEqual(f.DirectToMetal, []string{"*"}) || f.HasDirectList || !f.HasDirect {
		t.Errorf("direct %v", f.DirectToMetal)
	}
}

func TestEveryKeyACardMayWriteIsShown(t *testing.T) {
	// A card with every field filled has an entry for every one of them.
	c := &sheet.Card{Name: "all", Kind: "epoxy primer"}
	v := reflect.ValueOf(c).Elem()
	fields := 0
	for i := range v.NumField() {
		f := v.Field(i)
		fields++
		switch f.Interface().(type) {
		case sheet.Text:
			f.Set(reflect.ValueOf(saidText("x")))
		case sheet.Texts:
			f.Set(reflect.ValueOf(saidList("x")))
		case sheet.Amount:
			f.Set(reflect.ValueOf(saidTime(t, "1 h")))
		case sheet.Flag:
			f.Set(reflect.ValueOf(sheet.Flag{Written: true}))
		case sheet.MixText:
			f.Set(reflect.ValueOf(saidMix(t, "1:1")))
		case sheet.SheetNote:
			f.Set(reflect.ValueOf(sheet.SheetNote{Number: saidText("x"), Written: true}))
		case sheet.BakeSchedule:
			f.Set(reflect.ValueOf(sheet.BakeSchedule{Metal: said(t, quantity.Temperature, "140 F"), Written: true}))
		case map[string]sheet.Window:
			f.Set(reflect.ValueOf(map[string]sheet.Window{"paint": {Least: saidTime(t, "1 h"), Written: true}}))
		case quantity.AbrasiveRange:
			f.Set(reflect.ValueOf(quantity.AbrasiveRange{Text: "P80", Written: true}))
		default:
			fields-- // name, kind, place ...: no key of its own
		}
	}
	// direct_to_metal has two fields, a flag and a list.
	if got := cardWritten(c); len(got) != fields-1 {
		t.Errorf("%d keys for %d fields: %v", len(got), fields, sortedKeys(got))
	}
}

func TestACardNamesTheTypicalNumbersThatWereComparedWith(t *testing.T) {
	d := &Document{
		Cards: map[string]CardFacts{"grey": {Ref: "grey"}, "grey as sealer": {Ref: "grey as sealer"}, "odd.name": {Ref: "odd.name"}},
		Contacts: []Contact{{
			RecoatLeast: &Comparison{Leaned: []string{"grey.recoat"}},
			RecoatMost:  &Comparison{Leaned: []string{"grey as sealer.recoat"}},
			FillAfter:   &Comparison{Leaned: []string{"grey.fill_after"}, Open: true}, // compared nothing
			Tooth:       &Tooth{FineCard: &Comparison{Leaned: []string{"odd.name.grit_beneath"}}},
			Sequence:    []Ratio{{Fall: Comparison{Leaned: []string{"grey.bake.flash_first", "e-coat.film"}}}},
		}},
	}
	d.finish()
	want := map[string][]string{
		"grey": {"bake.flash_first", "recoat"}, "grey as sealer": {"recoat"}, "odd.name": {"grit_beneath"},
	}
	for ref, keys := range want {
		if got := d.Cards[ref].Compared; !reflect.DeepEqual(got, keys) {
			t.Errorf("%s: %v, want %v", ref, got, keys)
		}
	}
}

func TestNoListOfADocumentIsNullAndItsSchemaHolds(t *testing.T) {
	l := rulebookLimits()
	d := &Document{Stack: 1, Limits: l.document(), Contacts: []Contact{{Tooth: &Tooth{}, Gap: openMeasure(quantity.Time, "h")}}}
	d.LayersByID = map[string]Layer{"0:mild-steel": {}}
	d.finish()
	text, err := d.JSON()
	if err != nil {
		t.Fatal(err)
	}
	var v any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	if err := compiled(t).Validate(v); err != nil {
		t.Error(err)
	}
	if bytes.Contains(text, []byte(`"zones":null`)) || bytes.Count(text, []byte("\n")) != 1 {
		t.Error("a null list, or more than one line")
	}
	var written bytes.Buffer
	if err := d.WriteJSON(&written); err != nil || !bytes.Contains(written.Bytes(), []byte("\n  \"stack\": 1,\n")) {
		t.Errorf("%v", err)
	}
}

// Entry by entry it is what encoding/json writes at once.
func TestADocumentWrittenEntryByEntryIsTheSame(t *testing.T) {
	for seed := range uint64(30) {
		s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "a <b> & \u202e.toml", []byte(generate.Sheet(seed, generate.Options{Steps: int(seed), Zones: int(seed) % 4})))
		if problems != nil {
			t.Fatal(problems)
		}
		d, problems := Build(s)
		if problems != nil {
			t.Fatal(problems)
		}
		oneLine, err := d.JSON()
		if err != nil {
			t.Fatal(err)
		}
		var want, got bytes.Buffer
		if err := json.Indent(&want, oneLine, "", "  "); err != nil {
			t.Fatal(err)
		}
		if err := d.WriteJSON(&got); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got.Bytes(), want.Bytes()) {
			t.Fatalf("seed %d:\n%s\nand at once\n%s", seed, got.Bytes(), want.Bytes())
		}
	}
}

type filling struct{ room int }

func (b *filling) Write(p []byte) (int, error) {
	if b.room -= len(p); b.room < 0 {
		return 0, errors.New("the disk is full")
	}
	return len(p), nil
}

func TestADocumentThatCannotBeWrittenIsAnError(t *testing.T) {
	s, problems := sheet.ReadText(sheet.Options{NoHouse: true}, "door.toml", []byte(generate.Sheet(1, generate.Options{})))
	if problems != nil {
		t.Fatal(problems)
	}
	d, _ := Build(s)
	for _, after := range []int{0, 5000, 50_000} {
		if err := d.WriteJSON(&filling{after}); err == nil || !strings.Contains(err.Error(), "the disk is full") {
			t.Errorf("after %d bytes: %v", after, err)
		}
	}
}
