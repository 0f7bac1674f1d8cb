package output

import (
	"fmt"
	"io"
	"os"
	"os/signal"
	"sync"
	"syscall"
)

// unfinished are the files that are being written under another name than they will have.
var unfinished = struct {
	sync.Mutex
	names map[string]bool
}{names: map[string]bool{}}

func noteUnfinished(name string) {
	unfinished.Lock()
	defer unfinished.Unlock()
	unfinished.names[name] = true
}

// discard removes an unfinished file.
func discard(name string) {
	unfinished.Lock()
	defer unfinished.Unlock()
	os.Remove(name)
	delete(unfinished.names, name)
}

// finish lets place give an unfinished file its name. An interrupt waits until it has it.
func finish(name string, place func() error) error {
	unfinished.Lock()
	defer unfinished.Unlock()
	err := place()
	if err == nil {
		delete(unfinished.names, name)
	}
	return err
}

// HeedInterrupt ends the program in good order when it is interrupted, with a status: no file is left
// half written, and it is said why the result is not whole.
func HeedInterrupt(stderr io.Writer, status int) {
	came := make(chan os.Signal, 1)
	signal.Notify(came, os.Interrupt, syscall.SIGTERM)
	go func() {
		for range came {
			if !handOver() {
				break
			}
		}
		unfinished.Lock() // for good: nothing is put in place any more
		for name := range unfinished.names {
			os.Remove(name)
		}
		fmt.Fprintln(stderr, "coldcheck: interrupted; what was printed so far is not whole, and no file was written")
		os.Exit(status)
	}()
}

// taker is who brings the program to its end when it is interrupted, nil for no one.
var taker struct {
	sync.Mutex
	told chan struct{}
}

// TakeInterrupt lets the caller bring the program to its end when it is interrupted, until it is released: it is
// told on the channel. A second interrupt that comes before the first was heard ends the program all the same.
func TakeInterrupt() (told <-chan struct{}, release func()) {
	taker.Lock()
	defer taker.Unlock()
	taker.told = make(chan struct{}, 1)
	return taker.told, func() {
		taker.Lock()
		defer taker.Unlock()
		taker.told = nil
	}
}

// handOver tells the taker of an interrupt, and reports whether there is one that can hear it.
func handOver() bool {
	taker.Lock()
	defer taker.Unlock()
	select {
	case taker.told <- struct{}{}: // never ready of nil
		return true
	default:
		return false
	}
}

// HeedPipes makes a closed pipe an error of the write instead of the end of the program.
func HeedPipes() { signal.Ignore(syscall.SIGPIPE) }
