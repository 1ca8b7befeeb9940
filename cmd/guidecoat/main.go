// Guidecoat judges a written coating process before a gun is loaded.
package main

import (
	"os"

	"guidecoat/internal/cli"
)

func main() {
	os.Exit(cli.Main(os.Args[1:], cli.Process()))
}
