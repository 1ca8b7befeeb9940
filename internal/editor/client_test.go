package editor

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"
	"unicode/utf16"

	"github.com/sourcegraph/jsonrpc2"

	"guidecoat/internal/rulebook"
)

// theDay is the day waivers are held against in these tests.
var theDay = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

// patience is how long a test waits for what must come.
const patience = 60 * time.Second

// client is a text editor as far as the server can see.
type client struct {
	tb   testing.TB
	conn *jsonrpc2.Conn
	dir  string
	end  net.Conn

	mu       sync.Mutex
	changed  *sync.Cond
	told     map[string]publishDiagnostics // the last of each URI
	versions []int32                       // of the texts that were told of, in order
	messages []showMessage
	watches  []watcher

	served chan error
}

var builtin = sync.OnceValue(func() *rulebook.Book {
	book, err := rulebook.Builtin()
	if err != nil {
		panic(err)
	}
	return book
})

// connect begins a conversation in a folder of its own, up to initialize, with
// a client that can do everything.
func connect(tb testing.TB, files map[string]string) *client {
	tb.Helper()
	c := dial(tb, files, Options{})
	c.initialize(nil)
	return c
}

func dial(tb testing.TB, files map[string]string, o Options) *client {
	tb.Helper()
	dir := tb.TempDir()
	for name, text := range files {
		if err := os.MkdirAll(filepath.Join(dir, filepath.Dir(name)), 0o700); err != nil {
			tb.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			tb.Fatal(err)
		}
	}
	here, there := net.Pipe()
	c := &client{tb: tb, dir: dir, end: here, told: map[string]publishDiagnostics{}, served: make(chan error, 1)}
	c.changed = sync.NewCond(&c.mu)
	o.Version, o.Dir, o.Book, o.Today = "test", dir, builtin(), func() time.Time { return theDay }
	go func() { c.served <- Serve(context.Background(), there, o) }()
	c.conn = jsonrpc2.NewConn(context.Background(), jsonrpc2.NewBufferedStream(here, jsonrpc2.VSCodeObjectCodec{}),
		jsonrpc2.HandlerWithError(c.hear), jsonrpc2.SetLogger(quiet{}))
	tb.Cleanup(func() { _ = c.conn.Close() })
	return c
}

// hear takes what the server says by itself.
func (c *client) hear(_ context.Context, _ *jsonrpc2.Conn, req *jsonrpc2.Request) (any, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	defer c.changed.Broadcast()
	switch req.Method {
	case "textDocument/publishDiagnostics":
		var p publishDiagnostics
		if err := json.Unmarshal(*req.Params, &p); err != nil {
			return nil, err
		}
		c.told[p.URI] = p
		if p.Version != nil {
			c.versions = append(c.versions, *p.Version)
		}
	case "window/logMessage", "window/showMessage":
		var m showMessage
		if err := json.Unmarshal(*req.Params, &m); err != nil {
			return nil, err
		}
		c.messages = append(c.messages, m)
	case "client/registerCapability":
		var r registration
		if err := json.Unmarshal(*req.Params, &r); err != nil {
			return nil, err
		}
		c.watches = r.Registrations[0].Options.Watchers
	}
	return nil, nil
}

// wait waits until something that the server says is so.
func (c *client) wait(what string, so func() bool) {
	c.tb.Helper()
	began := time.Now()
	timer := time.AfterFunc(patience, c.changed.Broadcast)
	defer timer.Stop()
	c.mu.Lock()
	defer c.mu.Unlock()
	for !so() {
		if time.Since(began) >= patience {
			c.tb.Fatalf("the server never said %s; it told %v and said %v", what, c.told, c.messages)
		}
		c.changed.Wait()
	}
}

const everything = `{"capabilities": {
	"workspace": {"didChangeWatchedFiles": {"dynamicRegistration": true}},
	"textDocument": {
		"completion": {"completionItem": {"snippetSupport": true}},
		"documentSymbol": {"hierarchicalDocumentSymbolSupport": true},
		"codeAction": {"resolveSupport": {"properties": ["edit"]}}}}`

// initialize sends initialize with further fields, written as JSON, and
// initialized.
func (c *client) initialize(more json.RawMessage) initializeResult {
	c.tb.Helper()
	params := everything + fmt.Sprintf(`, "rootUri": %q}`, c.uri(""))
	if more != nil {
		params = string(more)
	}
	var result initializeResult
	c.call("initialize", json.RawMessage(params), &result)
	c.notify("initialized", struct{}{})
	return result
}

func (c *client) call(method string, params, result any) {
	c.tb.Helper()
	if err := c.ask(method, params, result); err != nil {
		c.tb.Fatalf("%s: %v", method, err)
	}
}

func (c *client) ask(method string, params, result any) error {
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	return c.conn.Call(ctx, method, params, result)
}

// refused asks what is refused, and is the error's code.
func (c *client) refused(method string, params any) int64 {
	c.tb.Helper()
	err := c.ask(method, params, nil)
	var e *jsonrpc2.Error
	if !errors.As(err, &e) {
		c.tb.Fatalf("%s was not refused: %v", method, err)
	}
	return e.Code
}

func (c *client) notify(method string, params any) {
	c.tb.Helper()
	if err := c.conn.Notify(context.Background(), method, params); err != nil {
		c.tb.Fatalf("%s: %v", method, err)
	}
}

func (c *client) uri(name string) string {
	return "file://" + filepath.ToSlash(filepath.Join(c.dir, name))
}

func (c *client) open(name, text string) string {
	c.tb.Helper()
	uri := c.uri(name)
	c.notify("textDocument/didOpen", map[string]any{"textDocument": map[string]any{"uri": uri, "languageId": "toml", "version": 1, "text": text}})
	return uri
}

func (c *client) change(uri string, version int, text string) {
	c.tb.Helper()
	c.notify("textDocument/didChange", map[string]any{
		"textDocument": map[string]any{"uri": uri, "version": version}, "contentChanges": []any{map[string]any{"text": text}}})
}

// diagnosed waits for what is told of a version of a file.
func (c *client) diagnosed(uri string, version int32) []diagnostic {
	c.tb.Helper()
	c.wait(fmt.Sprintf("what is wrong with version %d of %s", version, uri), func() bool {
		p, ok := c.told[uri]
		return ok && p.Version != nil && *p.Version == version
	})
	c.mu.Lock()
	defer c.mu.Unlock()
	return c.told[uri].Diagnostics
}

// leave takes its leave as the protocol has it, and is what Serve then said.
func (c *client) leave() error {
	c.tb.Helper()
	c.call("shutdown", nil, nil)
	c.notify("exit", nil)
	return c.over()
}

func (c *client) over() error {
	c.tb.Helper()
	select {
	case err := <-c.served:
		return err
	case <-time.After(patience):
		c.tb.Fatal("the server did not come to an end")
		return nil
	}
}

// cursor stands in the texts of these tests where the cursor is.
const cursor = "‸"

// marked is a text without its cursor, and where that was.
func marked(tb testing.TB, text string) (string, position) {
	tb.Helper()
	before, after, found := strings.Cut(text, cursor)
	if !found {
		tb.Fatal("there is no cursor in the text")
	}
	lines := strings.Split(before, "\n")
	last := lines[len(lines)-1]
	return before + after, position{uint32(len(lines) - 1), uint32(len(utf16.Encode([]rune(last))))}
}

func at(uri string, where position) map[string]any {
	return map[string]any{"textDocument": map[string]any{"uri": uri}, "position": where}
}

// apply makes edits to a text, by an own reckoning of lines and units.
func apply(tb testing.TB, text string, edits []textEdit) string {
	tb.Helper()
	offset := func(p position) int {
		at := 0
		for range p.Line {
			next := strings.IndexByte(text[at:], '\n')
			if next < 0 {
				tb.Fatalf("there is no line %d", p.Line)
			}
			at += next + 1
		}
		count := uint32(0)
		for i, r := range text[at:] {
			if count >= p.Character {
				return at + i
			}
			count += uint32(len(utf16.Encode([]rune{r})))
		}
		return len(text)
	}
	edits = slices.Clone(edits)
	slices.SortStableFunc(edits, func(a, b textEdit) int { return offset(b.Range.Start) - offset(a.Range.Start) })
	for _, e := range edits {
		text = text[:offset(e.Range.Start)] + e.NewText + text[offset(e.Range.End):]
	}
	return text
}

// settled waits until as few goroutines run as before, or tells which do not end.
func settled(tb testing.TB, before int) {
	tb.Helper()
	for began := time.Now(); runtime.NumGoroutine() > before; time.Sleep(10 * time.Millisecond) {
		if time.Since(began) > patience {
			b := make([]byte, 1<<20)
			tb.Fatalf("%d goroutines run on, and %d ran before:\n%s", runtime.NumGoroutine(), before, b[:runtime.Stack(b, true)])
		}
	}
}

// shop is the invented shop of the examples.
func shop(tb testing.TB) map[string]string {
	tb.Helper()
	files := map[string]string{}
	for _, name := range []string{"shelf.toml", "guidecoat.toml"} {
		files[name] = example(tb, name)
	}
	return files
}

func example(tb testing.TB, name string) string {
	tb.Helper()
	b, err := os.ReadFile(filepath.Join("..", "..", "specs-examples", filepath.FromSlash(name)))
	if err != nil {
		tb.Fatal(err)
	}
	return string(b)
}
