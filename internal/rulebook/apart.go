package rulebook

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
	"sync"
	"time"

	"github.com/open-policy-agent/opa/v1/ast"

	"guidecoat/internal/stack"
)

// A shop's rule is a program that nobody but the shop has looked at. What it can
// reach is bounded when it is compiled; how long it runs and how much it takes
// is not: one call may ask for more memory than there is, and then the whole
// process is lost without a word. So the program asks a shop's rules in a
// process of its own beside it, which is held to a bound of memory by the system
// and is ended when a rule does not come back. The rule is named, the others are
// asked by the next such process, and the sheet is never taken for clean.
//
// The two speak JSON over the child's standard streams: first the files of the
// rules, then for each stack the names of the rules and the stack, and back for
// each rule that it is asked and what it said.

// HousesApart has the shop's rules of every house loaded from now on asked in
// child processes that start gives; such a process must call ServeApart with
// its standard streams. No process is started for a shop without rules. With
// nil they are asked in this process, as they are at first.
func (b *Book) HousesApart(start func() *exec.Cmd) {
	b.apart.Store(&start)
}

// toChild is what the child is sent: the first time the rules, then a stack.
type toChild struct {
	Files    []houseFile     `json:"files,omitempty"`
	Deadline time.Duration   `json:"deadline,omitempty"`
	Grace    time.Duration   `json:"grace,omitempty"`
	Memory   uint64          `json:"memory,omitempty"`
	Rules    []string        `json:"rules,omitempty"`
	Stack    json.RawMessage `json:"stack,omitempty"`
}

// fromChild is what the child sends: that a rule is asked, what it said or how
// it broke, and that all have been asked.
type fromChild struct {
	Rule    string          `json:"rule,omitempty"`
	Asked   bool            `json:"asked,omitempty"`
	Said    json.RawMessage `json:"said,omitempty"`
	Broke   string          `json:"broke,omitempty"`
	Stopped bool            `json:"stopped,omitempty"` // it had to be: it is not asked again
	Done    bool            `json:"done,omitempty"`
	Fault   string          `json:"fault,omitempty"` // of the child itself
}

const (
	childStarts = time.Minute            // how long it may take to compile the rules and read a stack
	childAnswer = 250 * time.Millisecond // how much later than it should a child may tell that a rule was stopped
	childIdle   = time.Minute            // a child nobody has asked for so long is let go
	saidMost    = 32 << 20               // bytes of what one rule may say
)

// asker asks the rules of one house in a child process.
type asker struct {
	start func() *exec.Cmd
	files []houseFile

	// turn holds one token: whose it is may use what stands below.
	turn    chan struct{}
	child   *child
	idle    *time.Timer
	stopped map[string]string // rules that had to be stopped, and why

	mu   sync.Mutex
	stop context.CancelFunc // of the asking under way
}

func newAsker(start func() *exec.Cmd, files []houseFile) *asker {
	a := &asker{start: start, files: files, turn: make(chan struct{}, 1), stopped: map[string]string{}, stop: func() {}}
	a.turn <- struct{}{}
	return a
}

// word is what one rule said, or how it broke.
type word struct {
	rule  string
	said  ast.Value
	fault error
}

// raise asks the named rules about a stack and gives what each said, once each.
// When the context is over it comes back at once; what the child is asking goes
// on to its end or its bound, heard by nobody, and the next sheet waits for it:
// to begin another child takes longer than most rules do.
func (a *asker) raise(ctx context.Context, doc *stack.Document, names []string, g guard) ([]word, error) {
	text, err := doc.JSON()
	if err != nil {
		return nil, err
	}
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case <-a.turn:
	}
	work, stop := context.WithCancel(context.WithoutCancel(ctx))
	a.mu.Lock()
	a.stop = stop
	a.mu.Unlock()
	type outcome struct {
		words []word
		err   error
	}
	done := make(chan outcome, 1)
	go func() {
		var o outcome
		o.words, o.err = a.askAll(work, text, names, g)
		stop()
		a.turn <- struct{}{}
		done <- o
	}()
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case o := <-done:
		return o.words, o.err
	}
}

// close ends the asking under way, if there is one, and the child.
func (a *asker) close() {
	a.mu.Lock()
	a.stop()
	a.mu.Unlock()
	<-a.turn
	a.letGo()
	a.turn <- struct{}{}
}

// askAll asks rules of as many children as it takes; the turn is the caller's.
func (a *asker) askAll(ctx context.Context, text []byte, names []string, g guard) ([]word, error) {
	var words []word
	heard := func(rule string, said ast.Value, fault error) { words = append(words, word{rule, said, fault}) }
	var left []string
	for _, name := range names {
		if why, ok := a.stopped[name]; ok {
			heard(name, nil, errors.New(why)) // once is enough
			continue
		}
		left = append(left, name)
	}
	for unheard := len(left) + 1; len(left) > 0; {
		if len(left) == unheard {
			return nil, errors.New("the shop's rules could not be asked: the process that asks them ends again and again")
		}
		unheard = len(left)
		var err error
		if left, err = a.ask(ctx, text, left, g, heard); err != nil {
			return nil, err
		}
	}
	return words, nil
}

// ask has one child ask rules, and gives those that are still to be asked when
// it is gone.
func (a *asker) ask(ctx context.Context, text []byte, left []string, g guard, heard func(string, ast.Value, error)) ([]string, error) {
	c, err := a.running(g)
	if err != nil {
		return left, fmt.Errorf("the shop's rules could not be asked: %w", err)
	}
	c.hears <- toChild{Rules: left, Stack: text}
	current := ""
	late := time.NewTimer(childStarts)
	defer late.Stop()
	gone := func(why string) ([]string, error) {
		a.letGo()
		if current == "" {
			return left, nil
		}
		a.stopped[current] = why
		heard(current, nil, errors.New(why))
		return slices.DeleteFunc(left, func(n string) bool { return n == current }), nil
	}
	for {
		select {
		case <-ctx.Done():
			a.letGo()
			return left, ctx.Err()
		case <-late.C:
			if current == "" {
				a.letGo()
				return left, fmt.Errorf("the shop's rules could not be asked: they were not ready within %v", childStarts)
			}
			return gone(notEnded(g.deadline))
		case m, ok := <-c.says:
			switch {
			case !ok:
				a.letGo() // after which it has said its last words
				return gone(c.lastWords(g))
			case m.Fault != "":
				a.letGo()
				return left, errors.New("the shop's rules could not be asked: " + m.Fault)
			case m.Done:
				a.idle = time.AfterFunc(childIdle, a.rest)
				return nil, nil
			case m.Asked:
				current = m.Rule
				late.Reset(g.deadline + g.grace + childAnswer)
			case m.Stopped:
				current = m.Rule
				return gone(m.Broke)
			default:
				if said, err := m.value(); m.Broke != "" {
					heard(m.Rule, nil, errors.New(m.Broke))
				} else {
					heard(m.Rule, said, err)
				}
				left = slices.DeleteFunc(slices.Clone(left), func(n string) bool { return n == m.Rule })
				current = ""
				late.Reset(childStarts)
			}
		}
	}
}

// value is the set of verdicts that a rule gave.
func (m fromChild) value() (ast.Value, error) {
	v, err := ast.ValueFromReader(bytes.NewReader(m.Said))
	if err != nil {
		return nil, fmt.Errorf("what it said cannot be read: %w", err)
	}
	list, ok := v.(*ast.Array)
	if !ok {
		return v, nil
	}
	set := ast.NewSet()
	list.Foreach(func(t *ast.Term) { set.Add(t) })
	return set, nil
}

// child is one process that asks rules.
type child struct {
	cmd   *exec.Cmd
	in    io.Closer
	hears chan toChild   // what is still to be sent
	says  chan fromChild // closed when it says no more
	errs  *ending
}

// running is the child, started where there is none.
func (a *asker) running(g guard) (*child, error) {
	if a.idle != nil {
		a.idle.Stop()
	}
	if a.child != nil {
		return a.child, nil
	}
	c := &child{cmd: a.start(), hears: make(chan toChild, 2), says: make(chan fromChild), errs: &ending{}}
	c.cmd.Stderr = c.errs
	in, err := c.cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	c.in = in
	out, err := c.cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	if err := c.cmd.Start(); err != nil {
		return nil, err
	}
	go func() {
		defer close(c.says)
		for d := json.NewDecoder(out); ; {
			var m fromChild
			if d.Decode(&m) != nil {
				return
			}
			c.says <- m
		}
	}()
	go func() {
		e := json.NewEncoder(in)
		for m := range c.hears {
			_ = e.Encode(m) // what hinders it shows in what comes back: nothing
		}
	}()
	c.hears <- toChild{Files: a.files, Deadline: g.deadline, Grace: g.grace, Memory: g.memory}
	a.child = c
	return c, nil
}

// letGo ends the child.
func (a *asker) letGo() {
	c := a.child
	a.child = nil
	if c == nil {
		return
	}
	close(c.hears)
	c.in.Close()
	_ = c.cmd.Process.Kill()
	go func() {
		for range c.says { // whatever it said last is nobody's any more
		}
	}()
	_ = c.cmd.Wait()
}

// rest lets a child go that nobody has asked anything for a while.
func (a *asker) rest() {
	select {
	case <-a.turn:
		a.letGo()
		a.turn <- struct{}{}
	default: // it is being asked
	}
}

// lastWords is why a child ended by itself.
func (c *child) lastWords(g guard) string {
	switch s := c.errs.String(); {
	case strings.Contains(s, "out of memory"), strings.Contains(s, "cannot allocate memory"):
		return fmt.Sprintf("it asked for more memory than it may have (%d MB)", g.memory>>20)
	case strings.Contains(s, "stack overflow"), strings.Contains(s, "stack exceeds"):
		return "it calls itself without end"
	}
	return "it ended the process that asked it"
}

// ending keeps the beginning of what is written to it: there a crash says why.
type ending struct {
	mu   sync.Mutex
	text []byte
}

func (e *ending) Write(p []byte) (int, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	e.text = append(e.text, p[:min(len(p), 4096-len(e.text))]...)
	return len(p), nil
}

func (e *ending) String() string {
	e.mu.Lock()
	defer e.mu.Unlock()
	return string(e.text)
}

// ServeApart asks a shop's rules for the process that started this one, and
// ends when that closes in. It is called in a process of its own: a rule that
// does not stop when told to ends it.
func ServeApart(in io.Reader, out io.Writer) error {
	d := json.NewDecoder(in)
	var mu sync.Mutex
	e := json.NewEncoder(out)
	say := func(m fromChild) {
		mu.Lock()
		defer mu.Unlock()
		_ = e.Encode(m) // nobody listens: the next reading ends this
	}
	var first toChild
	if err := d.Decode(&first); err != nil {
		return fmt.Errorf("reading the shop's rules: %w", err)
	}
	b, err := Builtin()
	if err != nil {
		return err
	}
	h, err := b.houseOf(first.Files)
	if err != nil {
		say(fromChild{Fault: err.Error()})
		return err
	}
	h.guard = guard{first.Deadline, first.Grace, first.Memory, func(rule, why string) {
		say(fromChild{Rule: rule, Broke: why, Stopped: true})
		os.Exit(2)
	}}
	for {
		var m toChild
		if err := d.Decode(&m); err != nil {
			if errors.Is(err, io.EOF) {
				return nil
			}
			return fmt.Errorf("reading a stack: %w", err)
		}
		input, err := ast.ValueFromReader(bytes.NewReader(m.Stack))
		if err != nil {
			return fmt.Errorf("reading a stack: %w", err)
		}
		m.Stack = nil
		release := boundMemory(2 * first.Memory)
		for _, name := range m.Rules {
			say(fromChild{Rule: name, Asked: true})
			say(h.answer(name, input))
		}
		release()
		say(fromChild{Done: true})
	}
}

// answer asks one rule and puts what it said into a message.
func (h *House) answer(name string, input ast.Value) fromChild {
	said, err := h.askOne(context.Background(), name, input)
	if err != nil {
		return fromChild{Rule: name, Broke: evalFault(err), Stopped: errors.Is(err, errStopped)}
	}
	if said == nil {
		return fromChild{Rule: name, Said: json.RawMessage("null")}
	}
	raw, err := ast.JSON(said)
	var text []byte
	if err == nil {
		text, err = json.Marshal(raw)
	}
	switch {
	case err != nil:
		return fromChild{Rule: name, Broke: "what it said cannot be written: " + err.Error()}
	case len(text) > saidMost:
		return fromChild{Rule: name, Broke: fmt.Sprintf("it gives verdicts of more than %d MB", saidMost>>20)}
	}
	return fromChild{Rule: name, Said: text}
}
