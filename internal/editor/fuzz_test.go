package editor

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"guidecoat/internal/sheet"
)

// messagesSeed are conversations, a message a line, as clients have them.
var messagesSeed = []string{
	`{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"processId":null,"rootUri":null,"capabilities":{"textDocument":{"completion":{"completionItem":{"snippetSupport":true}}}}}}
{"jsonrpc":"2.0","method":"initialized","params":{}}
{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"file:///a/x.toml","languageId":"toml","version":1,"text":"format = 1\n[sheet]\ntitle = \"x\"\n[panel]\nsubstrate = \"mild steel\"\n[[step]]\ndo = \"sand\"\ngrit = \"P80\"\n"}}}
{"jsonrpc":"2.0","id":2,"method":"textDocument/hover","params":{"textDocument":{"uri":"file:///a/x.toml"},"position":{"line":6,"character":7}}}
{"jsonrpc":"2.0","id":3,"method":"textDocument/completion","params":{"textDocument":{"uri":"file:///a/x.toml"},"position":{"line":7,"character":9}}}
{"jsonrpc":"2.0","id":4,"method":"textDocument/codeAction","params":{"textDocument":{"uri":"file:///a/x.toml"},"range":{"start":{"line":0,"character":0},"end":{"line":9,"character":0}},"context":{"diagnostics":[]}}}
{"jsonrpc":"2.0","method":"$/cancelRequest","params":{"id":4}}
{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"file:///a/x.toml","version":2},"contentChanges":[{"text":"format = 1\n[[step]]\ndo = \"spr"}]}}
{"jsonrpc":"2.0","id":"five","method":"textDocument/documentSymbol","params":{"textDocument":{"uri":"file:///a/x.toml"}}}
{"jsonrpc":"2.0","id":6,"method":"textDocument/definition","params":{"textDocument":{"uri":"file:///a/x.toml"},"position":{"line":2,"character":9}}}
{"jsonrpc":"2.0","method":"textDocument/didClose","params":{"textDocument":{"uri":"file:///a/x.toml"}}}
{"jsonrpc":"2.0","id":7,"method":"shutdown"}
{"jsonrpc":"2.0","method":"exit"}`,
	`{"jsonrpc":"2.0","method":"exit"}`,
	`{"jsonrpc":"2.0","id":1,"method":"shutdown"}
{"jsonrpc":"2.0","id":-1,"method":"initialize"}
[]
null
{"id":1,"result":null}`,
	`{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"processId":2147483647,"workspaceFolders":[{"uri":"file:///"},{"uri":"untitled:1"}],"capabilities":{}}}
{"jsonrpc":"2.0","id":1,"method":"initialize","params":{}}
{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"untitled:Untitled-1","version":-5,"text":"[house]\nrules = \"..\"\n[limits]\nx"}}}
{"jsonrpc":"2.0","method":"textDocument/didOpen","params":{"textDocument":{"uri":"file:///guidecoat.toml","version":1,"text":"[house]\n[grades]\ntoo-cold = {off = true, "}}}
{"jsonrpc":"2.0","id":2,"method":"textDocument/completion","params":{"textDocument":{"uri":"file:///guidecoat.toml"},"position":{"line":4294967295,"character":4294967295}}}
{"jsonrpc":"2.0","id":3,"method":"codeAction/resolve","params":{"title":"x","kind":"x","data":{"uri":"file:///guidecoat.toml","version":1}}}
{"jsonrpc":"2.0","method":"workspace/didChangeWatchedFiles","params":{"changes":[{"uri":"file:///guidecoat.toml","type":2},{"uri":"%zz","type":3}]}}
{"jsonrpc":"2.0","method":"textDocument/didChange","params":{"textDocument":{"uri":"untitled:Untitled-1","version":2},"contentChanges":[{"range":{"start":{"line":0,"character":0},"end":{"line":0,"character":0}},"text":"x"}]}}
{"jsonrpc":"2.0","method":"textDocument/didSave","params":{"textDocument":{"uri":"untitled:Untitled-1"}}}`,
}

// FuzzMessages sends any messages in any order: the server answers to the end,
// and nothing in it breaks.
func FuzzMessages(f *testing.F) {
	for _, seed := range messagesSeed {
		f.Add([]byte(seed))
	}
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, conversation []byte) {
		here, there := net.Pipe()
		served := make(chan error, 1)
		go func() {
			served <- Serve(context.Background(), there, Options{Dir: dir, Book: builtin(), Today: func() time.Time { return theDay }})
		}()
		heard := make(chan []byte, 1)
		go func() {
			b, _ := io.ReadAll(here)
			heard <- b
		}()
		bodies := bytes.Split(conversation, []byte("\n"))
		// Whatever came before: in the end it answers, and goes.
		for _, last := range []string{initialize, `{"jsonrpc":"2.0","id":"last","method":"shutdown"}`, `{"jsonrpc":"2.0","method":"exit"}`} {
			bodies = append(bodies, []byte(last))
		}
		for _, body := range bodies {
			_ = here.SetWriteDeadline(time.Now().Add(patience))
			if _, err := io.WriteString(here, framed(string(body))); err != nil {
				break // it has gone, as a message told it to
			}
		}
		select {
		case <-served:
		case <-time.After(patience):
			t.Fatalf("the server did not come to an end after %q", conversation)
		}
		_ = here.Close()
		said := <-heard
		if bytes.Contains(said, []byte("a fault inside")) {
			t.Fatalf("something broke inside: %s", said)
		}
		if !bytes.Contains(conversation, []byte("exit")) && !bytes.Contains(said, []byte(`"id":"last"`)) {
			t.Fatalf("the last question was not answered: %s", said)
		}
	})
}

// FuzzTyping asks everything at any place of any text, as a sheet, a shelf and a
// house file.
func FuzzTyping(f *testing.F) {
	files, err := filepath.Glob(filepath.Join("..", "..", "specs-examples", "*", "*.toml"))
	if err != nil || len(files) == 0 {
		f.Fatal("there are no examples: ", err)
	}
	for _, file := range append(files, filepath.Join("..", "..", "specs-examples", "shelf.toml"), filepath.Join("..", "..", "specs-examples", "guidecoat.toml")) {
		b, err := os.ReadFile(file)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b, uint(len(b)/2))
		f.Add(b[:len(b)/2], uint(len(b)/2))
	}
	f.Add([]byte(head+"wear = [\n[[step]]\ncuts_to = [{to = \"x\", "), uint(500))
	f.Add([]byte(strings.Repeat("[[step]]\ndo = '''\n", 5)), uint(17))
	dir := f.TempDir()
	f.Fuzz(func(t *testing.T, b []byte, cursor uint) {
		ctx, cancel := context.WithCancelCause(t.Context())
		s := &server{o: Options{Dir: dir, Book: builtin(), Today: func() time.Time { return theDay }}, root: dir, ctx: ctx, end: cancel, pages: map[string]*page{}, client: clientCan{snippets: true, tree: true}}
		defer cancel(nil)
		for kind := sheet.IsOther; kind <= sheet.IsHouse; kind++ {
			p := s.newPage(versionedID{"file://" + dir + "/x.toml", 1}, b, nil)
			p.kind = kind
			close(p.done)
			q := &onDocument{Position: p.text.position(int(cursor % uint(len(b)+1)))}
			for method, ask := range requests {
				if method == "textDocument/codeAction" {
					continue // it judges, and FuzzMessages has it
				}
				answer, err := ask(s, t.Context(), p, q)
				if err != nil {
					t.Fatalf("%s at %d of %q: %v", method, cursor, b, err)
				}
				if _, err := json.Marshal(answer); err != nil {
					t.Fatalf("%s at %d of %q gave what is no JSON: %v", method, cursor, b, err)
				}
				if list, ok := answer.(completionList); ok {
					for _, item := range list.Items {
						if r := item.TextEdit.Range; r.Start.Line != r.End.Line || r.Start.Character > r.End.Character || r.Start.Line != q.Position.Line {
							t.Fatalf("at %d of %q %s is written over %v", cursor, b, item.Label, r)
						}
					}
				}
			}
		}
	})
}
