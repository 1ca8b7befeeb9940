package editor

import (
	"encoding/json"
	"fmt"
	"os/exec"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/sourcegraph/jsonrpc2"

	"guidecoat/internal/generate"
)

func codes(ds []diagnostic) []string {
	var all []string
	for _, d := range ds {
		all = append(all, d.Code)
	}
	return all
}

func TestAConversationFromInitializeToExit(t *testing.T) {
	before := runtime.NumGoroutine()
	c := dial(t, shop(t), Options{})
	got := c.initialize(nil)
	if got.Capabilities.PositionEncoding != "utf-16" || !got.Capabilities.HoverProvider || got.ServerInfo.Name != "guidecoat" {
		t.Errorf("initialize was answered with %+v", got)
	}
	c.wait("which files it watches", func() bool { return len(c.watches) == 2 })
	uri := c.open("door.toml", example(t, "bad/water-on-steel.toml"))
	ds := c.diagnosed(uri, 1)
	i := slices.IndexFunc(ds, func(d diagnostic) bool { return d.Code == "water-on-bare-steel" })
	if i < 0 {
		t.Fatalf("water on bare steel was not told: %v", codes(ds))
	}
	if d := ds[i]; d.Severity != severityError || d.Source != "guidecoat" || d.Range.Start.Line != 29 || d.Range.End.Line != 29 ||
		len(d.Related) == 0 || !strings.Contains(d.Related[0].Message, "mild steel") || d.Related[0].Location.Range.Start.Line != 17 {
		t.Errorf("it was told as %+v", d)
	}
	if err := c.leave(); err != nil {
		t.Errorf("after shutdown and exit the server ended with %v", err)
	}
	_ = c.conn.Close()
	settled(t, before)
}

func TestMessagesInTheWrongOrderGetTheStandardAnswers(t *testing.T) {
	c := dial(t, nil, Options{})
	if code := c.refused("textDocument/hover", at("file:///x.toml", position{})); code != codeNotInitialized {
		t.Errorf("a question before initialize: %d", code)
	}
	if code := c.refused("shutdown", nil); code != codeNotInitialized {
		t.Errorf("shutdown before initialize: %d", code)
	}
	c.notify("textDocument/didOpen", json.RawMessage(`{"textDocument": {"uri": "file:///early.toml", "version": 1, "text": "x"}}`))
	c.notify("$/noSuchThing", nil)
	c.initialize(nil)
	if code := c.refused("initialize", json.RawMessage(everything+"}")); code != jsonrpc2.CodeInvalidRequest {
		t.Errorf("a second initialize: %d", code)
	}
	if code := c.refused("textDocument/noSuchThing", nil); code != jsonrpc2.CodeMethodNotFound {
		t.Errorf("an unknown method: %d", code)
	}
	if code := c.refused("textDocument/hover", at("file:///early.toml", position{})); code != jsonrpc2.CodeInvalidParams {
		t.Errorf("a question about a file that was opened before initialize: %d", code)
	}
	for _, params := range []string{`null`, `[]`, `7`, `"x"`, `{}`, `{"textDocument": 7}`, `{"textDocument": {"uri": "file:///no.toml"}, "position": {"line": -1}}`} {
		if code := c.refused("textDocument/completion", json.RawMessage(params)); code != jsonrpc2.CodeInvalidParams {
			t.Errorf("parameters %s: %d", params, code)
		}
	}
	c.notify("textDocument/didChange", json.RawMessage(`{"textDocument": {"uri": "file:///never.toml", "version": 2}, "contentChanges": [{"text": ""}]}`))
	c.wait("that the file was never opened", func() bool {
		return slices.ContainsFunc(c.messages, func(m showMessage) bool { return strings.Contains(m.Message, "never opened") })
	})
	c.notify("textDocument/didClose", json.RawMessage(`{"textDocument": {"uri": "file:///never.toml"}}`))
	c.notify("$/cancelRequest", json.RawMessage(`{"id": 12345}`))
	c.notify("$/cancelRequest", json.RawMessage(`{"id": {}}`))
	c.call("shutdown", nil, nil)
	if code := c.refused("textDocument/hover", at("file:///x.toml", position{})); code != jsonrpc2.CodeInvalidRequest {
		t.Errorf("a question after shutdown: %d", code)
	}
	c.notify("exit", nil)
	if err := c.over(); err != nil {
		t.Errorf("the server ended with %v", err)
	}
}

func TestExitWithoutShutdownAndAClientThatDiesEndTheServer(t *testing.T) {
	for _, how := range []string{"exit at once", "exit", "gone", "gone in the middle of a message"} {
		t.Run(how, func(t *testing.T) {
			before := runtime.NumGoroutine()
			c := dial(t, shop(t), Options{})
			if how != "exit at once" {
				c.initialize(nil)
				c.open("door.toml", example(t, "bad/water-on-steel.toml"))
			}
			switch how {
			case "gone":
				_ = c.conn.Close()
			case "gone in the middle of a message":
				fmt.Fprint(c.end, "Content-Length: 1000\r\n\r\n{\"jsonrpc\":")
				_ = c.conn.Close()
			default:
				c.notify("exit", nil)
			}
			if err := c.over(); err == nil {
				t.Error("the server ended as if the client had taken its leave")
			}
			_ = c.conn.Close()
			settled(t, before)
		})
	}
}

func TestTheServerEndsWithTheProcessThatBeganIt(t *testing.T) {
	process := exec.Command("sleep", "600")
	if err := process.Start(); err != nil {
		t.Skip("no process could be started: ", err)
	}
	c := dial(t, nil, Options{watchEvery: 5 * time.Millisecond})
	c.initialize(json.RawMessage(fmt.Sprintf(`{"processId": %d, "capabilities": {}}`, process.Process.Pid)))
	time.Sleep(30 * time.Millisecond)
	select {
	case err := <-c.served:
		t.Fatalf("the server ended while its client's process ran: %v", err)
	default:
	}
	_ = process.Process.Kill()
	_ = process.Wait()
	if err := c.over(); err == nil || !strings.Contains(err.Error(), "process is gone") {
		t.Errorf("the server ended with %v", err)
	}
}

func TestOddInitializationsAreUnderstoodAsFarAsTheyGo(t *testing.T) {
	for _, params := range []string{
		`{}`, `{"processId": null, "rootUri": null, "capabilities": {}}`, `{"processId": "x", "rootUri": 7, "capabilities": []}`,
		`{"capabilities": {"textDocument": {"completion": {"completionItem": {"snippetSupport": "yes"}}, "codeAction": 1}}, "workspaceFolders": [{"uri": "untitled:x"}]}`,
		`{"processId": -1, "workspaceFolders": null, "rootUri": "ftp://nowhere/", "capabilities": {}, "more": {"new": [1, 2]}}`,
	} {
		c := dial(t, shop(t), Options{})
		c.initialize(json.RawMessage(params))
		uri := c.open("door.toml", example(t, "bad/water-on-steel.toml"))
		if ds := c.diagnosed(uri, 1); !slices.Contains(codes(ds), "water-on-bare-steel") {
			t.Errorf("%s: told %v", params, codes(ds))
		}
		if err := c.leave(); err != nil {
			t.Errorf("%s: %v", params, err)
		}
	}
}

func TestANewerTextTakesTheOlderOnesPlace(t *testing.T) {
	c := connect(t, shop(t))
	bad := example(t, "bad/water-on-steel.toml")
	uri := c.open("door.toml", bad)
	const last = 40
	for v := 2; v <= last; v++ {
		text := bad
		if v == last {
			text = strings.Replace(bad, `with = "water-wash"`, `with = "degreaser"`, 1)
		}
		c.change(uri, v, text)
	}
	if ds := c.diagnosed(uri, last); slices.Contains(codes(ds), "water-on-bare-steel") {
		t.Errorf("the last text has no water in it, and %v was told", codes(ds))
	}
	c.mu.Lock()
	if !slices.IsSorted(c.versions) {
		t.Errorf("older texts were told of after newer ones: %v", c.versions)
	}
	c.mu.Unlock()
	c.notify("textDocument/didClose", map[string]any{"textDocument": map[string]any{"uri": uri}})
	c.wait("that nothing is told of a closed file", func() bool { return c.told[uri].Version == nil && len(c.told[uri].Diagnostics) == 0 })
}

func TestTheJudgingOfATextIsGivenUpForANewerOne(t *testing.T) {
	c := connect(t, shop(t))
	// What takes long to judge must not hold up what was typed since.
	uri := c.open("door.toml", generate.Sheet(7, generate.Options{Steps: 250, Zones: 3}))
	time.Sleep(50 * time.Millisecond) // it is being judged
	c.change(uri, 2, example(t, "bad/water-on-steel.toml"))
	if ds := c.diagnosed(uri, 2); !slices.Contains(codes(ds), "water-on-bare-steel") {
		t.Errorf("told was %v", codes(ds))
	}
	if err := c.leave(); err != nil {
		t.Error(err)
	}
	if !slices.Equal(c.versions, []int32{2}) {
		t.Errorf("told was of the versions %v", c.versions)
	}
}

func TestAQuestionCanBeTakenBack(t *testing.T) {
	c := connect(t, shop(t))
	uri := c.open("door.toml", example(t, "bad/color-over-filler.toml"))
	c.diagnosed(uri, 1)
	id := jsonrpc2.ID{Str: "the one", IsString: true}
	whole := map[string]any{"textDocument": map[string]any{"uri": uri}, "context": map[string]any{"diagnostics": []any{}},
		"range": span{End: position{Line: 1000}}}
	waiter, err := c.conn.DispatchCall(t.Context(), "textDocument/codeAction", whole, jsonrpc2.PickID(id))
	if err != nil {
		t.Fatal(err)
	}
	c.notify("$/cancelRequest", map[string]any{"id": "the one"})
	err = waiter.Wait(t.Context(), nil)
	if e, ok := err.(*jsonrpc2.Error); !ok || e.Code != codeRequestCancelled {
		t.Errorf("a question that was taken back was answered with %v", err)
	}
}
