package rulebook

import (
	"bytes"
	"os"
	"strconv"
	"syscall"
)

// boundMemory has the system refuse this process more memory than it has now
// and so many bytes beside, until release is called: one call for more than
// there is ends the process at once, before anything else on the machine is
// starved. Where the bound cannot be set, the watch over the heap is all there is.
func boundMemory(more uint64) (release func()) {
	var was syscall.Rlimit
	if syscall.Getrlimit(rlimitData, &was) != nil {
		return func() {}
	}
	now := was
	now.Cur = min(dataSize()+more, was.Max)
	if syscall.Setrlimit(rlimitData, &now) != nil {
		return func() {}
	}
	return func() { _ = syscall.Setrlimit(rlimitData, &was) }
}

const rlimitData = syscall.RLIMIT_DATA

// dataSize is how many bytes of memory of its own the process has mapped.
func dataSize() uint64 {
	text, err := os.ReadFile("/proc/self/status")
	if err != nil {
		return 0
	}
	for line := range bytes.Lines(text) {
		if rest, ok := bytes.CutPrefix(line, []byte("VmData:")); ok {
			kb, _ := strconv.ParseUint(string(bytes.Fields(rest)[0]), 10, 64)
			return kb << 10
		}
	}
	return 0
}
