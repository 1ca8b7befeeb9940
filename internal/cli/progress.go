package cli

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"
)

// patience is how long work may take before it says how far it is.
const patience = time.Second

// progress tells on a terminal how far long work is, on one line that is gone
// when the work is done. Work that is over soon says nothing, and none is said
// to a pipe or a file.
type progress struct {
	to    io.Writer // nil: to nobody
	what  string
	since func() time.Duration
	width int // of what stands on the line
}

// progress begins to count for one piece of work.
func (p *program) progress(what string) *progress {
	out := &progress{what: what}
	if f, ok := p.Err.(*os.File); ok && isTerminal(f) {
		begun := time.Now()
		out.to, out.since = f, func() time.Duration { return time.Since(begun) }
	}
	return out
}

// set says how much of the work is done.
func (g *progress) set(done, of int) {
	if g.to == nil || of == 0 || g.since() < patience {
		return
	}
	line := fmt.Sprintf("%s: %d %%", g.what, done*100/of)
	if pad := g.width - len(line); pad > 0 {
		line += strings.Repeat(" ", pad)
	}
	g.width = len(line)
	fmt.Fprint(g.to, "\r"+line)
}

// done takes the line away.
func (g *progress) done() {
	if g.width > 0 {
		fmt.Fprint(g.to, "\r"+strings.Repeat(" ", g.width)+"\r")
		g.width = 0
	}
}
