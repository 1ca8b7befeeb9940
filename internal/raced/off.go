//go:build !race

// Package raced tells tests whether the race detector is watching. Under it a
// test takes several times as long, so that the longest make fewer goes there:
// what they look for by the hundred is looked for without it.
package raced

// On tells that the program was built with the race detector.
const On = false
