package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"
)

// page is someone at a browser.
type page struct {
	*soak
	*rand.Rand
	client *http.Client
	number int
	head   head     // of the last answer
	checks []string // the names of the checklist's lines
	steps  []step   // of the plan at hand
}

// known is what some page learned of the set, for all that ask.
type known struct {
	lock     sync.Mutex
	controls controls
}

// What is read of an answer about a state; live has the whole of it.
type (
	head struct {
		Edition   int
		Name      string
		Slips     []string
		PlanSlips []string `json:"plan_slips"`
		Gone      bool
	}
	choice   struct{ Value string }
	controls struct {
		Plugs    []choice
		Switches []struct {
			Name      string
			Positions []choice
		}
		Faults []choice
		Points []string
		Parts  []choice
	}
	step struct {
		Text string `json:"text"`
		Why  string `json:"why"`
	}
)

// answerTime is when a page gives an answer up: no request may take so long.
const answerTime = 6 * time.Minute

func newClient() *http.Client {
	return &http.Client{Timeout: answerTime, Transport: &http.Transport{MaxIdleConnsPerHost: 4, DisableCompression: true}}
}

// open is a page, alone with its sort: most are looked at, some read slowly or not at all.
func (p *page) open(ctx context.Context) {
	defer p.client.CloseIdleConnections()
	switch p.number % 5 {
	case 3:
		p.dawdle(ctx, true)
	case 4:
		p.dawdle(ctx, false)
	default:
		var both sync.WaitGroup
		changed := make(chan bool, 1)
		own := func(n int) *page {
			return &page{soak: p.soak, Rand: rand.New(rand.NewPCG(p.seed, uint64(n+p.number))), client: p.client, number: p.number}
		}
		both.Go(func() { p.listen(ctx, changed) })
		both.Go(func() { own(1000).refresh(ctx, changed) })
		both.Go(func() { own(2000).ask(ctx) })
		both.Wait()
	}
}

// listen reads the stream of what happens, and opens it anew now and then, as a page does that is loaded again.
func (p *page) listen(ctx context.Context, changed chan bool) {
	for ctx.Err() == nil {
		for _, name := range []string{"", "live.css", "live.js"} {
			p.get(name)
		}
		visit, leave := context.WithTimeout(ctx, time.Duration(2+p.IntN(40))*time.Second)
		p.stream(visit, changed)
		leave()
		pause(ctx, 100*time.Millisecond)
	}
}

func (p *page) stream(ctx context.Context, changed chan bool) {
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, p.server.url+"events", nil)
	if err != nil {
		p.broken.say("%v", err)
		return
	}
	client := &http.Client{Transport: p.client.Transport}
	answer, err := client.Do(r)
	if err != nil {
		if ctx.Err() == nil {
			p.broken.say("no stream: %v", err)
		}
		return
	}
	defer answer.Body.Close()
	p.opened()
	if answer.StatusCode != http.StatusOK {
		p.broken.say("a stream has status %d", answer.StatusCode)
		return
	}
	for lines := bufio.NewScanner(answer.Body); lines.Scan(); {
		data, ok := strings.CutPrefix(lines.Text(), "data: ")
		if !ok {
			continue
		}
		var e struct{ Kind string }
		if err := json.Unmarshal([]byte(data), &e); err != nil || e.Kind == "" {
			p.broken.say("an event is %q", data)
		}
		p.lock.Lock()
		p.told++
		p.lock.Unlock()
		if e.Kind == "file" {
			select {
			case changed <- true:
			default:
			}
		}
	}
}

func (p *page) opened() {
	p.lock.Lock()
	p.streams++
	p.lock.Unlock()
}

// dawdle opens streams and reads a byte at a time, or nothing, and goes away without a word.
func (p *page) dawdle(ctx context.Context, reads bool) {
	for ctx.Err() == nil {
		c, err := net.Dial("tcp", p.server.host)
		if err != nil {
			p.broken.say("no connection: %v", err)
			return
		}
		c.(*net.TCPConn).SetReadBuffer(4 << 10)
		io.WriteString(c, "GET /"+p.server.token+"/events HTTP/1.1\r\nHost: "+p.server.host+"\r\n\r\n")
		p.opened()
		for end := time.Now().Add(time.Duration(2+p.IntN(30)) * time.Second); time.Now().Before(end) && ctx.Err() == nil; {
			if reads {
				c.SetReadDeadline(time.Now().Add(time.Second))
				c.Read(make([]byte, 1))
			}
			pause(ctx, 300*time.Millisecond)
		}
		if p.IntN(2) == 0 {
			c.(*net.TCPConn).SetLinger(0) // a machine that falls asleep: the connection is reset
		}
		c.Close()
	}
}

// get asks for what a page is made of.
func (p *page) get(name string) {
	began := time.Now()
	answer, err := p.client.Get(p.server.url + name)
	if err != nil {
		p.broken.say("the page: %v", err)
		return
	}
	data, err := io.ReadAll(answer.Body)
	answer.Body.Close()
	p.took("the page", answer.StatusCode, time.Since(began))
	if err != nil || answer.StatusCode != http.StatusOK || len(data) == 0 {
		p.broken.say("%q of the page: status %d, %d bytes, %v", name, answer.StatusCode, len(data), err)
	}
}

// post asks, as the page does; into is given what is answered. The status is 0 where nothing came.
func (p *page) post(what string, body, into any) (status int) {
	data, err := json.Marshal(body)
	if err != nil {
		p.broken.say("%s: %v", what, err)
		return 0
	}
	return p.postBytes(what, data, into)
}

// askings counts what was asked.
var askings atomic.Int64

// postBytes asks, and asks again for what is still being worked out.
func (p *page) postBytes(what string, data []byte, into any) (status int) {
	asking, began := fmt.Sprint(askings.Add(1)), time.Now()
	for status = p.postOnce(what, asking, data, into); status == http.StatusAccepted; {
		status = p.postOnce(what, asking, data, into)
	}
	if slices.Contains(searches, what) {
		p.took(what+inAll, status, time.Since(began))
	}
	return status
}

func (p *page) postOnce(what, asking string, data []byte, into any) (status int) {
	r, err := http.NewRequest(http.MethodPost, "http://"+p.server.host+"/"+what, bytes.NewReader(data))
	if err != nil {
		p.broken.say("%s: %v", what, err)
		return 0
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Origin", "http://"+p.server.host)
	r.Header.Set("Coldcheck-Token", p.server.token)
	r.Header.Set("Coldcheck-Ask", asking)
	began := time.Now()
	answer, err := p.client.Do(r)
	if err != nil {
		p.broken.say("%s is not answered: %v", what, err)
		return 0
	}
	defer answer.Body.Close()
	text, err := io.ReadAll(answer.Body)
	p.took(what, answer.StatusCode, time.Since(began))
	switch {
	case err != nil:
		p.broken.say("%s is answered in part: %v", what, err)
		return 0
	case answer.StatusCode == http.StatusInternalServerError:
		p.broken.say("%s, asked %.500s: a fault, %s", what, data, text)
	case answer.StatusCode == http.StatusOK:
		if err := json.Unmarshal(text, into); err != nil {
			p.broken.say("%s: the answer is not understood: %v", what, err)
		}
	case strings.Count(string(text), "\n") != 1 || bytes.Contains(text, []byte(p.server.token)):
		p.broken.say("%s, asked %.500s: refused with %q, which is no sentence", what, data, text)
	}
	return answer.StatusCode
}
