package editor

import (
	"encoding/json"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

func TestWhereAWordIsWrittenIsFound(t *testing.T) {
	files := shop(t)
	files["rules/no-red.rego"] = houseRule
	files["guidecoat.toml"] = "[house]\nshelf = [\"shelf.toml\"]\nrules = \"rules\"\n"
	c := connect(t, files)
	sheet := head + "on = [\"rub\", \"dent\"]\n[[step]]\ndo = \"clean\"\nwith = \"degreaser\"\n[[step]]\ndo = \"spray\"\nproduct = \"own-clear\"\n" +
		"[[step]]\ndo = \"sand\"\ngrit = \"P80\"\ncuts_to = \"epoxy\"\n[[waiver]]\nrule = \"no-red\"\nreason = \"x\"\nstep = \"epoxy\"\nzone = \"panel\"\n"
	for _, x := range []struct {
		what, at, file, line string // a piece of the text to stand in; where that leads
	}{
		{"a product on the shelf", `product = "grey-epoxy"`, "shelf.toml", "[product.grey-epoxy]"},
		{"a helper on the shelf", `with = "degreaser"`, "shelf.toml", "[product.degreaser]"},
		{"a product of the sheet's own", `product = "own-clear"`, "x.toml", "[product.own-clear]"},
		{"a zone", `"dent"`, "x.toml", `name = "dent"`},
		{"a zone that a step cuts", `on = ["rub"`, "x.toml", `cuts_to = [{to = "substrate", call = "rub"}]`},
		{"a call where a cut ends", `cuts_to = "epoxy"`, "x.toml", `call = "epoxy"`},
		{"a call in a waiver", `step = "epoxy"`, "x.toml", `call = "epoxy"`},
		{"the rest of the panel", `zone = "panel"`, "x.toml", "[panel]"},
		{"a rule of the shop's own", `rule = "no-red"`, "rules/no-red.rego", "# METADATA"},
		{"a kind is written nowhere", `carries = ["e-coat"]`, "", ""},
		{"a text is written nowhere", `title = "Try"`, "", ""},
	} {
		t.Run(x.what, func(t *testing.T) {
			text := strings.Replace(sheet, x.at, x.at[:len(x.at)-3]+cursor+x.at[len(x.at)-3:], 1)
			if x.what == "a zone" {
				text = strings.Replace(sheet, `, "dent"]`, `, "de`+cursor+`nt"]`, 1)
			}
			if strings.HasPrefix(x.at, "on = ") || strings.HasPrefix(x.at, "carries") {
				text = strings.Replace(sheet, x.at, x.at[:len(x.at)-4]+cursor+x.at[len(x.at)-4:], 1)
			}
			clean, where := marked(t, text)
			uri := c.open("x.toml", clean)
			var got *location
			c.call("textDocument/definition", at(uri, where), &got)
			if x.file == "" {
				if got != nil {
					t.Errorf("it leads to %+v", got)
				}
				return
			}
			if got == nil || got.URI != c.uri(x.file) {
				t.Fatalf("it leads to %+v, not to %s", got, x.file)
			}
			there := clean
			if x.file != "x.toml" {
				b, err := os.ReadFile(filepath.Join(c.dir, filepath.FromSlash(x.file)))
				if err != nil {
					t.Fatal(err)
				}
				there = string(b)
			}
			if line := strings.Split(there, "\n")[got.Range.Start.Line]; line != x.line {
				t.Errorf("it leads to the line %q, not %q", line, x.line)
			}
		})
	}
	clean, where := marked(t, "format = 1\n[sheet]\nshelf = [\"she"+cursor+"lf.toml\"]\n")
	var got *location
	c.call("textDocument/definition", at(c.open("y.toml", clean), where), &got)
	if got == nil || got.URI != c.uri("shelf.toml") {
		t.Errorf("a shelf leads to %+v", got)
	}
}

const houseRule = `# METADATA
# title: red is laid
# description: Nobody here wants red.
# custom:
#   grade: risk
#   defect: the wrong color
#   remedy: Take another color.
#   safety:
#     signal: NOTICE
#     text: Follow the safety data sheet and the local code.
#   source: [house practice]
#   limits: []
package guidecoat.house["no-red"]

import data.guidecoat.lib

verdict contains v if {
	some l in input.lays
	contains(l.name, "red")
	v := lib.verdict({"on": l.id, "step": l.step, "place": input.steps[l.step - 1].place}, {"grade": "risk", "certainty": "will", "leaned": [], "measured": null, "limit": null}, "red is laid", [])
}
`

func TestTheOutlineOfASheetNamesItsZonesCardsAndSteps(t *testing.T) {
	text := head + "[[waiver]]\nrule = \"x\"\n"
	c := connect(t, shop(t))
	uri := c.open("x.toml", text)
	var got []documentSymbol
	c.call("textDocument/documentSymbol", at(uri, position{}), &got)
	if len(got) != 1 || got[0].Name != "Try" {
		t.Fatalf("the outline is %+v", got)
	}
	var names []string
	lines := strings.Split(text, "\n")
	for _, d := range got[0].Children {
		names = append(names, d.Name+"|"+d.Detail)
		if d.SelectionRange.Start.Line < d.Range.Start.Line || d.SelectionRange.End.Line > d.Range.End.Line {
			t.Errorf("%s selects what is not in it: %+v", d.Name, d)
		}
		if !strings.HasPrefix(lines[d.Range.Start.Line], "[") {
			t.Errorf("%s begins with the line %q", d.Name, lines[d.Range.Start.Line])
		}
	}
	want := []string{"sheet|", "panel|", "dent|zone", "own-clear|urethane clear", "1 sand P80|", "2 spray grey-epoxy|epoxy", "waiver: x|"}
	if !slices.Equal(names, want) {
		t.Errorf("it names %q, not %q", names, want)
	}

	flat := dial(t, shop(t), Options{})
	flat.initialize([]byte(`{"capabilities": {}}`))
	var list []flatSymbol
	flat.call("textDocument/documentSymbol", at(flat.open("x.toml", text), position{}), &list)
	if len(list) != len(want)+1 || list[3].In != "Try" || list[3].Location.URI != flat.uri("x.toml") {
		t.Errorf("to a client that knows no tree it is %+v", list)
	}
}

func TestAShelfThatIsEditedJudgesTheSheetsThatUseItAnew(t *testing.T) {
	c := connect(t, shop(t))
	text := strings.Replace(example(t, "bad/water-on-steel.toml"), `with = "water-wash"`, `with = "degreaser"`, 1)
	door := c.open("door.toml", text)
	if ds := c.diagnosed(door, 1); slices.ContainsFunc(ds, func(d diagnostic) bool { return d.Severity == severityError }) {
		t.Fatalf("the sheet does not begin clean: %+v", ds)
	}
	c.open("other.toml", "[package]\nname = \"other\"\n")

	whole := example(t, "shelf.toml")
	shelf := c.open("shelf.toml", whole)
	c.diagnosed(shelf, 1)
	// In the editor, not on the disk, the epoxy is now to be laid thicker.
	thicker := strings.Replace(whole, "film = \"1.5-3 mil\"", "film = \"6-8 mil\"", 1)
	if thicker == whole {
		t.Fatal("the card is not as this test knows it")
	}
	c.change(shelf, 2, thicker)
	c.wait("that the film is too thin now", func() bool { return slices.Contains(codes(c.told[door].Diagnostics), "film-too-thin") })

	// A card that is wrong is told on the shelf, and in the sheet where it names it.
	c.change(shelf, 3, strings.Replace(whole, `pot_life = "8 h"`, `pot_life = "8 miles"`, 1))
	c.wait("that the sheet cannot be judged", func() bool {
		return slices.ContainsFunc(c.told[door].Diagnostics, func(d diagnostic) bool {
			return strings.Contains(d.Message, "shelf.toml cannot be used") && len(d.Related) == 1 && d.Related[0].Location.URI == shelf
		})
	})
	c.wait("the error on the shelf, once", func() bool {
		return len(c.told[shelf].Diagnostics) == 1 && strings.Contains(c.told[shelf].Diagnostics[0].Message, "miles")
	})

	// Closed without being saved: what is on the disk counts again.
	c.notify("textDocument/didClose", map[string]any{"textDocument": map[string]any{"uri": shelf}})
	c.wait("that all is well", func() bool {
		return len(c.told[shelf].Diagnostics) == 0 && !slices.ContainsFunc(c.told[door].Diagnostics, func(d diagnostic) bool { return d.Severity == severityError })
	})

	// The shelf breaks on the disk, and the client tells of it.
	if err := os.WriteFile(filepath.Join(c.dir, "shelf.toml"), []byte("[shelf]\n[product.x\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	c.notify("workspace/didChangeWatchedFiles", map[string]any{"changes": []any{map[string]any{"uri": shelf, "type": 2}}})
	c.wait("the error on the shelf that is not open", func() bool {
		return len(c.told[shelf].Diagnostics) == 1 && c.told[shelf].Diagnostics[0].Range.Start.Line == 1
	})
	c.notify("textDocument/didClose", map[string]any{"textDocument": map[string]any{"uri": door}})
	c.wait("that nothing is told once the sheet is closed", func() bool { return len(c.told[shelf].Diagnostics) == 0 })
}

func TestAHouseFileThatIsEditedJudgesItsSheetsAnew(t *testing.T) {
	files := shop(t)
	files["guidecoat.toml"] = "[house]\nshelf = [\"shelf.toml\"]\n"
	c := connect(t, files)
	door := c.open("door.toml", example(t, "bad/water-on-steel.toml"))
	c.diagnosed(door, 1)
	house := c.open("guidecoat.toml", files["guidecoat.toml"]+"[grades]\nwater-on-bare-steel = \"advice\"\n")
	graded := func(s severity) func() bool {
		return func() bool {
			return slices.ContainsFunc(c.told[door].Diagnostics, func(d diagnostic) bool { return d.Code == "water-on-bare-steel" && d.Severity == s })
		}
	}
	c.wait("the house's grade", graded(severityInformation))
	c.change(house, 2, files["guidecoat.toml"]+"[grades]\nwater-on-bare-steel = \"risky\"\n")
	c.wait("that the grade is none", func() bool {
		return len(c.told[house].Diagnostics) == 1 && strings.Contains(c.told[house].Diagnostics[0].Message, "risky")
	})
	c.change(house, 3, files["guidecoat.toml"])
	c.wait("the rule's own grade", graded(severityError))
}

func TestTheShopsOwnRulesAreJudgedAndTheirFaultsTold(t *testing.T) {
	files := shop(t)
	files["rules/no-red.rego"] = houseRule
	files["guidecoat.toml"] = "[house]\nshelf = [\"shelf.toml\"]\nrules = \"rules\"\n"
	c := connect(t, files)
	text := example(t, "bad/water-on-steel.toml") + "\n[product.barn-red]\nkind = \"urethane clear\"\nmix = \"2:1\"\n[[step]]\ndo = \"spray\"\nproduct = \"barn-red\"\n"
	door := c.open("door.toml", text)
	if ds := c.diagnosed(door, 1); !slices.Contains(codes(ds), "no-red") {
		t.Errorf("the shop's rule did not speak: %+v", ds)
	}
	broken := filepath.Join(c.dir, "rules", "no-red.rego")
	if err := os.WriteFile(broken, []byte(strings.Replace(houseRule, "input.lays", "input.lais", 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	rule := c.uri("rules/no-red.rego")
	c.notify("workspace/didChangeWatchedFiles", map[string]any{"changes": []any{map[string]any{"uri": rule, "type": 2}}})
	c.wait("what is wrong with the rule, where it is wrong", func() bool {
		return len(c.told[rule].Diagnostics) == 1 && strings.Contains(c.told[rule].Diagnostics[0].Message, "lais")
	})
}

func TestBrokenCharactersAndLineEndsAreToldWhereTheyStand(t *testing.T) {
	c := connect(t, shop(t))
	text := strings.ReplaceAll("\ufeff"+strings.Replace(example(t, "bad/water-on-steel.toml"), "new tech", "🎨 n\xffw tech", 1), "\n", "\r\n")
	// The bytes go out as they are: a client that has read a broken file does so.
	quoted, err := json.Marshal(strings.ReplaceAll(text, "\xff", "BROKEN"))
	if err != nil {
		t.Fatal(err)
	}
	uri := c.uri("door.toml")
	body := `{"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": {"textDocument": {"uri": "` + uri + `", "version": 1, "text": ` +
		strings.Replace(string(quoted), "BROKEN", "\xff", 1) + `}}}`
	if _, err := c.end.Write([]byte(framed(body))); err != nil {
		t.Fatal(err)
	}
	ds := c.diagnosed(uri, 1)
	i := slices.IndexFunc(ds, func(d diagnostic) bool { return strings.Contains(d.Message, "UTF-8") })
	if i < 0 || ds[i].Range != (span{position{7, 16}, position{7, 17}}) {
		t.Errorf("the broken character was told as %+v", ds)
	}
	i = slices.IndexFunc(ds, func(d diagnostic) bool { return d.Code == "water-on-bare-steel" })
	if i < 0 || ds[i].Range != (span{position{29, 0}, position{29, 8}}) {
		t.Errorf("the finding was told as %+v", ds)
	}
}
