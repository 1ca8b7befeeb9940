package cli

import (
	"fmt"
	"io"
	"strings"
	"sync"
	"time"
)

// When progress is shown: only of work that takes this long, and not more often.
const (
	progressAfter = time.Second
	progressEvery = 100 * time.Millisecond
)

// progress is one line on the terminal that tells how far long work is, and is
// gone when the work is done. A nil progress shows nothing. It is safe for
// concurrent use.
type progress struct {
	to    io.Writer
	say   func(done, of int) string
	since func() time.Duration // since the work began

	mu    sync.Mutex
	most  int           // the most that was done so far
	last  time.Duration // when the line was last written; 0: not yet
	width int           // columns it takes
}

// progress is the line for one piece of work: none in a pipe, with --quiet, or
// where the terminal cannot take a line back.
func (p *program) progress(quiet bool, say func(done, of int) string) *progress {
	if !p.ErrTerminal || quiet || p.Getenv("TERM") == "dumb" {
		return nil
	}
	begun := time.Now()
	return &progress{to: p.Err, say: say, since: func() time.Duration { return time.Since(begun) }}
}

// set says how much of the work is done.
func (g *progress) set(done, of int) {
	if g == nil || of == 0 {
		return
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	now := g.since()
	// Who counted first may come here last; it never goes back.
	if done < g.most || now < progressAfter || g.last > 0 && now-g.last < progressEvery {
		return
	}
	g.most, g.last = done, now
	line := g.say(done, of)
	g.width = max(g.width, len(line))
	fmt.Fprintf(g.to, "\r%-*s", g.width, line)
}

// done takes the line away.
func (g *progress) done() {
	if g == nil {
		return
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.width > 0 {
		fmt.Fprintf(g.to, "\r%s\r", strings.Repeat(" ", g.width))
		g.width = 0
	}
}

// sheetsDone counts judged sheets: judged 120 of 1,000.
func sheetsDone(done, of int) string {
	return fmt.Sprintf("judged %s of %s", grouped(done), grouped(of))
}

// shareDone tells of work that has no pieces to count.
func shareDone(what string) func(done, of int) string {
	return func(done, of int) string { return fmt.Sprintf("%s: %d %%", what, done*100/of) }
}

// grouped is a number with its thousands set apart: 1,000.
func grouped(n int) string {
	s := fmt.Sprint(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}
