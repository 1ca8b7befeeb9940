package raced

// Fewer is n, and under the race detector one in twenty, but one at least.
func Fewer(n int) int {
	if On {
		return max(1, n/20)
	}
	return n
}

// Skip leaves out, under the race detector, a test that takes minutes there
// and has nothing that runs side by side.
func Skip(t interface{ Skip(...any) }) {
	if On {
		t.Skip("made without the race detector: see .ci/run")
	}
}
