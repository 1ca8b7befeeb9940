package rulebook

import (
	"context"
	"errors"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"
	"time"
)

// deaf runs until let go, whatever it is told: some built-ins do.
func deaf(release <-chan struct{}) func(context.Context) error {
	return func(context.Context) error {
		<-release
		return nil
	}
}

func TestARuleThatDoesNotStopEndsTheProcessAndIsNamed(t *testing.T) {
	release := make(chan struct{})
	var rule, why string
	g := guard{deadline: 20 * time.Millisecond, grace: 20 * time.Millisecond, memory: 1 << 30, stop: func(r, w string) {
		rule, why = r, w
		close(release)
	}}
	if err := g.run(context.Background(), "no-chrome", deaf(release)); err != nil {
		t.Errorf("got %v", err)
	}
	if rule != "no-chrome" || !strings.Contains(why, "nor when told to stop") {
		t.Errorf("stopped %q: %q", rule, why)
	}
}

func TestARuleThatStopsWhenToldEndsNothing(t *testing.T) {
	g := guard{deadline: 20 * time.Millisecond, grace: time.Minute, memory: 1 << 30, stop: func(r, w string) { t.Errorf("%s: %s", r, w) }}
	err := g.run(context.Background(), "x", func(ctx context.Context) error {
		<-ctx.Done()
		return ctx.Err()
	})
	if err == nil || !strings.Contains(err.Error(), "did not come to an end within 20ms") {
		t.Errorf("got %v", err)
	}
}

func TestARuleThatEatsMemoryIsTold(t *testing.T) {
	g := guard{deadline: time.Minute, grace: time.Minute, memory: 16 << 20, stop: func(r, w string) { t.Errorf("%s: %s", r, w) }}
	var kept [][]byte
	err := g.run(context.Background(), "x", func(ctx context.Context) error {
		for ctx.Err() == nil && len(kept) < 1000 {
			kept = append(kept, make([]byte, 1<<20))
			time.Sleep(time.Millisecond)
		}
		return ctx.Err()
	})
	if err == nil || !strings.Contains(err.Error(), "more than 16 MB") || len(kept) == 1000 {
		t.Errorf("after %d MB: %v", len(kept), err)
	}
}

func TestWhatOnlyWaitsToBeCollectedIsNotEaten(t *testing.T) {
	g := guard{deadline: time.Minute, grace: time.Minute, memory: 64 << 20, stop: func(r, w string) { t.Errorf("%s: %s", r, w) }}
	err := g.run(context.Background(), "x", func(ctx context.Context) error {
		for range 300 {
			b := make([]byte, 1<<20)
			b[0] = 1
			if ctx.Err() != nil {
				return ctx.Err()
			}
		}
		return nil
	})
	if err != nil {
		t.Errorf("got %v", err)
	}
}

func TestAFaultOfARuleIsHandedOn(t *testing.T) {
	odd := errors.New("odd")
	if err := defaultGuard().run(context.Background(), "x", func(context.Context) error { return odd }); !errors.Is(err, odd) {
		t.Errorf("got %v", err)
	}
}

func TestAPanicUnderGuardStopsTheWatchToo(t *testing.T) {
	func() {
		defer func() { _ = recover() }()
		_ = defaultGuard().run(context.Background(), "x", func(context.Context) error { panic("odd") })
	}()
	// The next rule is asked: nothing is held.
	done := make(chan error, 1)
	go func() {
		done <- defaultGuard().run(context.Background(), "y", func(context.Context) error { return nil })
	}()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(10 * time.Second):
		t.Error("the next rule waits for ever")
	}
}

func TestBoundsOfZeroLeaveThoseThereAre(t *testing.T) {
	h := &House{guard: defaultGuard()}
	g := h.Guarded(0, 0, nil).guard
	if g.deadline != houseDeadline || g.grace != houseGrace || g.memory != houseMemory || g.stop == nil {
		t.Errorf("got %+v", g)
	}
	g = h.Guarded(time.Second, 1, func(string, string) {}).guard
	if g.deadline != time.Second || g.grace != time.Second || g.memory != 1 {
		t.Errorf("got %+v", g)
	}
}

// The watchdog in earnest: a process of its own, which such a rule must not outlive.
func TestTheProcessEndsWithStatusTwo(t *testing.T) {
	const asked = "GUIDECOAT_TEST_BOMB"
	switch os.Getenv(asked) {
	case "deaf":
		g := defaultGuard()
		g.deadline, g.grace = 20*time.Millisecond, 20*time.Millisecond
		_ = g.run(context.Background(), "bomb", deaf(nil))
		return
	case "huge":
		// One call that asks for 1.2 GB at once and never looks up, as a built-in may that
		// fills it; apart_test.go has a real one. Not written to, it takes nothing of the machine.
		g := defaultGuard()
		g.deadline, g.grace, g.memory = time.Minute, time.Minute, 64<<20
		_ = g.run(context.Background(), "bomb", func(ctx context.Context) error {
			held := make([]byte, 1200<<20)
			err := deaf(nil)(ctx)
			runtime.KeepAlive(held)
			return err
		})
		return
	}
	for _, bomb := range []string{"deaf", "huge"} {
		t.Run(bomb, func(t *testing.T) {
			cmd := exec.Command(os.Args[0], "-test.run=^TestTheProcessEndsWithStatusTwo$")
			cmd.Env = append(os.Environ(), asked+"="+bomb)
			var errs strings.Builder
			cmd.Stderr = &errs
			err := cmd.Run()
			var exit *exec.ExitError
			if !errors.As(err, &exit) || exit.ExitCode() != 2 {
				t.Errorf("it ended with %v", err)
			}
			if !strings.Contains(errs.String(), "the shop's rule bomb broke: ") || !strings.Contains(errs.String(), "Nothing was judged") {
				t.Errorf("it said %q", errs.String())
			}
		})
	}
}
