package live

import (
	"encoding/json"
	"fmt"
	"net/http"
	"sync"
	"time"
)

const (
	mostStreams = 16
	// heartbeat is how often a stream says that the bench is there; writeTime is how long a page may take to read.
	heartbeat = 10 * time.Second
	writeTime = 5 * time.Second
	// unread is how many events a page may leave unread.
	unread = 8
)

// event is what an open page is told.
type event struct {
	Kind  string `json:"kind"` // of eventKinds
	Pages int    `json:"pages"`
	// Edition is the number of what the files hold; Plan that of the plan file alone.
	Edition int `json:"edition"`
	Plan    int `json:"plan"`
}

// The kinds of event.
const (
	eventHello    = "hello"    // the stream is open
	eventFile     = "file"     // the files hold something else
	eventRemedies = "remedies" // the findings have remedies that were tried
	eventPages    = "pages"    // a page came or went
	eventAlive    = "alive"
	eventClosing  = "closing" // the bench ends
)

// streams are the open pages.
type streams struct {
	lock   sync.Mutex
	open   map[chan event]bool
	last   event
	closed bool
}

func newStreams() *streams { return &streams{open: map[chan event]bool{}} }

// join opens a stream; false where there are too many.
func (s *streams) join() (chan event, bool) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if s.closed || len(s.open) >= mostStreams {
		return nil, false
	}
	ch := make(chan event, unread)
	s.open[ch] = true
	s.tell(eventPages)
	return ch, true
}

func (s *streams) leave(ch chan event) {
	s.lock.Lock()
	defer s.lock.Unlock()
	if s.open[ch] {
		delete(s.open, ch)
		close(ch)
		s.tell(eventPages)
	}
}

// tell tells every page. One that leaves too much unread is dropped: it comes again and asks anew.
func (s *streams) tell(kind string) {
	e := s.last
	e.Kind, e.Pages = kind, len(s.open)
	for ch := range s.open {
		select {
		case ch <- e:
		default:
			delete(s.open, ch)
			close(ch)
		}
	}
}

// changed tells the pages that the files hold another edition, or that something new is known of it.
func (s *streams) changed(kind string, e *edition) {
	s.lock.Lock()
	defer s.lock.Unlock()
	s.last.Edition, s.last.Plan = e.number, e.planNumber
	s.tell(kind)
}

func (s *streams) close() {
	s.lock.Lock()
	defer s.lock.Unlock()
	s.closed = true
	s.tell(eventClosing)
	for ch := range s.open {
		delete(s.open, ch)
		close(ch)
	}
}

// events is a stream of what happens (server-sent events).
func (b *Bench) events(w http.ResponseWriter, r *http.Request) error {
	ch, ok := b.streams.join()
	if !ok {
		return refuse(http.StatusServiceUnavailable, "%d pages are open on this bench, and no more are let in; close one", mostStreams)
	}
	defer b.streams.leave(ch)
	control := http.NewResponseController(w)
	control.SetReadDeadline(time.Time{}) // nothing more is to come in
	w.Header().Set("Content-Type", "text/event-stream")
	now := b.files.now()
	hello := event{Kind: eventHello, Edition: now.number, Plan: now.planNumber}
	if write(w, control, hello) != nil {
		return nil
	}
	beat := time.NewTicker(heartbeat)
	defer beat.Stop()
	for {
		e, more := event{Kind: eventAlive}, true
		select {
		case <-r.Context().Done():
			select {
			case e, more = <-ch: // that the bench ends
			default:
				return nil
			}
		case e, more = <-ch:
		case <-beat.C:
		}
		if !more || write(w, control, e) != nil {
			return nil
		}
	}
}

func write(w http.ResponseWriter, control *http.ResponseController, e event) error {
	data, err := json.Marshal(e)
	if err != nil {
		return err
	}
	if err := control.SetWriteDeadline(time.Now().Add(writeTime)); err != nil {
		return err
	}
	if _, err := fmt.Fprintf(w, "data: %s\n\n", data); err != nil {
		return err
	}
	return control.Flush()
}
