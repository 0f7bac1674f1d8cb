package page

import (
	"context"
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"coldcheck/analysis/survey"
	"coldcheck/cmd/coldcheck/browsertest"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/plan"
	"coldcheck/rules/rework"
)

// scheme shows pages in a scheme of colours, with motion reduced.
func (b *browser) scheme(name string) {
	b.Call(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}, {Name: "prefers-reduced-motion", Value: "reduce"}}})
		return err
	})
}

// The verdict of every example stands on the first screen of a phone of 360 by 640.
func TestVerdictOnFirstScreen(t *testing.T) {
	b := newBrowser(t)
	b.Do(chromedp.EmulateViewport(360, 640))
	for _, e := range examples.Sets() {
		b.open(examplePage(t, e.Name))
		if low := eval[float64](b, `document.querySelector('header').getBoundingClientRect().bottom`); low > 640 {
			t.Errorf("%s: the verdict reaches down to %.0f", e.Name, low)
		}
		if n := eval[int](b, `document.querySelectorAll('.tile').length`); n != len(exampleReport(t, e.Name).Case.Metals) {
			t.Errorf("%s: %d tiles", e.Name, n)
		}
	}
}

// Drawings are legible at every width: the hand in view, no letter under 9 px, none clipped, none on another.
func TestDrawingsLegible(t *testing.T) {
	var b *browser
	for i, e := range examples.Sets() {
		if i%4 == 0 {
			b = newBrowser(t)
		}
		for k, width := range []int64{360, 390, 1280, 1920} {
			b.scheme([]string{"light", "dark"}[(i+k)%2])
			b.Do(chromedp.EmulateViewport(width, 900))
			b.open(examplePage(t, e.Name))
			buttons := eval[int](b, `document.querySelectorAll('.jumps button').length`)
			for n := range buttons {
				eval[bool](b, fmt.Sprintf(`document.querySelectorAll('.jumps button')[%d].click(), true`, n))
				b.Frame()
				if wrong := eval[[]string](b, browsertest.Drawings); len(wrong) > 0 {
					t.Errorf("%s at %d px, button %d: %s", e.Name, width, n+1, strings.Join(wrong, "; "))
				}
			}
			if got := eval[int64](b, `document.documentElement.scrollWidth`); got > width {
				t.Errorf("%s: %d px wide on a screen of %d", e.Name, got, width)
			}
		}
	}
}

// What is set stands in the address, a link to it opens that state, and back leads to the one before.
func TestStateInFragment(t *testing.T) {
	b := newBrowser(t)
	address := b.open(examplePage(t, "hot-chassis"))
	const body = `document.querySelector('.body').textContent`
	first := eval[string](b, body)
	eval[bool](b, `document.querySelectorAll('.jumps button')[1].click(), true`)
	worst := eval[string](b, body)
	if first == worst {
		t.Fatal("the button shows nothing")
	}
	hash := b.hash(func(h string) bool { return strings.Contains(h, "plug=1") })
	eval[bool](b, `history.back(), true`)
	b.hash(func(h string) bool { return !strings.Contains(h, "plug=1") })
	b.until(body+` === `+fmt.Sprintf("%q", first), "back")
	b.Do(chromedp.Navigate("about:blank"))
	b.to(address + hash)
	if got := eval[string](b, body); got != worst {
		t.Errorf("the link opens %s, want %s", got, worst)
	}
	eval[bool](b, `document.querySelectorAll('.steps button')[1].click(), true`)
	hash = b.hash(func(h string) bool { return strings.Contains(h, "step=2") })
	b.Do(chromedp.Navigate("about:blank"))
	b.to(address + hash)
	if got := eval[string](b, `document.querySelector('[aria-current="step"]').dataset.step`); got != "1" {
		t.Errorf("the link opens step %s", got)
	}
}

// hash waits for an address.
func (b *browser) hash(fits func(string) bool) string {
	b.t.Helper()
	got := ""
	for range 600 {
		if got = eval[string](b, `location.hash`); fits(got) {
			return got
		}
		time.Sleep(50 * time.Millisecond)
	}
	b.t.Fatalf("the address stays %q", got)
	return ""
}

// until waits for something to be so.
func (b *browser) until(script, what string) {
	b.t.Helper()
	for range 600 {
		if eval[bool](b, script) {
			return
		}
		time.Sleep(50 * time.Millisecond)
	}
	b.t.Errorf("%s: %s never is so", what, script)
}

// For a room each step is asked before it is answered, by the arrows alone.
func TestLessonForARoom(t *testing.T) {
	b := newBrowser(t)
	address := b.open(examplePage(t, "hot-chassis"))
	eval[bool](b, `document.querySelector('button.room').click(), true`)
	state := func() []string {
		return eval[[]string](b, `[document.querySelector('.striptext').textContent, String(document.querySelector('.think').checkVisibility()), getComputedStyle(document.querySelector('.figures')).visibility]`)
	}
	steps := eval[int](b, `document.querySelectorAll('.steps li').length`)
	for n := range steps {
		if s := state(); !strings.HasPrefix(s[0], fmt.Sprintf("Step %d of", n+1)) || s[1] != "true" || s[2] != "hidden" {
			t.Errorf("step %d is asked as %q", n+1, s)
		}
		b.Do(chromedp.KeyEvent(kb.ArrowRight))
		if s := state(); s[1] != "false" || s[2] != "visible" {
			t.Errorf("step %d is answered as %q", n+1, s)
		}
		b.Do(chromedp.KeyEvent(kb.ArrowRight))
	}
	b.Do(chromedp.KeyEvent(kb.ArrowLeft))
	if s := state(); s[1] != "true" {
		t.Errorf("the left arrow leads to %q", s)
	}
	b.Do(chromedp.KeyEvent(kb.Escape))
	if eval[bool](b, `document.documentElement.classList.contains('inroom')`) {
		t.Error("Escape does not leave the room")
	}
	b.clean(address)
}

// The slider of a rework sets one bench: its figures, and those as found and done, are always of one state.
func TestReworkBench(t *testing.T) {
	b := newBrowser(t)
	example, _ := examples.FindPlan("hot-chassis-plan")
	steps, err := plan.Parse("plan.toml", []byte(example.Text))
	if err != nil {
		t.Fatal(err)
	}
	c, _, err := rework.Run(exampleReport(t, "hot-chassis").Case.Set, steps)
	if err != nil {
		t.Fatal(err)
	}
	var out strings.Builder
	if err := Rework(&out, c); err != nil {
		t.Fatal(err)
	}
	b.Do(chromedp.EmulateViewport(360, 800))
	address := b.open(out.String())
	if got := eval[int64](b, `document.documentElement.scrollWidth`); got > 360 {
		t.Errorf("%d px wide on a screen of 360", got)
	}
	const row = `Array.prototype.map.call(document.querySelector('[data-compare]').closest('tr').querySelectorAll('td'), function (x) { return x.textContent; })`
	eval[bool](b, `document.querySelectorAll('.jumps button')[1].click(), true`)
	found := eval[[]string](b, row)
	if found[0] != found[1] || !strings.Contains(found[0], "live") || strings.Contains(found[2], "live") {
		t.Errorf("as found %q", found)
	}
	eval[bool](b, `document.querySelector('input.stage').focus(), true`)
	b.Do(chromedp.KeyEvent(kb.End))
	done := eval[[]string](b, row)
	if done[0] != found[0] || done[1] != done[2] || done[2] != found[2] {
		t.Errorf("done %q, as found %q", done, found)
	}
	if n := eval[int](b, `document.querySelectorAll('.plan li').length`); n != len(steps.Steps) {
		t.Errorf("%d steps, want %d", n, len(steps.Steps))
	}
	// At every place of the slider as many steps are marked as are done there.
	stops := eval[int](b, `Number(document.querySelector('input.stage').max)`)
	for stop := range stops + 1 {
		marked := eval[int](b, fmt.Sprintf(`(function (s) { s.value = '%d'; s.dispatchEvent(new Event('input', { bubbles: true })); return document.querySelectorAll('.plan li.done').length; })(document.querySelector('input.stage'))`, stop))
		want := 0
		switch name := eval[string](b, `document.querySelector('.stagenow').textContent`); name {
		case "as found":
		case "done":
			want = len(steps.Steps)
		default:
			if _, err := fmt.Sscanf(name, "after step %d", &want); err != nil {
				t.Errorf("place %d is called %q", stop, name)
			}
		}
		if marked != want {
			t.Errorf("place %d of the slider: %d steps are marked, want %d", stop, marked, want)
		}
	}
	if stops < 2 {
		t.Errorf("%d places", stops)
	}
	if wait := eval[string](b, `document.querySelector('.wait').textContent`); !strings.Contains(wait, "the plug stays out until step") {
		t.Errorf("told of the way: %q", wait)
	}
	b.clean(address)
}

// The button of the state that stands is pressed, and no other; once something else is set none is.
func TestStateButtons(t *testing.T) {
	b := newBrowser(t)
	address := b.open(examplePage(t, "line-bypass"))
	pressed := func() string {
		return eval[string](b, `Array.from(document.querySelectorAll('.jumps button'), function (x) { return x.getAttribute('aria-pressed') === 'true' ? x.textContent : ''; }).join('|')`)
	}
	names := eval[[]string](b, `Array.from(document.querySelectorAll('.jumps button'), function (x) { return x.textContent; })`)
	if len(names) != 3 || pressed() != names[0]+"||" {
		t.Fatalf("of %q there is pressed %q", names, pressed())
	}
	for i, want := range []string{names[0] + "||", "|" + names[1] + "|", "||" + names[2]} {
		eval[bool](b, fmt.Sprintf(`document.querySelectorAll('.jumps button')[%d].click(), true`, i))
		if got := pressed(); got != want {
			t.Errorf("after %s: %q", names[i], got)
		}
	}
	eval[bool](b, `(function () { var s = document.querySelector('form.controls select'); s.selectedIndex = (s.selectedIndex + 1) % s.options.length; s.dispatchEvent(new Event('change', { bubbles: true })); return true; })()`)
	if got := pressed(); got != "||" {
		t.Errorf("with another failure: %q", got)
	}
	b.clean(address)
}

// WorstByFailure's button: the failure on it makes some metal worse than the same state is without it.
func TestFailureMatters(t *testing.T) {
	shown := 0
	for _, e := range examples.Sets() {
		s := exampleSheet(t, e.Name)
		p, ok := s.WorstByFailure()
		if !ok {
			continue
		}
		shown++
		matters := false
		for m := range s.scenes {
			with, without := s.At(p, m), s.At(survey.Place{State: p.State}, m)
			matters = matters || without.Cleared || with.Class() > without.Class() || with.Severity() > 1.01*without.Severity()
		}
		if !matters || len(s.FaultSets[p.Faults]) != 1 {
			t.Errorf("%s: %s changes nothing", e.Name, faultsWords(s.k.Set, s.FaultSets[p.Faults]))
		}
	}
	if shown < 10 {
		t.Errorf("%d examples have such a state", shown)
	}
}
