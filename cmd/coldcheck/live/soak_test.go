package live

import (
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
)

// TestClickWaitsForNoReport: where many pages wait for what takes long, a state, an offer and a save are answered.
func TestClickWaitsForNoReport(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	hold := make(chan bool)
	release := sync.OnceFunc(func() { close(hold) })
	defer release()
	begun := make(chan bool, mostWaiting)
	var held sync.WaitGroup
	for range mostWaiting {
		held.Go(func() {
			x.long.do(context.Background(), answerTime, func() error { begun <- true; <-hold; return nil })
		})
	}
	for range cap(x.long.places) {
		<-begun
	}
	x.client.Timeout = queueTime / 2 // what waits for a place is refused only after all of it
	post[stateAnswer](x, "state", asked{})
	steps := x.offered(offersAsked{Part: "C1"}, "Remove")
	post[saveAnswer](x, "save-plan", savePlanAsked{Steps: steps})
	release()
	held.Wait()
}

// TestSavesAtOnce: of several pages that were shown one and the same file and want it replaced at once, one replaces
// it. The others are shown what is there by then: nothing is lost unasked.
func TestSavesAtOnce(t *testing.T) {
	f := &files{set: filepath.Join(t.TempDir(), "set.toml")}
	path := f.beside(planEnding)
	for round := range 30 {
		shown := ""
		if round > 0 {
			info, err := os.Lstat(path)
			if err != nil {
				t.Fatal(err)
			}
			shown = stamp(info)
		}
		const pages = 8
		var wrote [pages]bool
		var all sync.WaitGroup
		texts := make([]string, pages)
		for i := range pages {
			texts[i] = strings.Repeat("x", 10*round+i+1)
			all.Go(func() {
				a, err := f.save(planEnding, shown, []byte(texts[i]))
				wrote[i] = err == nil && a.There == ""
			})
		}
		all.Wait()
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		told := 0
		for i := range pages {
			if !wrote[i] {
				continue
			}
			if told++; texts[i] != string(data) {
				t.Errorf("round %d: %d bytes are said to be saved, and %d are there", round, len(texts[i]), len(data))
			}
		}
		if told != 1 {
			t.Fatalf("round %d: %d pages are told that theirs was saved", round, told)
		}
	}
}

// idle waits until as few goroutines run as before, and says which do where they do not.
func idle(t *testing.T, x *at, before int, after string) {
	t.Helper()
	if !settled(t, 20*time.Second, func() bool {
		x.client.CloseIdleConnections()
		return runtime.NumGoroutine() <= before
	}) {
		stacks := make([]byte, 1<<17)
		t.Fatalf("%s: %d goroutines, %d before\n%s", after, runtime.NumGoroutine(), before, stacks[:runtime.Stack(stacks, true)])
	}
}

// steady is how many goroutines run once what a page left behind has had the time to go.
func steady(x *at) int {
	n := runtime.NumGoroutine()
	for same := 0; same < 50; same++ {
		x.client.CloseIdleConnections()
		time.Sleep(10 * time.Millisecond)
		if now := runtime.NumGoroutine(); now != n {
			n, same = now, 0
		}
	}
	return n
}

// inUse is what the heap holds that is not rubbish.
func inUse() int64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.GC() // what finalizers let go
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

// TestNothingStaysBehind: pages that come and go in every way, edits and requests of all sorts leave no goroutine, and
// no more memory than one edition takes, in a bench that stays open.
func TestNothingStaysBehind(t *testing.T) {
	text := exampleText(t, "line-bypass")
	x := open(t, text)
	edit := func(n int) {
		l := x.stream()
		x.next(l, eventHello)
		put(t, x.file, renamed(text, fmt.Sprint(n)))
		x.next(l, eventFile)
		post[stateAnswer](x, "state", asked{Plug: "reversed"})
		l.close()
	}
	quiet := func() { // the report of the last edition is done, and its remedies tried
		if !settled(t, 60*time.Second, func() bool { return x.files.now().triedReport.Load() != nil }) {
			t.Fatal("the remedies are never tried")
		}
		x.files.background.Wait()
	}
	edit(0)
	quiet()
	before, held := steady(x), inUse()
	for n := range 40 {
		c, err := net.Dial("tcp", x.host)
		if err != nil {
			t.Fatal(err)
		}
		switch n % 4 {
		case 0: // a page that reads nothing
			io.WriteString(c, "GET /"+x.token+"/events HTTP/1.1\r\nHost: "+x.host+"\r\n\r\n")
			time.Sleep(5 * time.Millisecond)
		case 1: // a request that breaks off
			io.WriteString(c, "POST /state HTTP/1.1\r\nHost: "+x.host+"\r\nContent-Length: 50\r\n\r\n{")
		case 2: // a reset
			c.(*net.TCPConn).SetLinger(0)
		}
		c.Close()
		l := x.stream()
		x.next(l, eventHello)
		l.close()
		x.refused(x.request("state", []byte("{")), http.StatusBadRequest, "ends in the middle")
	}
	for n := range 12 {
		edit(n + 1)
	}
	post[findingsAnswer](x, "findings", struct{}{})
	quiet()
	idle(t, x, before, "after many pages and edits")
	if !settled(t, 5*time.Second, func() bool { x.streams.lock.Lock(); defer x.streams.lock.Unlock(); return len(x.streams.open) == 0 }) {
		t.Error("pages that went away are counted as open")
	}
	if now := inUse(); now > held+held/2 {
		t.Errorf("%d kB are held after twelve editions, and were %d kB after one", now>>10, held>>10)
	}
}
