//go:build race

package raced

// On tells that the program was built with the race detector.
const On = true
