package live

import (
	"bufio"
	"context"
	"encoding/json"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// listening is an open page's stream.
type listening struct {
	events chan event
	close  func()
}

// stream opens one.
func (x *at) stream() *listening {
	x.t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	r, err := http.NewRequestWithContext(ctx, http.MethodGet, x.URL()+"events", nil)
	if err != nil {
		x.t.Fatal(err)
	}
	answer, err := x.client.Do(r)
	if err != nil {
		x.t.Fatal(err)
	}
	if answer.StatusCode != http.StatusOK || answer.Header.Get("Content-Type") != "text/event-stream" {
		x.t.Fatalf("a stream: %d", answer.StatusCode)
	}
	l := &listening{make(chan event, 100), stop}
	go func() {
		defer close(l.events)
		defer answer.Body.Close()
		lines := bufio.NewScanner(answer.Body)
		for lines.Scan() {
			if data, ok := strings.CutPrefix(lines.Text(), "data: "); ok {
				var e event
				if json.Unmarshal([]byte(data), &e) == nil {
					l.events <- e
				}
			}
		}
	}()
	x.t.Cleanup(stop)
	return l
}

// next waits for an event of a kind.
func (x *at) next(l *listening, kind string) event {
	x.t.Helper()
	late := time.After(30 * time.Second)
	for {
		select {
		case e, ok := <-l.events:
			if !ok {
				x.t.Fatalf("the stream ended before %s", kind)
			}
			if e.Kind == kind {
				return e
			}
		case <-late:
			x.t.Fatalf("no %s", kind)
		}
	}
}

// TestTwoPages: each is told how many there are, and of what changes.
func TestTwoPages(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	one := x.stream()
	x.next(one, eventHello)
	two := x.stream()
	x.next(two, eventHello)
	if e := x.next(one, eventPages); e.Pages != 1 {
		t.Errorf("first %d pages", e.Pages)
	}
	if e := x.next(one, eventPages); e.Pages != 2 {
		t.Errorf("then %d pages", e.Pages)
	}
	put(t, x.file, strings.Replace(exampleText(t, "line-bypass"), "name = ", "name = # renamed\n", 1))
	put(t, x.file, exampleText(t, "hot-chassis"))
	for _, l := range []*listening{one, two} {
		if e := x.next(l, eventFile); e.Edition < 2 {
			t.Errorf("edition %d", e.Edition)
		}
	}
	two.close()
	if e := x.next(one, eventPages); e.Pages != 1 {
		t.Errorf("in the end %d pages", e.Pages)
	}
}

// TestSeventeenthPage: so many streams and no more; once one has gone there is room again.
func TestSeventeenthPage(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	var all []*listening
	for i := range mostStreams {
		all = append(all, x.stream())
		for _, l := range all { // so that none leaves too much unread
			for x.next(l, eventPages).Pages <= i {
			}
		}
	}
	r, err := http.NewRequest(http.MethodGet, x.URL()+"events", nil)
	if err != nil {
		t.Fatal(err)
	}
	x.refused(r, http.StatusServiceUnavailable, "16 pages are open")
	all[3].close()
	if !settled(t, 5*time.Second, func() bool {
		x.streams.lock.Lock()
		defer x.streams.lock.Unlock()
		return len(x.streams.open) < mostStreams
	}) {
		t.Fatal("a page that went away keeps its place")
	}
	x.next(x.stream(), eventHello)
}

// TestUnreadStream: a page that reads nothing is dropped, and does not hold the others up.
func TestUnreadStream(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	c, err := net.Dial("tcp", x.host)
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close()
	if _, err := c.Write([]byte("GET /" + x.token + "/events HTTP/1.1\r\nHost: " + x.host + "\r\n\r\n")); err != nil {
		t.Fatal(err)
	}
	open := func() int {
		x.streams.lock.Lock()
		defer x.streams.lock.Unlock()
		return len(x.streams.open)
	}
	if !settled(t, 5*time.Second, func() bool { return open() == 1 }) {
		t.Fatal("no stream")
	}
	// Nothing is read at the other end: what is told fills the socket, then the channel, and then it is dropped.
	if !settled(t, 20*time.Second, func() bool {
		for range 2000 {
			x.streams.changed(eventRemedies, x.files.now())
		}
		return open() == 0
	}) {
		t.Error("a stream that nobody reads is kept")
	}
}

// nameIn is the set's name with something behind it.
func renamed(text, more string) string {
	return strings.Replace(text, `name = "`, `name = "`+more+` `, 1)
}

// followed is how long a page may wait for what was saved where other tests run beside this one; alone it is under half
// a second, which BenchmarkFollow measures.
const followed = 4 * time.Second

// TestFollows: a file that is saved in place, replaced by another of its name, spoilt, mended, removed and put back;
// the last good set stays on show.
func TestFollows(t *testing.T) {
	text := exampleText(t, "line-bypass")
	x := open(t, text)
	l := x.stream()
	x.next(l, eventHello)
	state := func() *stateAnswer { a := post[stateAnswer](x, "state", asked{}); return &a }
	good := state()
	soon := func(what string, holds func(*stateAnswer) bool) *stateAnswer {
		t.Helper()
		began := time.Now()
		x.next(l, eventFile)
		a := state()
		if took := time.Since(began); took > followed {
			t.Errorf("%s: new after %s", what, took)
		}
		if !holds(a) {
			t.Errorf("%s: %+v", what, a.Head)
		}
		return a
	}
	put(t, x.file, renamed(text, "saved"))
	soon("saved in place", func(a *stateAnswer) bool {
		return strings.HasPrefix(a.Head.Name, "saved ") && a.Head.Edition > good.Head.Edition && len(a.Head.Slips) == 0
	})
	aside := filepath.Join(filepath.Dir(x.file), "aside")
	put(t, aside, renamed(text, "replaced"))
	if err := os.Rename(aside, x.file); err != nil {
		t.Fatal(err)
	}
	soon("replaced", func(a *stateAnswer) bool { return strings.HasPrefix(a.Head.Name, "replaced ") })
	put(t, x.file, strings.Replace(text, "kind = ", "kin = ", 1))
	soon("spoilt", func(a *stateAnswer) bool {
		return strings.HasPrefix(a.Head.Name, "replaced ") && len(a.Head.Slips) > 0 && strings.Contains(a.Head.Slips[0], "set.toml:") && !a.Head.Gone && len(a.Cards) == len(good.Cards)
	})
	put(t, x.file, renamed(text, "mended"))
	soon("mended", func(a *stateAnswer) bool { return strings.HasPrefix(a.Head.Name, "mended ") && len(a.Head.Slips) == 0 })
	if err := os.Remove(x.file); err != nil {
		t.Fatal(err)
	}
	soon("removed", func(a *stateAnswer) bool {
		return a.Head.Gone && strings.HasPrefix(a.Head.Name, "mended ") && len(a.Cards) == len(good.Cards) && strings.Contains(a.Head.Slips[0], "no such file")
	})
	put(t, x.file, renamed(text, "back"))
	soon("put back", func(a *stateAnswer) bool { return strings.HasPrefix(a.Head.Name, "back ") && !a.Head.Gone })
}

// TestFollowsALink: a file is followed to where a link of its name leads.
func TestFollowsALink(t *testing.T) {
	text := exampleText(t, "line-bypass")
	real := filepath.Join(t.TempDir(), "real.toml")
	put(t, real, text)
	link := filepath.Join(t.TempDir(), "set.toml")
	if err := os.Symlink(real, link); err != nil {
		t.Skip(err)
	}
	x := openOn(t, Options{Set: link})
	l := x.stream()
	x.next(l, eventHello)
	put(t, real, renamed(text, "saved"))
	x.next(l, eventFile)
	if name := post[stateAnswer](x, "state", asked{}).Head.Name; !strings.HasPrefix(name, "saved ") {
		t.Errorf("the set is %q", name)
	}
}

// TestSlipsFromTheStart: a bench opens on a file with slips, tells them, and has the set once they are mended.
func TestSlipsFromTheStart(t *testing.T) {
	text := exampleText(t, "line-bypass")
	x := open(t, strings.Replace(text, "kind = ", "kin = ", 1))
	l := x.stream()
	x.next(l, eventHello)
	a := post[stateAnswer](x, "state", asked{})
	if len(a.Head.Slips) == 0 || len(a.Cards) != 0 {
		t.Errorf("%+v", a.Head)
	}
	for _, what := range []string{"findings", "plan", "offers", "checks", "readings", "proposals", "save-plan", "save-readings"} {
		x.refused(x.request(what, []byte("{}")), http.StatusConflict, "no set that can be looked at yet")
	}
	put(t, x.file, text)
	x.next(l, eventFile)
	if a := post[stateAnswer](x, "state", asked{}); len(a.Cards) == 0 || len(a.Head.Slips) > 0 {
		t.Errorf("mended: %+v", a.Head)
	}
}

// TestFollowsThePlan: the plan file's steps are given, and given anew once it is saved; one with slips keeps the last.
func TestFollowsThePlan(t *testing.T) {
	folder := t.TempDir()
	set, file := filepath.Join(folder, "set.toml"), filepath.Join(folder, "plan.toml")
	put(t, set, exampleText(t, "line-bypass"))
	put(t, file, "plan = \"one\"\n[[steps]]\ndo = \"remove\"\npart = \"C1\"\n")
	x := openOn(t, Options{Set: set, Plan: file})
	l := x.stream()
	x.next(l, eventHello)
	h := post[stateAnswer](x, "state", asked{}).Head
	if h.PlanName != "one" || len(h.PlanSteps) != 1 {
		t.Errorf("%+v", h)
	}
	put(t, file, "plan = \"two\"\n[[steps]]\ndo = \"remove\"\npart = \"C1\"\n[[steps]]\ndo = \"remove\"\npart = \"C2\"\n")
	x.next(l, eventFile)
	again := post[stateAnswer](x, "state", asked{}).Head
	if again.PlanName != "two" || len(again.PlanSteps) != 2 || again.Plan <= h.Plan {
		t.Errorf("%+v", again)
	}
	put(t, file, "plan = \"three\"\n[[steps\n")
	x.next(l, eventFile)
	if spoilt := post[stateAnswer](x, "state", asked{}).Head; spoilt.PlanName != "two" || len(spoilt.PlanSlips) == 0 || len(spoilt.Slips) > 0 {
		t.Errorf("%+v", spoilt)
	}
}
