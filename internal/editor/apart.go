package editor

import (
	"bytes"
	"context"
	"encoding/gob"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"strings"
	"sync"
	"time"

	"guidecoat/internal/rulebook"
	"guidecoat/internal/sheet"
	"guidecoat/internal/stack"
)

// A shop's own rule may be one that never comes to an end, or that eats the
// memory, and the rulebook's last remedy is to end the process that asks it. So
// that this costs a painter no more than that rule, sheets with rules of the
// shop's are judged in a process apart, which is begun again when it has died.

// errand is what a process apart is given: a stack, and of its sheet what the
// rulebook looks at beside.
type errand struct {
	Folder string // of the shop's rules
	Today  time.Time
	File   string
	House  *sheet.House
	Waived []sheet.Waiver
	Calls  map[int]string // of the steps, by number
	Doc    []byte         // the stack, as JSON
}

// answer is what it gives back.
type answer struct {
	Result rulebook.Result
	Wrong  []sheet.Problem
	Fault  string
}

func init() {
	// What an offered edit may write.
	for _, v := range []any{[]any{}, map[string]any{}, json.Number("")} {
		gob.Register(v)
	}
}

// JudgeApart is the process apart: it reads errands and writes answers until
// there are no more. It may end the process it runs in.
func JudgeApart(ctx context.Context, in io.Reader, out io.Writer, book *rulebook.Book) error {
	dec, enc := gob.NewDecoder(in), gob.NewEncoder(out)
	var h houses
	for {
		var e errand
		if err := dec.Decode(&e); err != nil {
			if errors.Is(err, io.EOF) {
				return nil
			}
			return fmt.Errorf("reading what is to be judged: %w", err)
		}
		if err := enc.Encode(judgeErrand(ctx, book, &h, e)); err != nil {
			return fmt.Errorf("writing what was judged: %w", err)
		}
	}
}

func judgeErrand(ctx context.Context, book *rulebook.Book, h *houses, e errand) (a answer) {
	defer func() {
		if fault := recover(); fault != nil {
			a = answer{Fault: fmt.Sprintf("a fault inside the program: %v", fault)}
		}
	}()
	var doc stack.Document
	if err := json.Unmarshal(e.Doc, &doc); err != nil {
		return answer{Fault: err.Error()}
	}
	sh := &sheet.Sheet{File: e.File, House: e.House, Waivers: e.Waived}
	for n := 1; n <= len(doc.Steps); n++ {
		sh.Steps = append(sh.Steps, sheet.Step{N: n, Call: e.Calls[n]})
	}
	rules := h.of(book, e.Folder)
	if rules.err != nil {
		return answer{Wrong: rulesWrong(rules.err)}
	}
	result, err := book.Judge(ctx, &doc, sh, rulebook.Options{Today: e.Today, House: rules.house})
	if err != nil {
		return answer{Fault: err.Error()}
	}
	return answer{Result: result}
}

// rulesWrong is what is wrong with a shop's rules, each with its place.
func rulesWrong(err error) []sheet.Problem {
	var broken *rulebook.RulesError
	if errors.As(err, &broken) && len(broken.Problems) > 0 {
		return broken.Problems
	}
	return []sheet.Problem{{Message: "the shop's own rules could not be read: " + err.Error()}}
}

// apart is the process apart as its server has it: one errand at a time.
type apart struct {
	start func() *exec.Cmd
	turn  chan struct{} // holds one token: whose it is may ask

	mu   sync.Mutex
	w    *worker           // nil until it is needed, and when it has died
	over bool              // no other is begun
	died map[string]string // by the state of a folder of rules: how it ended the process
}

type worker struct {
	cmd *exec.Cmd
	in  io.WriteCloser
	enc *gob.Encoder
	dec *gob.Decoder
	err *tail
}

func newApart(start func() *exec.Cmd) *apart {
	a := &apart{start: start, turn: make(chan struct{}, 1), died: map[string]string{}}
	a.turn <- struct{}{}
	return a
}

// mostApart is how long an errand may take. Each rule has its own time, after
// which the process ends itself; this is for what ends no other way.
const mostApart = 2 * time.Minute

// judge sends an errand and waits for the answer. Rules that have ended the
// process are not asked again until a file of theirs has changed.
func (a *apart) judge(ctx context.Context, e errand) (answer, error) {
	state := e.Folder + "\n" + stateOf(e.Folder)
	a.mu.Lock()
	how, dead := a.died[state]
	a.mu.Unlock()
	if dead {
		return answer{}, errors.New(how)
	}
	select {
	case <-ctx.Done():
		return answer{}, ctx.Err()
	case <-a.turn:
	}
	type outcome struct {
		answer
		err error
	}
	done := make(chan outcome, 1)
	go func() {
		ans, err := a.send(e)
		if err != nil {
			a.mu.Lock()
			a.died[state] = err.Error()
			a.mu.Unlock()
		}
		done <- outcome{ans, err}
		a.turn <- struct{}{} // the next one waits until the process has answered
	}()
	select {
	case <-ctx.Done():
		return answer{}, ctx.Err()
	case o := <-done:
		return o.answer, o.err
	}
}

// send has the process do one errand; the turn is the caller's.
func (a *apart) send(e errand) (answer, error) {
	w, err := a.worker()
	if err != nil {
		return answer{}, fmt.Errorf("the process that judges the shop's rules could not be begun: %w", err)
	}
	timer := time.AfterFunc(mostApart, func() { _ = w.cmd.Process.Kill() })
	defer timer.Stop()
	var ans answer
	if err = w.enc.Encode(e); err == nil {
		err = w.dec.Decode(&ans)
	}
	if err == nil {
		return ans, nil
	}
	a.mu.Lock()
	a.w = nil
	a.mu.Unlock()
	w.end()
	said := strings.TrimSpace(w.err.String())
	if said == "" {
		said = "the process that judges the shop's rules ended without a word"
	}
	return answer{}, errors.New(strings.TrimPrefix(said, "guidecoat: "))
}

// worker is the process, begun if there is none.
func (a *apart) worker() (*worker, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	switch {
	case a.over:
		return nil, errors.New("all is over")
	case a.w != nil:
		return a.w, nil
	}
	w, err := begin(a.start())
	if err == nil {
		a.w = w
	}
	return w, err
}

// close ends the process, and waits for who has the turn to see it.
func (a *apart) close() {
	a.mu.Lock()
	a.over = true
	if a.w != nil {
		_ = a.w.cmd.Process.Kill()
	}
	a.mu.Unlock()
	<-a.turn
	a.mu.Lock()
	defer a.mu.Unlock()
	if a.w != nil {
		a.w.end()
		a.w = nil
	}
}

func begin(cmd *exec.Cmd) (*worker, error) {
	in, err := cmd.StdinPipe()
	if err != nil {
		return nil, err
	}
	out, err := cmd.StdoutPipe()
	if err != nil {
		return nil, err
	}
	w := &worker{cmd: cmd, in: in, enc: gob.NewEncoder(in), dec: gob.NewDecoder(out), err: &tail{}}
	cmd.Stderr = w.err
	return w, cmd.Start()
}

func (w *worker) end() {
	_ = w.in.Close()
	_ = w.cmd.Process.Kill()
	_ = w.cmd.Wait()
}

// tail keeps the beginning of what a process says.
type tail struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (t *tail) Write(b []byte) (int, error) {
	const most = 4 << 10
	t.mu.Lock()
	defer t.mu.Unlock()
	t.b.Write(b[:min(len(b), max(0, most-t.b.Len()))])
	return len(b), nil
}

func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.b.String()
}

// byRules has the rulebook judge a stack, with the shop's rules where there are
// some. The problems are those of the rules, or of names that are no rule's.
func (s *server) byRules(ctx context.Context, sh *sheet.Sheet, doc *stack.Document) (rulebook.Result, []sheet.Problem, error) {
	house, folder, problems := s.houseOf(sh)
	if len(problems) > 0 {
		return rulebook.Result{}, problems, nil
	}
	if house == nil || s.apart == nil {
		result, err := s.o.Book.Judge(ctx, doc, sh, rulebook.Options{Today: s.o.Today(), House: house})
		return result, nil, err
	}
	b, err := doc.JSON()
	if err != nil {
		return rulebook.Result{}, nil, err
	}
	e := errand{Folder: folder, Today: s.o.Today(), File: sh.File, House: sh.House, Waived: sh.Waivers, Calls: map[int]string{}, Doc: b}
	for _, step := range sh.Steps {
		if step.Call != "" {
			e.Calls[step.N] = step.Call
		}
	}
	ans, err := s.apart.judge(ctx, e)
	if err == nil && ans.Fault != "" {
		err = errors.New(ans.Fault)
	}
	return ans.Result, ans.Wrong, err
}
