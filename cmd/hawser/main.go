// Command hawser runs pulling classes: it says who pulls what, keeps the clock,
// takes the splits and answers next week's loads from them.
package main

import (
	"os"

	"hawser/internal/cli"
)

func main() {
	os.Exit(cli.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
