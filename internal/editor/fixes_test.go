package editor

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"
)

func whole(uri string) map[string]any {
	return map[string]any{"textDocument": map[string]any{"uri": uri}, "range": span{End: position{Line: 100000}},
		"context": map[string]any{"diagnostics": []any{}}}
}

func graver(ds []diagnostic) []string {
	var all []string
	for _, d := range ds {
		if d.Severity < severityInformation {
			all = append(all, d.Code)
		}
	}
	return all
}

// weight is how much a rule has to say: what is graver weighs more.
func weight(ds []diagnostic, rule string) int {
	n := 0
	for _, d := range ds {
		if d.Code == rule {
			n += int(severityInformation-d.Severity) + 1
		}
	}
	return n
}

func TestAQuickFixThatIsAppliedTakesItsDiagnosticAway(t *testing.T) {
	names, err := filepath.Glob(filepath.Join("..", "..", "specs-examples", "bad", "*.toml"))
	if err != nil || len(names) == 0 {
		t.Fatalf("there are no bad examples: %v", err)
	}
	c := connect(t, shop(t))
	offered := 0
	for _, name := range names {
		t.Run(filepath.Base(name), func(t *testing.T) {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			text := string(b)
			uri := c.open(filepath.Base(name), text)
			before := c.diagnosed(uri, 1)
			var actions []codeAction
			c.call("textDocument/codeAction", whole(uri), &actions)
			version := 1
			for i, a := range actions {
				if slices.ContainsFunc(actions[:i], func(o codeAction) bool { return a.Edit != nil && reflect.DeepEqual(o.Edit, a.Edit) }) {
					t.Errorf("%q is offered twice", a.Title)
				}
			}
			for _, a := range actions {
				if a.Kind != actionQuickFix {
					continue
				}
				offered++
				if len(a.Diagnostics) == 0 || !slices.ContainsFunc(before, func(d diagnostic) bool { return d.Code == a.Diagnostics[0].Code }) {
					t.Errorf("%q mends %+v, which was never told", a.Title, a.Diagnostics)
					continue
				}
				rule := a.Diagnostics[0].Code
				version++
				c.change(uri, version, apply(t, text, a.Edit.Changes[uri]))
				after := c.diagnosed(uri, int32(version))
				// Gone, or no longer as grave: of two things that are missing one is there.
				if weight(after, rule) >= weight(before, rule) {
					t.Errorf("%q leaves what %s has to say as it was", a.Title, rule)
				}
				for _, d := range after {
					isNew := d.Severity < severityInformation && !slices.Contains(codes(before), d.Code)
					if decided := strings.HasSuffix(a.Title, wornYet) && builtin().Family(d.Code) == "people"; isNew && !decided {
						t.Errorf("%q brings %s", a.Title, d.Code)
					}
				}
			}
		})
	}
	if offered == 0 {
		t.Error("no quick fix was offered for any bad example")
	}
}

func TestTheWholeSheetIsMendedWhenThatIsChosen(t *testing.T) {
	c := connect(t, shop(t))
	text := example(t, "bad/water-on-steel.toml")
	uri := c.open("door.toml", text)
	if got := graver(c.diagnosed(uri, 1)); len(got) == 0 {
		t.Fatal("there is nothing to mend")
	}
	only := whole(uri)
	only["context"] = map[string]any{"diagnostics": []any{}, "only": []string{"source.fixAll"}}
	var actions []codeAction
	c.call("textDocument/codeAction", only, &actions)
	if len(actions) != 1 || actions[0].Kind != actionMendAll || actions[0].Edit != nil {
		t.Fatalf("offered is %+v", actions)
	}
	var chosen codeAction
	c.call("codeAction/resolve", actions[0], &chosen)
	if chosen.Edit == nil {
		t.Fatalf("it was worked out as %+v", chosen)
	}
	mended := apply(t, text, chosen.Edit.Changes[uri])
	c.change(uri, 2, mended)
	if got := graver(c.diagnosed(uri, 2)); len(got) > 0 {
		t.Errorf("after mending the whole sheet there is %v:\n%s", got, mended)
	}

	// What was offered for an older text is not worked out any more.
	if code := c.refused("codeAction/resolve", actions[0]); code != codeRequestFailed {
		t.Errorf("a mend of an older text: %d", code)
	}
	c.call("textDocument/codeAction", whole(uri), &actions)
	if i := slices.IndexFunc(actions, func(a codeAction) bool { return a.Kind == actionMendAll }); i >= 0 {
		t.Error("a sheet with nothing to mend is offered a mend")
	}
}

func TestAClientThatWorksNothingOutLaterGetsTheEditAtOnce(t *testing.T) {
	c := dial(t, shop(t), Options{})
	c.initialize([]byte(`{"capabilities": {}}`))
	uri := c.open("door.toml", example(t, "bad/water-on-steel.toml"))
	only := whole(uri)
	only["context"] = map[string]any{"only": []string{"source"}}
	var actions []codeAction
	c.call("textDocument/codeAction", only, &actions)
	if len(actions) != 1 || actions[0].Edit == nil {
		t.Errorf("offered is %+v", actions)
	}
}

func TestFixesAreOfferedWhereTheCursorIsAndKeepLineEnds(t *testing.T) {
	c := connect(t, shop(t))
	text := strings.ReplaceAll("# 🎨 Farbe, größer\n"+example(t, "bad/water-on-steel.toml"), "\n", "\r\n")
	uri := c.open("door.toml", text)
	c.diagnosed(uri, 1)
	ask := func(line uint32) []codeAction {
		var actions []codeAction
		q := whole(uri)
		q["range"] = span{position{Line: line}, position{Line: line}}
		c.call("textDocument/codeAction", q, &actions)
		return slices.DeleteFunc(actions, func(a codeAction) bool { return a.Kind != actionQuickFix })
	}
	if got := ask(3); len(got) > 0 {
		t.Errorf("at the sheet's head is offered %q", got[0].Title)
	}
	// The wash is step 2; its last line is as good as its first.
	line := uint32(strings.Count(text[:strings.Index(text, `with = "water-wash"`)], "\n"))
	fixes := ask(line + 1)
	if len(fixes) == 0 {
		t.Fatal("within the step nothing is offered")
	}
	after := apply(t, text, fixes[0].Edit.Changes[uri])
	if strings.Count(after, "\n") != strings.Count(after, "\r\n") {
		t.Errorf("the mend brings other line ends: %q", after)
	}
}

func TestNothingIsOfferedForAFileThatIsNoSheetOrCannotBeRead(t *testing.T) {
	c := connect(t, shop(t))
	for name, text := range map[string]string{
		"shelf.toml": example(t, "shelf.toml"), "other.toml": "[package]\n", "broken.toml": head + "wear = [\n", "wrong.toml": head + "xyzzy = 1\n",
	} {
		uri := c.open(name, text)
		var actions []codeAction
		c.call("textDocument/codeAction", whole(uri), &actions)
		if len(actions) > 0 {
			t.Errorf("%s: offered is %+v", name, actions)
		}
	}
}

func TestTheNameThatWasMeantIsOffered(t *testing.T) {
	c := connect(t, shop(t))
	for _, x := range []struct{ what, name, was, want string }{
		{"a verb", "x.toml", `do = "spary"`, `do = "spray"`},
		{"a key", "x.toml", `catl = "epoxy"`, `call = "epoxy"`},
		{"a product", "x.toml", `product = "gray-epoxy"`, `product = "grey-epoxy"`},
		{"a kind, in single quotes", "x.toml", `substrate = 'mild stel'`, `substrate = 'mild steel'`},
		{"a table", "x.toml", "[pannel]", "[panel]"},
		{"a list of tables", "x.toml", "[[zones]]", "[[zone]]"},
		{"a shelf", "x.toml", `shelf = "shelv.toml"`, `shelf = "shelf.toml"`},
		{"a kind on a shelf", "s.toml", `kind = "epoxi primer"`, `kind = "epoxy primer"`},
		{"another use's key on a shelf", "s.toml", `flim = "1 mil"`, `film = "1 mil"`},
		{"a limit of the house", "guidecoat.toml", `bare_stel_open = "4 h"`, `bare_steel_open = "4 h"`},
		{"a rule of the house", "guidecoat.toml", `too-colt = "risk"`, `too-cold = "risk"`},
	} {
		t.Run(x.what, func(t *testing.T) {
			var right string
			switch x.name {
			case "x.toml":
				right = strings.Replace(head, "substrate = \"mild steel\"", "substrate = 'mild steel'", 1)
				right = strings.Replace(right, "title", "shelf = \"shelf.toml\"\ntitle", 1)
			case "s.toml":
				right = "format = 1\n[shelf]\n[product.a]\nkind = \"epoxy primer\"\n[product.a.as.sealer]\nfilm = \"1 mil\"\n"
			default:
				right = "[house]\nshelf = \"shelf.toml\"\n[limits]\nbare_steel_open = \"4 h\"\n[grades]\ntoo-cold = \"risk\"\n"
			}
			text := strings.Replace(right, x.want, x.was, 1)
			if text == right {
				t.Fatalf("%q is not in the text", x.want)
			}
			uri := c.open(x.name, text)
			defer c.notify("textDocument/didClose", at(uri, position{}))
			if len(c.diagnosed(uri, 1)) == 0 {
				t.Fatal("nothing is wrong")
			}
			var actions []codeAction
			c.call("textDocument/codeAction", whole(uri), &actions)
			i := slices.IndexFunc(actions, func(a codeAction) bool { return apply(t, text, a.Edit.Changes[uri]) == right })
			if i < 0 {
				t.Fatalf("what was meant is not offered: %+v", actions)
			}
			if a := actions[i]; a.Kind != actionQuickFix || len(a.Diagnostics) != 1 {
				t.Errorf("it is offered as %+v", a)
			}
		})
	}
}
