package main

import (
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// collectSeldom has memory collected the less often the less there is of it:
// most runs keep little, and are over before it matters. It looks again after
// each collecting.
func collectSeldom() {
	percent := growth(0)
	debug.SetGCPercent(percent)
	var again func()
	again = func() {
		// Nothing holds it, so that it is found to be free whenever memory is collected.
		runtime.AddCleanup(new([64]byte), func(struct{}) {
			if now := growth(live()); now != percent {
				percent = now
				debug.SetGCPercent(now)
			}
			again()
		}, struct{}{})
	}
	again()
}

// growth is by how many percent memory may grow, over the bytes that are kept,
// before it is collected: of little it may be much.
func growth(kept uint64) int {
	switch {
	case kept < 32<<20:
		return 400
	case kept < 128<<20:
		return 200
	}
	return 100
}

// live is how many bytes the last collecting has left.
func live() uint64 {
	s := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(s)
	if s[0].Value.Kind() != metrics.KindUint64 {
		return 0
	}
	return s[0].Value.Uint64()
}
