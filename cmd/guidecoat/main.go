// Guidecoat judges a written coating process before a gun is loaded.
package main

import (
	"os"
	"runtime/debug"

	"guidecoat/internal/cli"
)

func main() {
	if os.Getenv("GOGC") == "" {
		// A run is over in a moment or keeps little: collecting half as often saves a
		// tenth of its time and costs some MB.
		debug.SetGCPercent(200)
	}
	os.Exit(cli.Main(os.Args[1:], cli.Process()))
}
