package live

import (
	"context"
	"net/http"
	"sync"
	"time"
)

// askHeader names one asking of a page, so that what takes long is picked up by asking again: no request hangs.
const askHeader = "Coldcheck-Ask"

// How long a request waits for what takes long before the page is told to ask again, how long an answer waits to be
// picked up, and how many may.
const (
	holdTime   = 500 * time.Millisecond
	keptTime   = 20 * time.Second
	mostKept   = 2 * mostWaiting
	longestAsk = 64 // letters of an asking's name
)

// pickups are answers that are worked out and wait to be picked up, by asking.
type pickups struct {
	lock    sync.Mutex
	all     map[string]*pickup
	open    context.Context
	close   context.CancelFunc
	running sync.WaitGroup
}

type pickup struct {
	done chan struct{}
	out  any
	err  error
}

func newPickups() *pickups {
	p := &pickups{all: map[string]*pickup{}}
	p.open, p.close = context.WithCancel(context.Background())
	return p
}

// answer is what a request's asking comes to: worked out once, however often it is asked for. A request that names no
// asking waits for it.
func (p *pickups) answer(r *http.Request, does func(context.Context) (any, error)) (any, error) {
	name := r.Header.Get(askHeader)
	if name == "" {
		return does(r.Context())
	}
	if len(name) > longestAsk {
		return nil, refuse(http.StatusBadRequest, "an asking has a name of %d letters at most", longestAsk)
	}
	name = r.URL.Path + " " + name
	at, err := p.begin(name, does)
	if err != nil {
		return nil, err
	}
	hold := time.NewTimer(holdTime)
	defer hold.Stop()
	select {
	case <-at.done:
		p.drop(name, at)
		return at.out, at.err
	case <-r.Context().Done():
		return nil, wentAway()
	case <-hold.C:
		return nil, refuse(http.StatusAccepted, "this is still being worked out; ask again")
	}
}

// begin has an asking worked out, unless it is already.
func (p *pickups) begin(name string, does func(context.Context) (any, error)) (*pickup, error) {
	p.lock.Lock()
	defer p.lock.Unlock()
	if at := p.all[name]; at != nil {
		return at, nil
	}
	if len(p.all) >= mostKept {
		return nil, tooMuch()
	}
	at := &pickup{done: make(chan struct{})}
	p.all[name] = at
	p.running.Go(func() {
		at.out, at.err = does(p.open)
		close(at.done)
		time.AfterFunc(keptTime, func() { p.drop(name, at) })
	})
	return at, nil
}

// drop lets go of an answer, so that the same asking would have it worked out anew.
func (p *pickups) drop(name string, at *pickup) {
	p.lock.Lock()
	defer p.lock.Unlock()
	if p.all[name] == at {
		delete(p.all, name)
	}
}

// wait ends what is worked out, once nothing asks any more.
func (p *pickups) wait() {
	p.close()
	p.running.Wait()
}
