package live

import (
	"bytes"
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"coldcheck/netlist/examples"
)

// at is a bench that is open on a file of its own.
type at struct {
	*Bench
	t      testing.TB
	file   string
	client *http.Client
	end    func() error
}

func exampleText(t testing.TB, name string) string {
	t.Helper()
	e, ok := examples.FindSet(name)
	if !ok {
		t.Fatalf("no example %s", name)
	}
	return e.Text
}

// open opens a bench on a set file with a text.
func open(t testing.TB, text string) *at {
	t.Helper()
	file := filepath.Join(t.TempDir(), "set.toml")
	put(t, file, text)
	return openOn(t, Options{Set: file})
}

func openOn(t testing.TB, o Options) *at {
	t.Helper()
	b, err := New(o)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- b.Serve(ctx, func(s string) { t.Error(s) }) }()
	x := &at{Bench: b, t: t, file: o.Set, client: &http.Client{Transport: &http.Transport{}}}
	x.end = func() error {
		stop()
		err := <-ended
		ended <- err
		x.client.CloseIdleConnections()
		return err
	}
	t.Cleanup(func() {
		if err := x.end(); err != nil {
			t.Error(err)
		}
	})
	return x
}

func put(t testing.TB, file, text string) {
	t.Helper()
	if err := os.WriteFile(file, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
}

// request is one as the page makes it, to be spoilt.
func (x *at) request(what string, body []byte) *http.Request {
	x.t.Helper()
	r, err := http.NewRequest(http.MethodPost, "http://"+x.host+"/"+what, bytes.NewReader(body))
	if err != nil {
		x.t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	r.Header.Set("Origin", "http://"+x.host)
	r.Header.Set(tokenHeader, x.token)
	return r
}

func (x *at) do(r *http.Request) (status int, body string, header http.Header) {
	x.t.Helper()
	ctx, stop := context.WithTimeout(r.Context(), 2*answerTime) // a stream where a refusal was wanted has no end
	defer stop()
	answer, err := x.client.Do(r.WithContext(ctx))
	if err != nil {
		x.t.Fatal(err)
	}
	defer answer.Body.Close()
	data, err := io.ReadAll(answer.Body)
	if err != nil {
		x.t.Fatal(err)
	}
	return answer.StatusCode, string(data), answer.Header
}

// post asks, and reads what is answered.
func post[T any](x *at, what string, body any) T {
	x.t.Helper()
	data, err := json.Marshal(body)
	if err != nil {
		x.t.Fatal(err)
	}
	status, text, _ := x.do(x.request(what, data))
	var into T
	if status != http.StatusOK {
		x.t.Fatalf("%s: %d, %s", what, status, text)
	}
	if err := json.Unmarshal([]byte(text), &into); err != nil {
		x.t.Fatalf("%s: %v", what, err)
	}
	return into
}

// refused asks and wants a refusal in one plain sentence.
func (x *at) refused(r *http.Request, want int, words string) {
	x.t.Helper()
	status, body, _ := x.do(r)
	if status != want || !strings.Contains(body, words) || strings.Count(body, "\n") != 1 || strings.Contains(body, "goroutine") || strings.Contains(body, x.token) {
		x.t.Errorf("status %d, %.200q; want %d and %q", status, body, want, words)
	}
}

// settled waits until something holds.
func settled(t testing.TB, within time.Duration, holds func() bool) bool {
	t.Helper()
	for end := time.Now().Add(within); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
		if holds() {
			return true
		}
	}
	return holds()
}

// TestEndLeavesNothing: once a bench has ended no goroutine of it runs, whatever it was asked, and its port is free.
func TestEndLeavesNothing(t *testing.T) {
	before := runtime.NumGoroutine()
	x := open(t, exampleText(t, "line-bypass"))
	stream := x.stream()
	post[stateAnswer](x, "state", asked{})
	post[findingsAnswer](x, "findings", struct{}{})
	if err := x.end(); err != nil {
		t.Fatal(err)
	}
	last := ""
	for e := range stream.events {
		last = e.Kind
	}
	if last != eventClosing {
		t.Errorf("the page was told %q last", last)
	}
	if !settled(t, 5*time.Second, func() bool { return runtime.NumGoroutine() <= before }) {
		stacks := make([]byte, 1<<16)
		t.Errorf("%d goroutines before, %d after\n%s", before, runtime.NumGoroutine(), stacks[:runtime.Stack(stacks, true)])
	}
	again := openOn(t, Options{Set: x.file, Port: x.listener.Addr().(*net.TCPAddr).Port})
	if again.host != x.host {
		t.Errorf("at %s, was at %s", again.host, x.host)
	}
}
