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
		<-came
		for taken := interrupts.take(); taken != nil; taken = interrupts.take() {
			close(taken)
			<-came
		}
		unfinished.Lock() // for good: nothing is put in place any more
		for name := range unfinished.names {
			os.Remove(name)
		}
		fmt.Fprintln(stderr, "coldcheck: interrupted; what was printed so far is not whole, and no file was written")
		os.Exit(status)
	}()
}

// interrupts is who ends by itself.
var interrupts taker

type taker struct {
	sync.Mutex
	by chan struct{}
}

// take gives who asked, once.
func (t *taker) take() chan struct{} {
	t.Lock()
	defer t.Unlock()
	by := t.by
	t.by = nil
	return by
}

// TakeInterrupt has a command end by itself: what it gives is closed at the next interrupt, and only one after that
// ends the program as any other.
func TakeInterrupt() <-chan struct{} {
	interrupts.Lock()
	defer interrupts.Unlock()
	interrupts.by = make(chan struct{})
	return interrupts.by
}

// HeedPipes makes a closed pipe an error of the write instead of the end of the program.
func HeedPipes() { signal.Ignore(syscall.SIGPIPE) }
