// Guidecoat judges a written coating process before a gun is loaded.
package main

import (
	"os"

	"guidecoat/internal/cli"
)

func main() {
	if os.Getenv("GOGC") == "" {
		collectSeldom()
	}
	os.Exit(cli.Main(os.Args[1:], cli.Process()))
}
