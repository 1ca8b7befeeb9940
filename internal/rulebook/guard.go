package rulebook

import (
	"context"
	"errors"
	"fmt"
	"os"
	"runtime"
	"runtime/metrics"
	"sync"
	"time"
)

// guard stands over a shop's rule while it is asked. A deadline alone does not
// hold: some of what a rule can do does not look up for a long time. So when a
// rule has not come back some time after it was told to stop, the process is
// ended with the rule named: better no judgement than one that hangs.
type guard struct {
	deadline time.Duration // how long a rule may take
	grace    time.Duration // how long after it was told to stop it may take to do so
	memory   uint64        // bytes it may add to the heap
	stop     func(rule, why string)
}

// Limits of a shop's rule; ours take some milliseconds and a few MB together.
const (
	houseDeadline = 2 * time.Second
	houseGrace    = 1500 * time.Millisecond
	houseMemory   = 512 << 20
	watchEvery    = 10 * time.Millisecond
)

func defaultGuard() guard {
	return guard{houseDeadline, houseGrace, houseMemory, endProcess}
}

// Guarded is the house with other bounds on each of its rules: how long one may
// take, how many bytes it may add to memory, and what to do with one that does
// not stop when told to. Zero leaves a bound as it is; stop must not return
// where the program is to be safe from such a rule.
func (h *House) Guarded(deadline time.Duration, memory uint64, stop func(rule, why string)) *House {
	g := h.guard
	if deadline > 0 {
		g.deadline, g.grace = deadline, deadline
	}
	if memory > 0 {
		g.memory = memory
	}
	if stop != nil {
		g.stop = stop
	}
	return &House{rules: h.rules, names: h.names, judge: h.judge, guard: g, apart: h.apart}
}

// endProcess ends the program with exit status 2, 'a rule could not be read'.
func endProcess(rule, why string) {
	fmt.Fprintf(os.Stderr, "guidecoat: the shop's rule %s broke: %s. Nothing was judged; mend that rule or take it out of the rules folder.\n", rule, why)
	os.Exit(2)
}

// oneAtATime: shop rules are asked one at a time in the whole process, so that
// memory that is eaten is that rule's.
var oneAtATime sync.Mutex

var (
	errTooLong = errors.New("too long")
	errTooMuch = errors.New("too much memory")
)

// stopped is the error of a rule that had to be stopped.
type stopped struct{ why string }

func (s stopped) Error() string { return s.why }

func (s stopped) Is(err error) bool { return err == errStopped }

var errStopped = errors.New("stopped")

func notEnded(deadline time.Duration) string {
	return fmt.Sprintf("it did not come to an end within %v, nor when told to stop", deadline)
}

// run asks a rule under guard. Its error says when the rule took too long or too
// much.
func (g guard) run(ctx context.Context, rule string, ask func(context.Context) error) error {
	oneAtATime.Lock()
	defer oneAtATime.Unlock()
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	done := make(chan struct{})
	var watching sync.WaitGroup
	base := heap() // before the rule can take any
	watching.Go(func() { g.watch(rule, base, done, cancel) })
	err := func() error {
		defer close(done)
		return ask(ctx)
	}()
	watching.Wait()
	if err != nil {
		switch cause := context.Cause(ctx); {
		case errors.Is(cause, errTooLong):
			return stopped{fmt.Sprintf("it did not come to an end within %v and was stopped", g.deadline)}
		case errors.Is(cause, errTooMuch):
			return stopped{fmt.Sprintf("it took more than %d MB of memory and was stopped", g.memory>>20)}
		}
	}
	return err
}

// watch tells a rule to stop when its time is over or it has eaten its memory
// beyond base, the heap it began with, and ends the process when it does not.
func (g guard) watch(rule string, base uint64, done <-chan struct{}, cancel context.CancelCauseFunc) {
	tick := time.NewTicker(watchEvery)
	defer tick.Stop()
	began := time.Now()
	var told time.Time
	why := ""
	for {
		select {
		case <-done:
			return
		case <-tick.C:
		}
		switch {
		case told.IsZero() && time.Since(began) > g.deadline:
			told, why = time.Now(), notEnded(g.deadline)
			cancel(errTooLong)
		case told.IsZero() && g.ate(base):
			told, why = time.Now(), fmt.Sprintf("it took more than %d MB of memory and did not stop when told to", g.memory>>20)
			cancel(errTooMuch)
		case !told.IsZero() && (time.Since(told) > g.grace || heap() > base+8*g.memory):
			g.stop(rule, why)
			<-done
			return
		}
	}
}

// ate says whether the heap has grown by more than the bound. What only waits
// to be collected does not count.
func (g guard) ate(base uint64) bool {
	if heap() <= base+g.memory {
		return false
	}
	runtime.GC()
	return heap() > base+g.memory
}

// heap is how many bytes the program's objects take.
func heap() uint64 {
	s := []metrics.Sample{{Name: "/memory/classes/heap/objects:bytes"}}
	metrics.Read(s)
	if s[0].Value.Kind() != metrics.KindUint64 {
		return 0
	}
	return s[0].Value.Uint64()
}
