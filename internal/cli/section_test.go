package cli

import (
	"bytes"
	"encoding/json"
	"encoding/xml"
	"errors"
	"fmt"
	"image/png"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/printable"
)

const pngSignature = "\x89PNG\r\n\x1a\n"

// sectionDoc is what a script reads of `section --as json`.
type sectionDoc struct {
	Guidecoat struct {
		Version string
		Format  int
	}
	File, Title string
	After       *int
	Zones       []struct {
		Zone    string
		Area    *string
		Parent  *string
		CutStep *int `json:"cut_step"`
		Face    *struct {
			Tooth   *string
			Touched []string
			Water   bool
		}
		Films []struct {
			ID, Name, Kind, Class string
			Step                  *int
			Call                  *string
			Existing, Substrate   bool
			Film                  *struct {
				Lo, Hi     float64
				Unit, Text string
			}
			Beneath *struct {
				Contact *string
				Tooth   *string
				Microns *float64
				Touched []string
				Water   bool
			}
			Marks []struct{ At, Rule, Grade, Certainty, Label string }
		}
	}
	Elsewhere []struct {
		Rule, Grade string
		Step        *int
	}
}

func sectionRead(t *testing.T, dir string, args ...string) sectionDoc {
	t.Helper()
	status, out, errs := run(t, dir, append([]string{"section", "--as", "json"}, args...)...)
	if status != 0 || errs != "" {
		t.Fatalf("%v: status %d, %s", args, status, errs)
	}
	var doc sectionDoc
	if err := json.Unmarshal([]byte(out), &doc); err != nil {
		t.Fatal(err)
	}
	return doc
}

func TestASectionAsJSONHoldsWhatTheDrawingShows(t *testing.T) {
	doc := sectionRead(t, examples(t), "bad/water-on-steel.toml")
	if doc.Guidecoat.Format != 1 || doc.File != "bad/water-on-steel.toml" || doc.Title != "Fender, washed with water cleaner" || doc.After != nil {
		t.Errorf("the head is %+v", doc)
	}
	if len(doc.Zones) != 1 || doc.Zones[0].Zone != "panel" || *doc.Zones[0].Area != "9 ft2" || doc.Zones[0].Parent != nil || doc.Zones[0].CutStep != nil {
		t.Fatalf("the zones are %+v", doc.Zones)
	}
	films := doc.Zones[0].Films
	if len(films) != 5 || films[0].Class != "clear" || !films[4].Substrate || films[4].Film != nil || films[4].Beneath != nil || films[4].Step != nil {
		t.Fatalf("the films are %+v", films)
	}
	epoxy := films[3]
	// 2 coats of 2 mil wet at 55 % by volume: 2.2 mil, which is 55.9 µm.
	if epoxy.Film == nil || epoxy.Film.Unit != "mil" || epoxy.Film.Text != "2.2 mil (56 µm)" || epoxy.Film.Lo != epoxy.Film.Hi || epoxy.Film.Lo < 2.199 || epoxy.Film.Lo > 2.201 {
		t.Errorf("the film is %+v", epoxy.Film)
	}
	on := epoxy.Beneath
	// P80 has a median of 201 µm (ISO 6344-2, table 1).
	if on == nil || *on.Contact != "panel/4:grey-epoxy" || on.Tooth == nil || *on.Tooth != "P80" || on.Microns == nil || *on.Microns != 201 || !on.Water ||
		!slices.Equal(on.Touched, []string{"waterborne cleaner", "wax and grease remover"}) {
		t.Errorf("beneath it is %+v", on)
	}
	if len(epoxy.Marks) != 1 || epoxy.Marks[0].Rule != "water-on-bare-steel" || epoxy.Marks[0].At != "beneath" || epoxy.Marks[0].Grade != "fails" || epoxy.Marks[0].Certainty != "will" {
		t.Errorf("its marks are %+v", epoxy.Marks)
	}
	if doc.Elsewhere == nil {
		t.Error("elsewhere is null")
	}
}

// Every finding of fails and risk of inspect is in the section or told of beside it.
func TestASectionLosesNoFinding(t *testing.T) {
	dir := examples(t)
	_, out, _ := run(t, dir, "inspect", "--as", "json", "good", "bad")
	for _, s := range judgedJSON(t, out) {
		want := map[string]bool{}
		for _, f := range s.Findings {
			if f.Grade != "advice" {
				want[f.Rule] = true
			}
		}
		doc := sectionRead(t, dir, s.File)
		got := map[string]bool{}
		for _, z := range doc.Zones {
			for _, f := range z.Films {
				for _, m := range f.Marks {
					got[m.Rule] = true
				}
			}
		}
		for _, e := range doc.Elsewhere {
			got[e.Rule] = true
		}
		if fmt.Sprint(want) != fmt.Sprint(got) {
			t.Errorf("%s: inspect finds %v, the section has %v", s.File, want, got)
		}
	}
}

func TestASectionAfterAStepShowsThePanelAsItStandsThen(t *testing.T) {
	dir := examples(t)
	whole := sectionRead(t, dir, "bad/filler-over-etch.toml")
	early := sectionRead(t, dir, "--after", "4", "bad/filler-over-etch.toml")
	if early.After == nil || *early.After != 4 {
		t.Errorf("it stands after %v", early.After)
	}
	for _, f := range early.Zones[0].Films {
		if f.Step != nil && *f.Step > 4 {
			t.Errorf("a film of step %d is there already", *f.Step)
		}
	}
	if top := early.Zones[0].Films[0]; top.Class != "filler" || len(top.Marks) == 0 || top.Marks[0].Rule != "filler-on-acid-primer" {
		t.Errorf("on top is %+v, and what fails is to be marked", top)
	}
	if len(early.Zones[0].Films) >= len(whole.Zones[0].Films) {
		t.Error("nothing is missing from the early section")
	}
	for _, e := range early.Elsewhere {
		if e.Step == nil || *e.Step > 4 {
			t.Errorf("%s is told of before its step", e.Rule)
		}
	}
	// What went wrong with a surface is seen before the next film covers it.
	wet := sectionRead(t, dir, "--after", "2", "bad/water-on-steel.toml")
	face := wet.Zones[0].Face
	if face == nil || !face.Water || *face.Tooth != "P80" || !slices.Equal(face.Touched, []string{"waterborne cleaner"}) {
		t.Errorf("the open face is %+v", face)
	}
	if top := wet.Zones[0].Films[0]; !top.Substrate || len(top.Marks) != 1 || top.Marks[0].At != "top" || top.Marks[0].Rule != "water-on-bare-steel" {
		t.Errorf("on the bare steel is marked %+v", top.Marks)
	}
	if dry := sectionRead(t, dir, "--after", "1", "bad/water-on-steel.toml"); len(dry.Zones[0].Films[0].Marks) != 0 {
		t.Errorf("it is marked before the water: %+v", dry.Zones[0].Films[0].Marks)
	}
	// The call of a step names it as well as its number.
	byNumber, byCall := sectionRead(t, dir, "--after", "10", "good/spot-rub-through.toml"), sectionRead(t, dir, "--after", "surfacer", "good/spot-rub-through.toml")
	if fmt.Sprintf("%+v", *byCall.After) != fmt.Sprintf("%+v", *byNumber.After) || len(byCall.Zones) != 3 {
		t.Errorf("after the call: step %d, %d zones", *byCall.After, len(byCall.Zones))
	}
	if len(sectionRead(t, dir, "--after", "11", "good/spot-rub-through.toml").Zones) != 4 {
		t.Error("the cut of step 11 is not there after it")
	}
}

func TestSectionRefusesWhatItCannotDraw(t *testing.T) {
	dir := examples(t)
	for name, c := range map[string]struct {
		args []string
		says string
	}{
		"a step that is not there": {[]string{"--after", "99"}, "the sheet has 23 steps"},
		"step 0":                   {[]string{"--after", "0"}, "the sheet has 23 steps"},
		"a call nobody has":        {[]string{"--after", "undercoat"}, `its calls are "epoxy", "surfacer", "touch-up"`},
		"a zone nobody has":        {[]string{"--zone", "roof"}, `its zones are "spot", "blend", "panel", "rub-through"`},
		"an unknown format":        {[]string{"--as", "pdf"}, "not one of text, json, svg or png"},
		"ASCII of an SVG":          {[]string{"--as", "svg", "--ascii"}, "--ascii is for --as text, and this is printed as svg"},
		"a scale of text":          {[]string{"--scale", "3"}, "--scale is for --as png"},
		"a width of JSON":          {[]string{"--as", "json", "--width", "500"}, "--width is for --as svg or png"},
		"a width too small":        {[]string{"--as", "svg", "--width", "100"}, "from 320 to 4000"},
		"a scale too large":        {[]string{"--as", "png", "--scale", "99"}, "from 0.25 to 8"},
		"a scale that is none":     {[]string{"--as", "png", "--scale", "NaN"}, "from 0.25 to 8"},
		"a date that is none":      {[]string{"--today", "soon"}, "not a date"},
	} {
		status, out, errs := run(t, dir, append(append([]string{"section"}, c.args...), "good/spot-rub-through.toml")...)
		if status != exitWrong || out != "" || !strings.Contains(errs, c.says) {
			t.Errorf("%s: status %d, printed %.80q, says %q", name, status, out, errs)
		}
	}
	if status, _, errs := run(t, dir, "clock", "--width", "500", "good/spot-rub-through.toml"); status != exitWrong || !strings.Contains(errs, "--width is for --as svg") {
		t.Errorf("a width of a clock in text: status %d, %s", status, errs)
	}
	if status, out, errs := run(t, dir, "clock", "--as", "svg", "--width", "500", "good/spot-rub-through.toml"); status != 0 || !strings.Contains(out, ` width="500" `) {
		t.Errorf("a clock 500 wide: status %d, %s", status, errs)
	}
	if status, _, errs := run(t, dir, "section", "nowhere.toml"); status != exitUnreadable || !strings.Contains(errs, "no such file") {
		t.Errorf("a sheet that is not there: status %d, %s", status, errs)
	}
}

func TestAPNGGoesToAFileOrAPipeAndNotToATerminal(t *testing.T) {
	dir := examples(t)
	var out, errs bytes.Buffer
	on := func(terminal bool, args ...string) int {
		out.Reset()
		errs.Reset()
		return Main(append([]string{"section", "--as", "png", "--scale", "0.5"}, args...), Streams{In: strings.NewReader(""), Out: &out, Err: &errs, Dir: dir,
			Getenv: func(string) string { return "" }, Now: func() time.Time { return time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC) }, Terminal: terminal})
	}
	if status := on(true, "bad/water-on-steel.toml"); status != exitWrong || out.Len() > 0 || !strings.Contains(errs.String(), "--out FILE") {
		t.Errorf("to a terminal: status %d, %d bytes, %s", status, out.Len(), errs.String())
	}
	if status := on(false, "bad/water-on-steel.toml"); status != 0 || !strings.HasPrefix(out.String(), pngSignature) || errs.Len() > 0 {
		t.Errorf("to a pipe: status %d, %q, %s", status, out.String()[:min(8, out.Len())], errs.String())
	}
	file := filepath.Join(t.TempDir(), "fender.png")
	if status := on(true, "--out", file, "bad/water-on-steel.toml"); status != 0 || out.Len() > 0 {
		t.Errorf("to a file: status %d, %s", status, errs.String())
	}
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if c, err := png.DecodeConfig(f); err != nil || c.Width != 400 {
		t.Errorf("the file is %+v, %v", c, err)
	}
}

func TestASectionMarksWhatAShopsOwnRuleFinds(t *testing.T) {
	dir := t.TempDir()
	text, err := os.ReadFile(filepath.Join("..", "..", "policies", "adhesion", "filler-on-acid-primer", "holds.toml"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Mkdir(filepath.Join(dir, "rules"), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string]string{
		"door.toml": string(text), "rules/our-rule.rego": everyContactRule, "guidecoat.toml": "format = 1\n[house]\nrules = \"rules\"\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(content), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir) // where the folder of rules is looked for
	for what, args := range map[string][]string{"by its house file": {"door.toml"}, "by --rules": {"--rules", "rules", "door.toml"}} {
		_, out, errs := run(t, dir, append([]string{"section"}, args...)...)
		if errs != "" || !strings.Contains(out, "FAILS: our own [our-rule]") {
			t.Errorf("%s, the shop's rule is not marked: %s\n%s", what, errs, out)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, "rules", "our-rule.rego"), []byte("package nonsense\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if status, out, _ := run(t, dir, "section", "door.toml"); status != exitUnreadable || out != "" {
		t.Errorf("with a rule that cannot be read, status %d and %q", status, out)
	}
}

// wicked tries to leave every place that a sheet's string can be written to.
const wicked = `</text></svg><script>alert(1)</script> \u001b[31m\u0007\u202e ]]> <!-- &lt; \"'><image href=//x>`

// wickedSheet sets every string that a sheet may make up to wicked ones.
const wickedSheet = `format = 1
[sheet]
title = "T W"
number = "N W"
revision = "R W"
author = "A W"
work = "restoration"
ends_as = "primed"
date = 2026-03-02
[panel]
part = "P W"
substrate = "mild steel"
area = "4 ft2"
[[zone]]
name = "Z W"
area = "1 ft2"
[product."E W"]
kind = "epoxy primer"
label = "L W"
recoat = "1 h - 24 h"
[product."C W"]
kind = "wax and grease remover"
label = "M W"
[[step]]
do = "sand"
grit = "P80"
[[step]]
do = "clean"
with = "C W"
then_wait = "15 min"
[[step]]
do = "spray"
product = "E W"
call = "K W"
then_wait = "3 days"
[[step]]
do = "spray"
product = "E W"
hardener = "H W"
then_wait = "at least 24 h"
[[step]]
do = "block"
grit = "P320"
cuts_to = "K W"
call = "cut W"
on = "Z W"
`

func TestNothingASheetSaysBecomesMoreThanWordsInADrawing(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "door.toml"), []byte(strings.ReplaceAll(wickedSheet, "W", wicked)), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		says []string
	}{
		{[]string{"section", "--as", "svg", "door.toml"}, []string{"T </text>", "zone Z </text>", "L </text>"}},
		{[]string{"section", "--as", "svg", "--after", "3", "door.toml"}, []string{"K </text>"}},
		{[]string{"clock", "--as", "svg", "door.toml"}, []string{"T </text>", "N </text>", "Z </text>", "L </text>", "C </text>"}},
	} {
		status, out, errs := run(t, dir, c.args...)
		if status != 0 {
			t.Fatalf("%v: status %d, %s", c.args, status, errs)
		}
		words := ""
		d := xml.NewDecoder(strings.NewReader(out))
		for {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%v: no XML: %v", c.args, err)
			}
			switch x := token.(type) {
			case xml.StartElement:
				if x.Name.Local == "script" || x.Name.Local == "image" {
					t.Errorf("%v: the sheet made an element <%s>", c.args, x.Name.Local)
				}
			case xml.Comment:
				t.Errorf("%v: the sheet made a comment", c.args)
			case xml.CharData:
				words += string(x) + " "
			}
		}
		if strings.ContainsAny(out, "\x1b\x07\u202e") {
			t.Errorf("%v: a control character is in the drawing", c.args)
		}
		for _, want := range c.says {
			// Lines are broken at spaces.
			if !strings.Contains(strings.Join(strings.Fields(words), ""), strings.ReplaceAll(want, " ", "")) {
				t.Errorf("%v: the drawing does not show %q", c.args, want)
			}
		}
	}
	for _, args := range [][]string{{"section", "door.toml"}, {"section", "--ascii", "door.toml"}} {
		_, out, _ := run(t, dir, args...)
		if strings.ContainsAny(out, "\x1b\x07\u202e") {
			t.Errorf("%v: a control character reaches the terminal", args)
		}
		for _, l := range strings.Split(out, "\n") {
			if n := printable.Width(l); n > 80 {
				t.Errorf("%v: %d columns: %s", args, n, l)
			}
		}
	}
	if status, out, errs := run(t, dir, "section", "--as", "png", "--scale", "0.5", "door.toml"); status != 0 || !strings.HasPrefix(out, pngSignature) {
		t.Errorf("no PNG: status %d, %s", status, errs)
	}
}

// The kept section was read line by line against the sheet before it was kept.
func TestSectionsInTheTerminalAreThoseThatWereRead(t *testing.T) {
	for name, args := range map[string][]string{
		"section.txt":       {"section", "bad/water-on-steel.toml"},
		"section-ascii.txt": {"section", "--ascii", "--after", "clear", "--zone", "rub-through", "good/spot-rub-through.toml"},
		"section.json":      {"section", "--as", "json", "bad/surfacer-on-lacquer.toml"},
	} {
		status, out, errs := run(t, examples(t), args...)
		if status != 0 || errs != "" {
			t.Fatalf("%v: status %d, %s", args, status, errs)
		}
		file := filepath.Join("testdata", "reports", name)
		if *refresh {
			if err := os.WriteFile(file, []byte(out), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if out != string(want) {
			t.Errorf("%v prints something else than %s:\n%s", args, file, out)
		}
	}
}
