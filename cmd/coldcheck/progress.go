package main

import (
	"fmt"
	"os"
	"time"

	"golang.org/x/term"
)

// progressAfter is how long a search runs before it tells how far it is, and between two times.
const progressAfter = 2 * time.Second

// progress tells on a terminal how far a command is, until done.
func (c *call) progress(howFar func() string, done <-chan struct{}) {
	f, ok := c.stderr.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return
	}
	tick := time.NewTicker(progressAfter)
	defer tick.Stop()
	for {
		select {
		case <-done:
			return
		case <-tick.C:
			fmt.Fprintf(f, "coldcheck: %s\n", howFar())
		}
	}
}
