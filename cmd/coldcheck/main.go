package main

import (
	"os"
	"runtime/debug"

	"github.com/spf13/cobra"

	"coldcheck/cmd/coldcheck/output"
)

// garbagePercent: a run is short and its memory small, so collecting seldom costs less than it saves.
// From memoryBytes on it is collected as often as it takes.
const (
	garbagePercent = 400
	memoryBytes    = 384 << 20
)

func main() {
	cobra.MousetrapHelpText = "" // started from a window it says what it says anywhere else
	debug.SetGCPercent(garbagePercent)
	debug.SetMemoryLimit(memoryBytes)
	output.HeedInterrupt(os.Stderr, statusBad)
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
