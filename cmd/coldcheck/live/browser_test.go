package live

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"coldcheck/cmd/coldcheck/browsertest"
)

// tab is one that a live bench is open in.
type tab struct {
	*browsertest.Tab
	t testing.TB
}

func newTab(t testing.TB) *tab {
	t.Helper()
	return &tab{browsertest.Open(t), t}
}

func eval[T any](b *tab, script string) T {
	b.t.Helper()
	return browsertest.Eval[T](b.Tab, script)
}

// until waits until a script is true.
func (b *tab) until(what, script string) {
	b.t.Helper()
	if !settled(b.t, 30*time.Second, func() bool {
		return eval[bool](b, "(() => { try { return Boolean("+script+"); } catch { return false; } })()")
	}) {
		b.t.Fatalf("%s: never; the page says %q", what, eval[string](b, "document.body.innerText.slice(0, 3000)"))
	}
}

// choose has a person choose in a select.
func (b *tab) choose(selector, value string) {
	b.t.Helper()
	if !eval[bool](b, `(() => { const s = document.querySelector('`+selector+`'); s.value = '`+value+`'; s.dispatchEvent(new Event('change', { bubbles: true })); return s.value === '`+value+`'; })()`) {
		b.t.Fatalf("%s has no %s", selector, value)
	}
}

func (b *tab) text(selector string) string {
	b.t.Helper()
	return eval[string](b, "document.querySelector('"+selector+"').textContent")
}

// fits holds the page to a phone's width, and its controls to having names.
func (b *tab) fits() {
	b.t.Helper()
	if wide := eval[float64](b, "document.documentElement.scrollWidth"); wide > 360 {
		b.t.Errorf("on a phone of 360 px the page is %.0f px wide", wide)
	}
	if bare := eval[string](b, namelessScript); bare != "" {
		b.t.Errorf("controls without a name: %s", bare)
	}
}

// clean tells what went wrong in the tab, and what was asked for elsewhere.
func (b *tab) clean(x *at) {
	b.t.Helper()
	wrong, requests := b.Heard()
	for _, e := range wrong {
		if strings.Contains(e, "503 (Service Unavailable)") { // the bench was busy, and the page asked again
			continue
		}
		b.t.Errorf("the console has: %s", e)
	}
	for _, r := range requests {
		if !strings.HasPrefix(r, "http://"+x.host+"/") {
			b.t.Errorf("the page asked for %s", r)
		}
	}
}

// TestPageDrives: a failure set changes the figure; a part picked and taken out shows what that cures; a reading typed is
// judged; the plan is saved; the file saved elsewhere is new where the page stood; and the page asks for nothing but the
// bench, and nothing goes wrong in it.
func TestPageDrives(t *testing.T) {
	text := exampleText(t, "line-bypass")
	x := open(t, text)
	b := newTab(t)
	b.Do(chromedp.EmulateViewport(360, 800), chromedp.Navigate(x.URL()))
	b.until("the first state", "document.querySelectorAll('#metals .card .body').length > 0")
	before := b.text("#metals .body")

	b.choose("select.fault", "C1 shorted")
	b.until("another figure", "document.querySelector('#now').textContent.includes('C1 shorted')")
	if after := b.text("#metals .body"); after == before || !strings.Contains(b.text("#now"), "it was "+before) {
		t.Errorf("it was %s and is %s; told: %s", before, after, b.text("#now"))
	}
	if hash := eval[string](b, "location.hash"); !strings.Contains(hash, "failed=C1+shorted") {
		t.Errorf("in the address stands %q", hash)
	}
	if !eval[bool](b, "document.querySelectorAll('#metals .draw .cell').length > 0") {
		t.Error("nothing is drawn")
	}

	b.choose("#pick-part", "C1")
	b.until("offers", "[...document.querySelectorAll('#offers button')].some((o) => o.textContent === 'Remove C1')")
	b.Do(chromedp.Evaluate[chromedp.Void]("[...document.querySelectorAll('#offers button')].find((o) => o.textContent === 'Remove C1').click()"))
	b.until("what it cures", "/^Cured [1-9]/.test(document.querySelector('#plan-say').textContent)")
	if does := b.text("#plan-does"); !strings.Contains(does, "C1") || !strings.Contains(does, "by step 1") {
		t.Errorf("the plan does %q", does)
	}

	field := "document.querySelector('#checks .check input')"
	b.Do(chromedp.Evaluate[chromedp.Void](field + ".value = '3'; " + field + ".dispatchEvent(new Event('input', { bubbles: true }))"))
	b.until("judged", "/^Low/.test(document.querySelector('#checks .judged').textContent)")
	b.until("explained", "document.querySelector('#account').textContent.includes('not as described')")

	b.Do(chromedp.Evaluate[chromedp.Void]("document.querySelector('#save-plan').click()"))
	b.until("saved", "document.querySelector('#plan-saved').textContent.includes('set.plan.toml')")
	if data, err := os.ReadFile(filepath.Join(filepath.Dir(x.file), "set.plan.toml")); err != nil || !strings.Contains(string(data), `part     = "C1"`) {
		t.Errorf("%s, %v", data, err)
	}

	b.Do(chromedp.Evaluate[chromedp.Void]("document.querySelector('#plan').scrollIntoView()"))
	stood := eval[float64](b, "document.querySelector('#plan-h').getBoundingClientRect().top")
	put(t, x.file, renamed(text, "saved"))
	b.until("new after the save", "document.querySelector('#name').textContent.startsWith('saved ')")
	b.until("where it was", "document.querySelector('select.fault').value === 'C1 shorted' && document.querySelector('#steps li') !== null")
	if stands := eval[float64](b, "document.querySelector('#plan-h').getBoundingClientRect().top"); stands < stood-200 || stands > stood+200 {
		t.Errorf("the page stood at %.0f and stands at %.0f", stood, stands)
	}
	put(t, x.file, "[set\n")
	b.until("slips", "!document.querySelector('#slips').hidden && document.querySelector('#slips').textContent.includes('set.toml:1')")

	b.fits()
	// What was typed is there again after the page is loaded anew.
	put(t, x.file, text)
	b.until("mended", "document.querySelector('#slips').hidden")
	b.Do(chromedp.Navigate(x.URL() + "?again"))
	b.until("what was typed", "document.querySelector('#steps li') !== null && document.querySelector('#checks .check input') !== null && document.querySelector('#checks .check input').value === '3'")

	b.clean(x)

	// The bench ends: the page says so, and keeps what was typed.
	if err := x.end(); err != nil {
		t.Error(err)
	}
	b.until("told that it ended", "document.querySelector('#line').textContent.includes('closed at its terminal')")
	if eval[string](b, field+".value") != "3" {
		t.Error("what was typed is lost")
	}
}

// namelessScript lists the controls that have no name for who does not see them.
const namelessScript = `[...document.querySelectorAll('button, select, input, textarea')].filter((e) => !(e.textContent.trim() && e.tagName === 'BUTTON') && !e.getAttribute('aria-label') && !(e.labels && [...e.labels].some((l) => l.textContent.trim()))).map((e) => e.outerHTML.slice(0, 80)).join('; ')`

// TestDrawingsOnAnyScreen: whatever fails, the drawings are legible on a phone and on a bench computer, with the hand
// in view, and the page is no wider than the screen.
func TestDrawingsOnAnyScreen(t *testing.T) {
	for _, name := range []string{"floating-b-minus", "autotransformer", "done-properly"} {
		x := open(t, exampleText(t, name))
		b := newTab(t)
		names := x.files.now().base.faultNames()
		for i, width := range []int64{360, 390, 1280, 1920} {
			b.Do(chromedp.EmulateViewport(width, 900), chromedp.Navigate(x.URL()))
			b.until("the first state", "document.querySelectorAll('#metals .card .body').length > 0")
			for k := i; k < len(names); k += 7 {
				first := names[k]
				b.choose("select.fault", first)
				b.until(first, "new URLSearchParams(location.hash.slice(1)).getAll('failed')[0] === document.querySelector('select.fault').value")
				if wrong := eval[[]string](b, browsertest.Drawings); len(wrong) > 0 {
					t.Errorf("%s at %d px, %s: %s", name, width, first, strings.Join(wrong, "; "))
				}
			}
			if got := eval[int64](b, "document.documentElement.scrollWidth"); got > width {
				t.Errorf("%s: %d px wide on a screen of %d", name, got, width)
			}
		}
		b.clean(x)
	}
}
