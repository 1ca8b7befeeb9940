package editor

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"strings"
	"testing"
	"time"

	"context"

	"github.com/sourcegraph/jsonrpc2"
)

// raw talks to a server byte by byte.
type raw struct {
	tb     testing.TB
	end    net.Conn
	in     *bufio.Reader
	served chan error
}

func rawly(tb testing.TB) *raw {
	tb.Helper()
	here, there := net.Pipe()
	r := &raw{tb: tb, end: here, in: bufio.NewReader(here), served: make(chan error, 1)}
	go func() {
		r.served <- Serve(context.Background(), there, Options{Dir: tb.TempDir(), Book: builtin(), Today: func() time.Time { return theDay }})
	}()
	tb.Cleanup(func() { _ = here.Close() })
	return r
}

// send writes bytes without waiting for anybody to read them.
func (r *raw) send(b string) { go func() { _, _ = io.WriteString(r.end, b) }() }

func framed(body string) string { return fmt.Sprintf("Content-Length: %d\r\n\r\n%s", len(body), body) }

type reply struct {
	ID     json.RawMessage
	Method string
	Error  *jsonrpc2.Error
	Params showMessage
}

func (r *raw) next() reply {
	r.tb.Helper()
	_ = r.end.SetReadDeadline(time.Now().Add(patience))
	var a reply
	if err := (jsonrpc2.VSCodeObjectCodec{}).ReadObject(r.in, &a); err != nil {
		r.tb.Fatalf("no answer came: %v", err)
	}
	return a
}

const initialize = `{"jsonrpc": "2.0", "id": 1, "method": "initialize", "params": {"capabilities": {}}}`

func TestWhatIsNoMessageIsAnsweredAndTheNextOneRead(t *testing.T) {
	for _, c := range []struct {
		what, body, id string
		code           int64
	}{
		{"no JSON", `{"jsonrpc"`, "null", jsonrpc2.CodeParseError},
		{"nothing", ``, "null", jsonrpc2.CodeParseError},
		{"a batch", `[{"jsonrpc": "2.0", "id": 4, "method": "x"}]`, "null", jsonrpc2.CodeInvalidRequest},
		{"null", `null`, "null", jsonrpc2.CodeInvalidRequest},
		{"a number", `7`, "null", jsonrpc2.CodeInvalidRequest},
		{"neither request nor answer", `{"id": 5}`, "null", jsonrpc2.CodeInvalidRequest},
		{"both request and answer", `{"id": 5, "method": "x", "result": 1}`, "5", jsonrpc2.CodeInvalidRequest},
		{"a method that is no text", `{"id": 5, "method": 7}`, "null", jsonrpc2.CodeInvalidRequest},
		{"an id that is a table", `{"id": {}, "method": "x"}`, "null", jsonrpc2.CodeInvalidRequest},
		{"an id below 0", `{"id": -3, "method": "x"}`, "-3", jsonrpc2.CodeInvalidRequest},
		{"an id that is a fraction", `{"id": 1.5, "method": "x"}`, "null", jsonrpc2.CodeInvalidRequest},
		{"an answer whose error is a number", `{"id": 9, "error": 7}`, "null", jsonrpc2.CodeInvalidRequest},
		{"brackets without end", strings.Repeat("[", 100000), "null", jsonrpc2.CodeParseError},
	} {
		t.Run(c.what, func(t *testing.T) {
			r := rawly(t)
			r.send(framed(c.body) + framed(initialize))
			if a := r.next(); a.Error == nil || a.Error.Code != c.code || string(a.ID) != c.id {
				t.Errorf("it was answered with %+v (id %s); want code %d and id %s", a.Error, a.ID, c.code, c.id)
			}
			if a := r.next(); string(a.ID) != "1" || a.Error != nil {
				t.Errorf("the message after it was answered with %+v", a)
			}
		})
	}
}

func TestAnAnswerNobodyAskedForIsPassedOver(t *testing.T) {
	r := rawly(t)
	r.send(framed(`{"jsonrpc": "2.0", "id": 77, "result": null}`) + framed(`{"jsonrpc": "2.0", "id": null, "error": {"code": 1, "message": "x"}}`) + framed(initialize))
	for {
		a := r.next()
		if string(a.ID) == "1" {
			return
		}
		if a.Error == nil || a.Error.Code != jsonrpc2.CodeInvalidRequest {
			t.Errorf("it was answered with %+v", a)
		}
	}
}

func TestAGiantMessageIsPassedOverInLittleMemory(t *testing.T) {
	r := rawly(t)
	const size = mostMessage + 1
	go func() {
		fmt.Fprintf(r.end, "Content-Type: application/vscode-jsonrpc; charset=utf-8\r\ncontent-length: %d\r\n\r\n", size)
		_, _ = io.CopyN(r.end, endless{}, size)
		_, _ = io.WriteString(r.end, framed(initialize))
	}()
	if a := r.next(); a.Method != "window/logMessage" || !strings.Contains(a.Params.Message, "16 MB") {
		t.Errorf("it was not told of: %+v", a)
	}
	if a := r.next(); string(a.ID) != "1" || a.Error != nil {
		t.Errorf("the message after it was answered with %+v", a)
	}
}

type endless struct{}

func (endless) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = 'x'
	}
	return len(b), nil
}

func TestWhatIsNotFramedEndsTheConversation(t *testing.T) {
	for _, sent := range []string{
		"{\"jsonrpc\": \"2.0\"}\n", "Content-Length: -5\r\n\r\n", "Content-Length: 99999999999999999999\r\n\r\n", "Content-Length: x\r\n\r\n",
		"\r\n\r\n", "Content-Type: x\r\n\r\n", strings.Repeat("a", 2*mostHeader), strings.Repeat("a: b\r\n", mostHeader), "\x00\xff\xfe\n",
		"Content-Length: 5\r\n",
	} {
		r := rawly(t)
		go func() { _, _ = io.WriteString(r.end, sent); _ = r.end.Close() }()
		select {
		case err := <-r.served:
			// A header that is cut off in the middle may have become one.
			cut := strings.HasPrefix(sent, "{") || sent == "Content-Length: 5\r\n"
			if want := errNoFrame; !cut && !errors.Is(err, want) || cut && !errors.Is(err, errClientGone) {
				t.Errorf("%.20q ended it with %v", sent, err)
			}
		case <-time.After(patience):
			t.Fatalf("%.20q did not end the conversation", sent)
		}
	}
}
