package editor

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"sync"
	"syscall"
	"time"

	"github.com/sourcegraph/jsonrpc2"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
)

// Options say what the server serves with.
type Options struct {
	Version string
	// Dir is the working folder, for a client that names none.
	Dir string
	// House and Rules are a house file and a folder of the shop's own rules that
	// stand in for those found beside the sheets; "" for none.
	House, Rules string
	// Book is the rulebook. One rule of the shop's may end the process that asks
	// it, so that it should ask them apart; see rulebook.Book.HousesApart.
	Book *rulebook.Book
	// Today is the day that waivers are held against.
	Today func() time.Time

	// watchEvery is how often the client's process is looked for; 0 is usual.
	watchEvery time.Duration
}

// Serve talks with one client until it says exit, or is gone, or the context is
// over. The error is nil only if the client took its leave as the protocol has
// it: shutdown, then exit. The pipe is closed, and nothing is left running.
func Serve(ctx context.Context, pipe io.ReadWriteCloser, o Options) error {
	if o.Today == nil {
		o.Today = time.Now
	}
	if o.watchEvery == 0 {
		o.watchEvery = 5 * time.Second
	}
	names := map[string]string{}
	for _, name := range o.Book.Names() {
		names[name] = o.Book.Family(name)
	}
	ctx, cancel := context.WithCancelCause(ctx)
	s := &server{
		o: o, names: names, ctx: ctx, end: cancel, begun: make(chan struct{}), pages: map[string]*page{}, asked: map[jsonrpc2.ID]context.CancelFunc{},
		slots: make(chan struct{}, max(1, runtime.GOMAXPROCS(0))), told: map[string][]diagnostic{}, says: map[string]said{},
	}
	defer s.houses.close()
	st := newStream(pipe, func(why string) { s.log(messageWarning, why) }, func(err error) { s.end(err) })
	s.conn = jsonrpc2.NewConn(ctx, st, s, jsonrpc2.SetLogger(quiet{}))
	close(s.begun)
	select {
	case <-s.conn.DisconnectNotify():
	case <-ctx.Done():
	}
	cancel(nil)
	_ = s.conn.Close() // it may be closed already, and says so
	<-st.closed
	s.wait()
	switch cause := context.Cause(ctx); {
	case errors.Is(cause, errTookLeave):
		return nil
	case cause == nil || errors.Is(cause, context.Canceled):
		return errClientGone
	default:
		return cause
	}
}

// lastWork is how long what still runs has to look up once all is over. What
// reads a monstrous sheet does not look up; it ends with the program.
const lastWork = 5 * time.Second

func (s *server) wait() {
	s.working.Lock()
	s.over = true
	s.working.Unlock()
	done := make(chan struct{})
	go func() {
		s.work.Wait()
		close(done)
	}()
	select {
	case <-done:
	case <-time.After(lastWork):
	}
}

var (
	errClientGone = errors.New("the client went without taking its leave (shutdown, then exit)")
	errTookLeave  = errors.New("the client took its leave")
)

// quiet drops what the library would log: its client is told what matters.
type quiet struct{}

func (quiet) Printf(string, ...any) {}

// state is how far the conversation has come.
type state int

const (
	waiting  state = iota // for initialize
	running               // from initialize on
	shutDown              // from shutdown on
)

// server is one conversation. Messages come in one at a time and in order;
// what takes time is done beside, on the page as it then was.
type server struct {
	o     Options
	names map[string]string // the built-in rules, each with its family
	conn  *jsonrpc2.Conn
	ctx   context.Context
	end   context.CancelCauseFunc

	working sync.Mutex
	work    sync.WaitGroup // everything that runs beside
	over    bool           // nothing more is begun

	begun chan struct{} // closed once conn is there

	// Only the handler of messages touches these.
	state  state
	client clientCan

	mu      sync.Mutex
	root    string   // working folder, absolute
	folders []string // the client's others
	pages   map[string]*page
	count   uint64 // pages made so far
	asked   map[jsonrpc2.ID]context.CancelFunc

	slots  chan struct{} // one for each judging that may run at a time
	houses houses

	telling sync.Mutex // what stands below, and the order of what is told
	told    map[string][]diagnostic
	says    map[string]said
}

// clientCan is what the client is able to do, as far as it matters.
type clientCan struct {
	snippets, tree, resolve, watch bool
}

// mostAsked is how many requests may be in the works at a time.
const mostAsked = 256

// Handle takes one message. It is called for one after the other.
func (s *server) Handle(_ context.Context, conn *jsonrpc2.Conn, req *jsonrpc2.Request) {
	<-s.begun
	defer s.rescue(req)
	if req.Notif {
		s.notified(req)
		return
	}
	switch {
	case s.state == waiting && req.Method != "initialize":
		s.refuse(req, codeNotInitialized, "the first request is initialize, and it has not come yet")
	case s.state == shutDown:
		s.refuse(req, jsonrpc2.CodeInvalidRequest, "after shutdown comes exit, and nothing else")
	case req.Method == "initialize":
		s.initialize(req)
	case req.Method == "shutdown":
		s.state = shutDown
		s.reply(req, nil)
	default:
		s.request(req)
	}
}

// rescue tells of a fault inside, so that it costs one message and no more.
func (s *server) rescue(req *jsonrpc2.Request) {
	if fault := recover(); fault != nil {
		s.log(messageError, fmt.Sprintf("a fault inside the program, at %s: %v; please report the file that did this", req.Method, fault))
		if !req.Notif {
			s.refuse(req, jsonrpc2.CodeInternalError, fmt.Sprintf("a fault inside the program: %v", fault))
		}
	}
}

func (s *server) reply(req *jsonrpc2.Request, result any) {
	_ = s.conn.Reply(s.ctx, req.ID, result) // a client that is gone needs no answer
}

func (s *server) refuse(req *jsonrpc2.Request, code int64, why string) {
	_ = s.conn.ReplyWithError(s.ctx, req.ID, &jsonrpc2.Error{Code: code, Message: why})
}

// log writes to the client's log.
func (s *server) log(kind messageKind, message string) {
	<-s.begun
	_ = s.conn.Notify(s.ctx, "window/logMessage", showMessage{kind, message})
}

// params reads a message's parameters; false if they are none, and the client
// has been told.
func (s *server) params(req *jsonrpc2.Request, into any) bool {
	raw := json.RawMessage("null")
	if req.Params != nil {
		raw = *req.Params
	}
	err := json.Unmarshal(raw, into)
	if err == nil {
		return true
	}
	if !req.Notif {
		s.refuse(req, jsonrpc2.CodeInvalidParams, fmt.Sprintf("the parameters of %s are not as they should be: %v", req.Method, err))
	} else {
		s.log(messageWarning, fmt.Sprintf("the parameters of %s are not as they should be: %v", req.Method, err))
	}
	return false
}

func (s *server) initialize(req *jsonrpc2.Request) {
	var p initializeParams
	switch {
	case s.state != waiting:
		s.refuse(req, jsonrpc2.CodeInvalidRequest, "initialize has come already")
		return
	case !s.params(req, &p):
		return
	}
	s.state = running
	s.client = clientCan{
		snippets: p.Capabilities.TextDocument.Completion.CompletionItem.SnippetSupport,
		tree:     p.Capabilities.TextDocument.DocumentSymbol.Hierarchical,
		watch:    p.Capabilities.Workspace.DidChangeWatchedFiles.DynamicRegistration,
	}
	for _, property := range p.Capabilities.TextDocument.CodeAction.ResolveSupport.Properties {
		s.client.resolve = s.client.resolve || property == "edit"
	}
	s.workFolders(p)
	if p.ProcessID != nil {
		s.aside(func() { s.watch(*p.ProcessID) })
	}
	s.aside(s.warm)
	s.reply(req, initializeResult{
		ServerInfo: serverInfo{"guidecoat", s.o.Version},
		Capabilities: capabilities{
			PositionEncoding: "utf-16",
			// The whole text each time: a sheet is small, and what a client and
			// this program take the text to be can never drift apart.
			TextDocumentSync: syncOptions{OpenClose: true, Change: syncWhole, Save: true},
			HoverProvider:    true, DefinitionProvider: true, SymbolProvider: true,
			CompletionProvider: completionOptions{[]string{`"`, "'", "[", "{", "=", " ", ","}},
			CodeActionProvider: codeActionOptions{[]string{actionQuickFix, actionMendAll}, true},
		},
	})
}

// workFolders takes the client's folders: the first is the working folder.
func (s *server) workFolders(p initializeParams) {
	var all []string
	for _, f := range p.Folders {
		all = append(all, pathOf(f.URI))
	}
	if len(all) == 0 && p.RootURI != nil {
		all = append(all, pathOf(*p.RootURI))
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.root = s.o.Dir
	found := false
	for _, folder := range all {
		if folder == "" {
			continue
		}
		if !found {
			s.root, found = folder, true
		} else {
			s.folders = append(s.folders, folder)
		}
	}
	if abs, err := filepath.Abs(s.root); err == nil {
		s.root = abs
	}
}

// run runs something beside the messages, unless all is over.
func (s *server) run(f func()) {
	s.working.Lock()
	defer s.working.Unlock()
	if !s.over {
		s.work.Go(f)
	}
}

// aside runs what takes time beside the messages.
func (s *server) aside(f func()) {
	s.run(func() {
		defer func() {
			if fault := recover(); fault != nil {
				s.log(messageError, fmt.Sprintf("a fault inside the program: %v; please report the file that did this", fault))
			}
		}()
		f()
	})
}

// watch ends the conversation when the process that began it is gone without
// closing the pipe.
func (s *server) watch(process int) {
	tick := time.NewTicker(s.o.watchEvery)
	defer tick.Stop()
	for {
		select {
		case <-s.ctx.Done():
			return
		case <-tick.C:
			if !alive(process) {
				s.end(errors.New("the client's process is gone"))
				return
			}
		}
	}
}

// alive tells whether there is a process of that number. Where a system cannot
// be asked, there is.
func alive(process int) bool {
	p, err := os.FindProcess(process)
	if err != nil || process <= 0 {
		return process <= 0 // 0 and below name no one process
	}
	if runtime.GOOS == "windows" {
		return true
	}
	err = p.Signal(syscall.Signal(0))
	return err == nil || errors.Is(err, os.ErrPermission)
}

func (s *server) notified(req *jsonrpc2.Request) {
	if req.Method == "exit" {
		if s.state == shutDown {
			s.end(errTookLeave)
		} else {
			s.end(errClientGone)
		}
		return
	}
	if s.state != running {
		return
	}
	switch req.Method {
	case "initialized":
		if s.client.watch {
			s.aside(s.watchFiles)
		}
	case "$/cancelRequest":
		var p struct {
			ID jsonrpc2.ID `json:"id"`
		}
		if s.params(req, &p) {
			s.mu.Lock()
			cancel := s.asked[p.ID]
			s.mu.Unlock()
			if cancel != nil {
				cancel()
			}
		}
	case "textDocument/didOpen":
		var p didOpen
		if s.params(req, &p) {
			s.written(p.TextDocument.versionedID, []byte(p.TextDocument.Text), 0)
		}
	case "textDocument/didChange":
		s.changed(req)
	case "textDocument/didClose":
		var p onDocument
		if s.params(req, &p) {
			s.closed(p.TextDocument.URI)
		}
	case "textDocument/didSave":
		var p onDocument
		if s.params(req, &p) {
			s.touched(pathOf(p.TextDocument.URI))
		}
	case "workspace/didChangeWatchedFiles":
		var p watchedFiles
		if s.params(req, &p) {
			for _, c := range p.Changes {
				s.touched(pathOf(c.URI))
			}
		}
	}
}

func (s *server) changed(req *jsonrpc2.Request) {
	var p didChange
	if !s.params(req, &p) || len(p.ContentChanges) == 0 {
		return
	}
	last := p.ContentChanges[len(p.ContentChanges)-1]
	if last.Range != nil {
		s.log(messageError, "a change came in part, and the whole text was asked for; close the file and open it again")
		return
	}
	before := s.page(p.TextDocument.URI)
	if before == nil {
		s.log(messageWarning, "a file was changed that was never opened: "+p.TextDocument.URI)
		return
	}
	after := debounce
	if time.Since(before.began) > 4*debounce {
		after = 0 // the first letter after a while: it may be the only one
	}
	s.written(p.TextDocument, []byte(last.Text), after)
}

// watchFiles asks the client to tell of files that change on the disk.
func (s *server) watchFiles() {
	_ = s.conn.Call(s.ctx, "client/registerCapability", registration{[]registrationOf{{
		ID: "files", Method: "workspace/didChangeWatchedFiles",
		Options: watchOptions{[]watcher{{"**/*.toml"}, {"**/*.rego"}}},
	}}}, nil) // a client that will not still saves
}

// requests are what may be asked about a file, on the page as it was when the
// question came.
var requests = map[string]func(*server, context.Context, *page, *onDocument) (any, error){
	"textDocument/hover":          (*server).hover,
	"textDocument/completion":     (*server).complete,
	"textDocument/definition":     (*server).define,
	"textDocument/documentSymbol": (*server).outline,
	"textDocument/codeAction":     (*server).actions,
}

// request answers beside the messages that come after it.
func (s *server) request(req *jsonrpc2.Request) {
	var answer func(context.Context) (any, error)
	if req.Method == "codeAction/resolve" {
		var a codeAction
		if !s.params(req, &a) {
			return
		}
		answer = func(ctx context.Context) (any, error) { return s.resolve(ctx, a) }
	} else {
		f := requests[req.Method]
		if f == nil {
			s.refuse(req, jsonrpc2.CodeMethodNotFound, fmt.Sprintf("there is no method %q here", req.Method))
			return
		}
		var p onDocument
		if !s.params(req, &p) {
			return
		}
		page := s.page(p.TextDocument.URI)
		if page == nil {
			s.refuse(req, jsonrpc2.CodeInvalidParams, fmt.Sprintf("the file %q is not open", p.TextDocument.URI))
			return
		}
		answer = func(ctx context.Context) (any, error) { return f(s, ctx, page, &p) }
	}
	ctx, cancel := context.WithCancel(s.ctx)
	s.mu.Lock()
	busy := len(s.asked) >= mostAsked
	if !busy {
		s.asked[req.ID] = cancel
	}
	s.mu.Unlock()
	if busy {
		cancel()
		s.refuse(req, codeRequestFailed, "too much is asked at once; ask again")
		return
	}
	s.run(func() {
		defer s.rescue(req)
		defer func() {
			cancel()
			s.mu.Lock()
			delete(s.asked, req.ID)
			s.mu.Unlock()
		}()
		result, err := answer(ctx)
		switch {
		case ctx.Err() != nil:
			s.refuse(req, codeRequestCancelled, "the question was taken back")
		case err != nil:
			s.refuse(req, codeRequestFailed, err.Error())
		default:
			s.reply(req, result)
		}
	})
}

// reader reads files as they stand in the open pages, and on the disk where
// they are not open. note is told of every path that is asked for.
func (s *server) reader(note func(path string)) *sheet.Reader {
	s.mu.Lock()
	defer s.mu.Unlock()
	return sheet.NewReader(sheet.Options{
		Root: s.root, Folders: s.folders, House: s.o.House, Rules: s.names,
		Text: func(path string) ([]byte, bool) {
			if note != nil {
				note(path)
			}
			return s.openText(path)
		},
	})
}
