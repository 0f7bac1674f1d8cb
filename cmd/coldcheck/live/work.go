package live

import (
	"context"
	"net/http"
	"runtime"
	"sync"
	"time"
)

// How much is worked out at once, how many may wait for it, how long, and how long an answer may take. What takes
// longer goes on, so that it is there when it is asked for again, and holds its place. For a place in what takes long
// anyway is waited as long as for the answer.
const (
	mostWaiting  = 32
	queueTime    = 10 * time.Second
	answerTime   = 30 * time.Second
	proposalTime = 5 * time.Minute
)

// work bounds what is worked out at once. A bench has two: what takes long shall not hold the places of what a click
// waits for, least of all where many pages wait for one and the same report, each in a place of its own.
type work struct {
	places  chan struct{}
	waiting chan struct{}
	queue   time.Duration // how long is waited for a place
	running sync.WaitGroup
}

func newWork(queue time.Duration) *work {
	return &work{places: make(chan struct{}, runtime.GOMAXPROCS(0)+1), waiting: make(chan struct{}, mostWaiting), queue: queue}
}

// do has something worked out, for as long as an answer may take.
func (w *work) do(ctx context.Context, limit time.Duration, does func() error) error {
	select {
	case w.waiting <- struct{}{}:
		defer func() { <-w.waiting }()
	default:
		return tooMuch()
	}
	patience, cancel := context.WithTimeout(ctx, w.queue)
	defer cancel()
	select {
	case w.places <- struct{}{}:
	case <-patience.Done():
		return refuse(http.StatusServiceUnavailable, "the bench is still busy with what was asked before; ask again in a moment")
	}
	done := make(chan error, 1)
	w.running.Go(func() {
		defer func() { <-w.places }()
		done <- recovered(does)
	})
	late := time.NewTimer(limit)
	defer late.Stop()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return wentAway()
	case <-late.C:
		return refuse(http.StatusServiceUnavailable, "this takes longer than a page should wait; the command line has the time")
	}
}

// recovered keeps a fault of the program in one answer from ending the bench, and what is typed in its pages.
func recovered(does func() error) (err error) {
	defer func() {
		if recover() != nil {
			err = refuse(http.StatusInternalServerError, "this could not be worked out: a fault of the program; inspect on the command line may say more")
		}
	}()
	return does()
}

func (w *work) wait() { w.running.Wait() }

func tooMuch() error {
	return refuse(http.StatusServiceUnavailable, "the bench has too much to do; ask again in a moment")
}

func wentAway() error {
	return refuse(http.StatusServiceUnavailable, "the bench was closed, or the page went away")
}
