package live

import (
	"context"
	"encoding/json"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"
)

// TestLongAnswersArePickedUp: what takes long is answered at once with word that it is being worked out, and is there
// when the same asking comes again; another asking does not get it, and what was picked up is not kept.
func TestLongAnswersArePickedUp(t *testing.T) {
	x := open(t, exampleText(t, "line-bypass"))
	body, err := json.Marshal(struct{}{})
	if err != nil {
		t.Fatal(err)
	}
	ask := func(name string) (int, string, time.Duration) {
		r := x.request("findings", body)
		r.Header.Set(askHeader, name)
		began := time.Now()
		status, text, _ := x.do(r)
		return status, text, time.Since(began)
	}
	hold := make(chan bool)
	release := sync.OnceFunc(func() { close(hold) })
	defer release()
	for range cap(x.long.places) {
		begun := make(chan bool)
		go x.long.do(t.Context(), answerTime, func() error { close(begun); <-hold; return nil })
		<-begun
	}
	for range 2 {
		if status, text, took := ask("one"); status != http.StatusAccepted || !strings.Contains(text, "still being worked out") || took < holdTime || took > queueTime/2 {
			t.Fatalf("while there is no place: %d, %q after %s", status, text, took)
		}
	}
	x.pickups.lock.Lock()
	if n := len(x.pickups.all); n != 1 {
		t.Errorf("%d answers are in the making of one asking", n)
	}
	x.pickups.lock.Unlock()
	release()
	var answer findingsAnswer
	if !settled(t, answerTime, func() bool {
		status, text, _ := ask("one")
		return status == http.StatusOK && json.Unmarshal([]byte(text), &answer) == nil
	}) {
		t.Fatal("the answer never comes")
	}
	if want := post[findingsAnswer](x, "findings", struct{}{}); answer.Edition != want.Edition || len(answer.Tally) == 0 || len(answer.Tally) != len(want.Tally) {
		t.Errorf("picked up %+v, want %+v", answer.Tally, want.Tally)
	}
	x.pickups.lock.Lock()
	if n := len(x.pickups.all); n != 0 {
		t.Errorf("%d answers are kept once they were picked up", n)
	}
	x.pickups.lock.Unlock()

	if status, _, _ := ask(strings.Repeat("x", longestAsk+1)); status != http.StatusBadRequest {
		t.Errorf("an endless name: %d", status)
	}
}

// TestPickupsAreBounded: askings that nobody comes back for do not fill the bench.
func TestPickupsAreBounded(t *testing.T) {
	p := newPickups()
	defer p.wait()
	for i := range mostKept {
		if _, err := p.begin(strings.Repeat("x", i+1), atOnce); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := p.begin("one more", atOnce); err == nil {
		t.Error("one more is taken")
	}
	if _, err := p.begin("x", atOnce); err != nil {
		t.Error("one that is known is refused")
	}
}

func atOnce(context.Context) (any, error) { return 1, nil }
