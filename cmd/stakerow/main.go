package main

import (
	"os"

	"stakerow/internal/cli"
)

func main() {
	os.Exit(cli.Run(os.Args[1:], cli.Terminal{Out: os.Stdout, Err: os.Stderr}))
}
