package live

import (
	"context"
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"errors"
	"fmt"
	"net"
	"net/http"
	"sync"
	"syscall"
	"time"

	"coldcheck/netlist"
)

// Options say what is served, and where.
type Options struct {
	Set  string // the set file
	Plan string // the plan to begin with, "" for none
	Port int    // 0 for one that is free
}

// Bench is a live bench.
type Bench struct {
	options  Options
	listener net.Listener
	host     string // as a request must name it
	token    string
	ticket   ticket
	work     *work    // of what a click waits for
	long     *work    // of what needs the whole report, the checklist or a search: many pages ask it at once when the file changes
	pickups  *pickups // the answers of long that wait to be picked up
	streams  *streams
	files    *files
}

// How long a request may take to come in, and to be answered; a page that went away is found at the latest then.
const (
	headerTime = 5 * time.Second
	bodyTime   = 20 * time.Second
	idleTime   = 2 * time.Minute
	headerSize = 16 << 10
	endTime    = 3 * time.Second
)

// tokenBytes is how much of the address is drawn at random: 128 bits.
const tokenBytes = 16

// New opens a bench: the address is taken, and nothing is answered yet. The set file must be there; slips in it are
// told on the page.
func New(o Options) (*Bench, error) {
	files, err := openFiles(o.Set, o.Plan)
	if err != nil {
		return nil, err
	}
	listener, err := net.Listen("tcp4", fmt.Sprintf("127.0.0.1:%d", o.Port))
	if err != nil {
		return nil, listenError(o.Port, err)
	}
	b := &Bench{options: o, listener: listener, host: listener.Addr().String(), token: random(), work: newWork(queueTime), long: newWork(answerTime), pickups: newPickups(), streams: newStreams(), files: files}
	return b, nil
}

// random is a word that no one guesses.
func random() string {
	b := make([]byte, tokenBytes)
	rand.Read(b) // never fails: it ends the program instead
	return hex.EncodeToString(b)
}

// Close closes a bench that was not served.
func (b *Bench) Close() { b.listener.Close() }

// ticket lets one request in that does not have the token: the one of the browser that the program opens. Others on
// the machine may see what a program is started with, and shall not see the token.
type ticket struct {
	lock sync.Mutex
	word string // "" for none
}

// Ticket is an address that leads to the page once.
func (b *Bench) Ticket() string {
	b.ticket.lock.Lock()
	defer b.ticket.lock.Unlock()
	b.ticket.word = random()
	return "http://" + b.host + ticketPath + b.ticket.word
}

const ticketPath = "/open/"

// admits takes a ticket.
func (t *ticket) admits(word string) bool {
	t.lock.Lock()
	defer t.lock.Unlock()
	if t.word == "" || subtle.ConstantTimeCompare([]byte(word), []byte(t.word)) != 1 {
		return false
	}
	t.word = ""
	return true
}

// listenError tells why an address cannot be had.
func listenError(port int, err error) error {
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return fmt.Errorf("port %d is taken by another program; give another, or leave --port out for one that is free", port)
	case errors.Is(err, syscall.EACCES):
		return fmt.Errorf("port %d may not be used; give one from 1024 up, or leave --port out for one that is free", port)
	}
	return fmt.Errorf("no port of this machine can be had: %w", err)
}

// URL is the address of the page.
func (b *Bench) URL() string { return "http://" + b.host + "/" + b.token + "/" }

// Set is the name of the set, "" while its file has none.
func (b *Bench) Set() string {
	if e := b.files.now(); e.set != nil {
		return netlist.Visible(e.set.Name)
	}
	return ""
}

// Serve answers until the context is done, and comes back when nothing of the bench runs any more. say is given what
// a person at the terminal has to know.
func (b *Bench) Serve(ctx context.Context, say func(string)) error {
	requests, end := context.WithCancel(context.Background()) // not before the pages are told
	defer end()
	following, unfollow := context.WithCancel(ctx)
	defer unfollow()
	server := &http.Server{
		Handler:           b.handler(),
		BaseContext:       func(net.Listener) context.Context { return requests },
		ReadHeaderTimeout: headerTime,
		ReadTimeout:       bodyTime,
		IdleTimeout:       idleTime,
		MaxHeaderBytes:    headerSize,
		ErrorLog:          silent(),
	}
	var wait sync.WaitGroup
	wait.Go(func() { b.files.follow(following, say, b.streams.changed) })
	ended := make(chan error, 1)
	go func() { ended <- server.Serve(b.listener) }()
	var err error
	select {
	case <-ctx.Done():
	case err = <-ended:
		ended <- err
	}
	unfollow()
	b.streams.close()
	end()
	patience, done := context.WithTimeout(context.Background(), endTime)
	defer done()
	if server.Shutdown(patience) != nil {
		server.Close()
	}
	if served := <-ended; err == nil && !errors.Is(served, http.ErrServerClosed) {
		err = served
	}
	wait.Wait()
	b.pickups.wait()
	b.files.wait()
	b.work.wait()
	b.long.wait()
	return err
}
