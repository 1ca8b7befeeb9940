package editor

import (
	"os"
	"path/filepath"
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

// gravest is how grave a rule's gravest diagnostic is: the lower the graver.
func gravest(ds []diagnostic, rule string) severity {
	least := severityInformation + 1
	for _, d := range ds {
		if d.Code == rule {
			least = min(least, d.Severity)
		}
	}
	return least
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
			for _, a := range actions {
				if a.Kind != actionQuickFix {
					continue
				}
				offered++
				if len(a.Diagnostics) != 1 || !slices.ContainsFunc(before, func(d diagnostic) bool { return d.Code == a.Diagnostics[0].Code }) {
					t.Errorf("%q mends %+v, which was never told", a.Title, a.Diagnostics)
					continue
				}
				rule := a.Diagnostics[0].Code
				version++
				c.change(uri, version, apply(t, text, a.Edit.Changes[uri]))
				after := c.diagnosed(uri, int32(version))
				// Gone, or no longer as grave: of two things that are missing one is there.
				if is, was := gravest(after, rule), gravest(before, rule); is <= was {
					t.Errorf("%q leaves %s as grave as it was", a.Title, rule)
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
		"shelf.toml": example(t, "shelf.toml"), "other.toml": "[package]\n", "broken.toml": head + "wear = [\n", "wrong.toml": head + "no_such = 1\n",
	} {
		uri := c.open(name, text)
		var actions []codeAction
		c.call("textDocument/codeAction", whole(uri), &actions)
		if len(actions) > 0 {
			t.Errorf("%s: offered is %+v", name, actions)
		}
	}
}
