package raced

// Fewer is n, and under the race detector one in twenty, but one at least.
func Fewer(n int) int {
	if On {
		return max(1, n/20)
	}
	return n
}
