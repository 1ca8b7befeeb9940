package main

import (
	"runtime"
	"runtime/debug"
	"runtime/metrics"
	"testing"
	"time"
)

// Growth follows what is kept, up and down again.
func TestMemoryIsCollectedTheOftenerTheMoreIsKept(t *testing.T) {
	defer debug.SetGCPercent(debug.SetGCPercent(100))
	collectSeldom()
	// wait collects until so many percent are set: cleanups run some time after.
	wait := func(percent int) {
		t.Helper()
		for range 1000 {
			runtime.GC()
			time.Sleep(time.Millisecond)
			s := []metrics.Sample{{Name: "/gc/gogc:percent"}}
			if metrics.Read(s); s[0].Value.Uint64() == uint64(percent) {
				return
			}
		}
		t.Errorf("it never came to %d %%", percent)
	}
	wait(400)
	kept := make([]byte, 64<<20)
	wait(200)
	more := make([]byte, 128<<20)
	wait(100)
	runtime.KeepAlive(more)
	wait(200)
	runtime.KeepAlive(kept)
	wait(400)
}
