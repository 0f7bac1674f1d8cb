package page

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/netlist/examples"
	"coldcheck/rules/phrase"
)

// stand moves the controls to states as a person does, one after the other, and gives meter and body of every card in
// each. They are asked for together, for between questions a browser draws.
const stand = `(function (states) {
  var set = document.querySelector('article.set'), form = set.querySelector('form.controls');
  var choose = form.querySelector('select');
  var put = function (name, value) {
    var r = form.querySelector('input[name="' + set.id + '-' + name + '"][value="' + value + '"]');
    if (!r) { return false; }
    if (!r.checked) { r.click(); }
    return true;
  };
  return states.map(function (state) {
    put('plug', state.way);
    state.at.forEach(function (n, i) { put('c' + i, n); });
    if (!put('wrong', state.fault)) {
      choose.value = String(state.fault);
      choose.dispatchEvent(new Event('change', { bubbles: true }));
    }
    return Array.prototype.map.call(set.querySelectorAll('[data-metal]'), function (card) {
      return [card.querySelector('.meter').textContent, card.querySelector('.body').textContent, card.querySelector('.draw .mA').textContent,
        card.querySelector('.verdict').textContent, card.querySelector('.blade[data-blade="0"] .side') ? card.querySelector('.blade[data-blade="0"] .side').textContent : ''];
    });
  });
})(%s)`

// placed is a state as stand takes it: the way of the plug, the positions of the switches, and the fault, by their numbers.
type placed struct {
	Way   int   `json:"way"`
	At    []int `json:"at"`
	Fault int   `json:"fault"`
}

func placeOf(c *analysis.Circuit, state analysis.State, fault int) placed {
	p := placed{At: []int{}, Fault: fault}
	if state.Plug == analysis.Reversed {
		p.Way = 1
	}
	for k, control := range c.Switches {
		p.At = append(p.At, slices.Index(control.Positions, state.Settings[k].At))
	}
	return p
}

// stands asks for the cards of a page in states.
func (b *browser) stands(states ...placed) [][][]string {
	list, err := json.Marshal(states)
	if err != nil {
		b.t.Fatal(err)
	}
	return eval[[][][]string](b, fmt.Sprintf(stand, list))
}

// Moving the controls shows, for every state with no fault or one, what the engine's table of states
// says of it; nothing goes wrong in the console, and nothing but the page is asked for.
func TestControlsShowStates(t *testing.T) {
	for _, name := range []string{"hot-chassis", "three-way-portable", "european-dropper", "guitar-amplifier", "done-properly"} {
		t.Run(name, func(t *testing.T) {
			b := newBrowser(t)
			b.Do(chromedp.EmulateViewport(1920, 1080)) // where no drawing has to be moved in its box
			address := b.open(examplePage(t, name))
			r := exampleReport(t, name)
			c := r.Case.Circuit
			shown, tried := 0, 0
			for i, f := range append([]*analysis.Fault{nil}, c.Faults...) {
				var faults []*analysis.Fault
				if f != nil {
					faults = append(faults, f)
				}
				var states []analysis.State
				var places []placed
				for n, state := range c.Normal() {
					if (n+i)%3 == 0 { // a third of them, every fault and every state among those
						states, places = append(states, state), append(places, placeOf(c, state, i))
					}
				}
				rows := c.Judged(faults...)
				for n, cards := range b.stands(places...) {
					for m, metal := range r.Case.Metals {
						tried++
						if fits(c, rows, states[n], cards[m], pointIndex(c, metal.Node())) {
							shown++
						} else {
							t.Errorf("%s, %s, fault %d: the page shows %q", metal.Node(), states[n].Plug, i, cards[m])
						}
					}
				}
			}
			if tried == 0 || shown != tried {
				t.Errorf("%d of %d states are as the table has them", shown, tried)
			}
			b.clean(address)
		})
	}
}

// fits reports whether a card shows one of the rows, those of one choice of faults, of a state of plug and switches.
func fits(c *analysis.Circuit, rows []analysis.Row, state analysis.State, card []string, point int) bool {
	for _, row := range rows {
		if row.State.Plug != state.Plug || row.State.Without || comboOf(c, row.State) != comboOf(c, state) {
			continue
		}
		x := row.Readings[point]
		if card[0] == phrase.OnMeter(x) && card[1] == phrase.Body(x) && card[2] == card[1] && (card[3] == verdictHeads[3]) == row.Cleared {
			return true
		}
	}
	return false
}

// A step's button sets the controls to the step's figure, and Next and Back walk on.
func TestStepsSetTheBench(t *testing.T) {
	b := newBrowser(t)
	address := b.open(examplePage(t, "hot-chassis"))
	r := exampleReport(t, "hot-chassis")
	sheet := exampleSheet(t, "hot-chassis")
	foremost := sheet.Foremost()
	steps := sheet.lesson(r, foremost).Steps
	body := fmt.Sprintf(`document.querySelectorAll('[data-metal]')[%d].querySelector('.body').textContent`, foremost)
	for i, s := range steps {
		got := eval[string](b, fmt.Sprintf(`document.querySelectorAll('.steps button')[%d].click(), %s`, i, body))
		if !strings.Contains(s.Figure, got) {
			t.Errorf("step %d: the bench shows %s, the step says %s", i+1, got, s.Figure)
		}
		if said := eval[string](b, `document.querySelector('.striptext').textContent`); !strings.Contains(said, strings.TrimSpace(s.Do)) || !strings.Contains(said, strings.TrimSpace(s.Then)) {
			t.Errorf("step %d: the bench tells %q", i+1, said)
		}
	}
	eval[bool](b, `document.querySelectorAll('.steps button')[0].click(), true`)
	if got := eval[string](b, `document.querySelector('.strip .next').click(), `+body); !strings.Contains(steps[1].Figure, got) {
		t.Errorf("next: %s, want that of step 2: %s", got, steps[1].Figure)
	}
	if got := eval[string](b, `document.querySelector('.strip .back').click(), `+body); !strings.Contains(steps[0].Figure, got) {
		t.Errorf("back: %s, want that of step 1: %s", got, steps[0].Figure)
	}
	b.clean(address)
}

// Script in names stays text.
func TestNamesStayText(t *testing.T) {
	b := newBrowser(t)
	r := reportOf(t, smallSet)
	address := b.open(pageOf(t, r))
	eval[bool](b, `document.querySelectorAll('.steps button')[1].click(), true`)
	if title := eval[string](b, `document.title`); title == "caught" {
		t.Error("a name of the file ran as script")
	}
	if heading := eval[string](b, `document.querySelector('h1').textContent`); heading != netlist.Visible(r.Case.Set.Name) {
		t.Errorf("the heading is %q", heading)
	}
	if n := eval[int](b, `document.querySelectorAll('img, b:not(.meter):not(.body)').length`); n != 0 {
		t.Errorf("%d elements came out of names", n)
	}
	b.clean(address)
}

// The controls work by keyboard alone: Tab comes to them, an arrow moves the plug, and the figures
// follow.
func TestKeyboard(t *testing.T) {
	b := newBrowser(t)
	address := b.open(examplePage(t, "hot-chassis"))
	const focus = `(document.activeElement.name || document.activeElement.tagName)`
	reached := map[string]bool{}
	for range 60 {
		b.Do(chromedp.KeyEvent(kb.Tab))
		at := eval[string](b, focus)
		reached[at] = true
		if at == "set1-plug" {
			break
		}
	}
	if !reached["set1-plug"] || !reached["A"] || !reached["BUTTON"] {
		t.Fatalf("Tab comes to %v", reached)
	}
	before := eval[string](b, `document.querySelector('.body').textContent`)
	b.Do(chromedp.KeyEvent(kb.ArrowUp))
	after := eval[string](b, `document.querySelector('.body').textContent`)
	if before == after {
		t.Errorf("the arrow leaves %s", before)
	}
	if said := eval[string](b, `document.querySelector('.now').textContent`); !strings.Contains(said, after) {
		t.Errorf("%s is not announced: %q", after, said)
	}
	if n := eval[int](b, `Array.prototype.filter.call(document.querySelectorAll('input,select,button'), function (e) {
		return !(e.labels && e.labels.length) && !e.getAttribute('aria-label') && !e.textContent.trim();
	}).length`); n != 0 {
		t.Errorf("%d controls have no label", n)
	}
	b.clean(address)
}

// Long tables of the checklist are folded on a screen, unfold by the keyboard, and are whole on paper;
// with scripts off they are whole on a screen too.
func TestLongTablesFold(t *testing.T) {
	const shown = `Array.prototype.map.call(document.querySelectorAll('details.long:not(.fold) table'), function (e) { return e.checkVisibility(); })`
	b := newBrowser(t)
	address := b.open(examplePage(t, "series-string-doubler"))
	all := func(want bool, where string) {
		t.Helper()
		tables := eval[[]bool](b, shown)
		if len(tables) == 0 || slices.Contains(tables, !want) {
			t.Errorf("%s: shown %v, want all %v", where, tables, want)
		}
	}
	all(false, "on a screen")
	for _, outer := range []string{"#set1-checks details.fold > summary", "#set1-checks details.long:not(.fold) summary"} {
		eval[bool](b, fmt.Sprintf(`document.querySelector(%q).focus(), true`, outer))
		b.Do(chromedp.KeyEvent(kb.Enter))
	}
	if !eval[[]bool](b, shown)[0] {
		t.Error("Enter does not unfold the table")
	}
	eval[bool](b, `window.dispatchEvent(new Event('beforeprint')), true`)
	all(true, "on paper")
	eval[bool](b, `window.dispatchEvent(new Event('afterprint')), true`)
	if got := eval[[]bool](b, shown); !got[0] || got[1] {
		t.Errorf("after printing: shown %v, want the first alone", got)
	}
	b.Call(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	})
	b.clean(address)
	b.open(examplePage(t, "series-string-doubler"))
	all(true, "with scripts off")
}

// With scripts off the page reads whole, and every drawing shows its worst state.
func TestWithoutScripts(t *testing.T) {
	b := newBrowser(t)
	b.Call(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
		return err
	})
	b.open(examplePage(t, "hot-chassis"))
	if eval[bool](b, `document.querySelector('form.controls').checkVisibility() || document.querySelector('.steps button').checkVisibility()`) {
		t.Error("controls that do nothing are shown")
	}
	sheet := exampleSheet(t, "hot-chassis")
	for i := range sheet.scenes {
		want := phrase.Body(sheet.At(sheet.Worst(i), i).Reading)
		if got := eval[string](b, fmt.Sprintf(`document.querySelectorAll('[data-metal]')[%d].querySelector('.draw .mA').textContent`, i)); got != want {
			t.Errorf("%s is drawn with %s, its worst is %s", sheet.scenes[i].Node, got, want)
		}
		if !eval[bool](b, fmt.Sprintf(`document.querySelectorAll('[data-metal]')[%d].querySelector('.worst').checkVisibility()`, i)) {
			t.Error("the state is not told")
		}
	}
}

// Nothing that comes into the page can turn its links elsewhere.
func TestNoBase(t *testing.T) {
	b := newBrowser(t)
	address := b.open(examplePage(t, "hot-chassis"))
	got := eval[string](b, `(function () {
  var base = document.createElement('base');
  base.href = 'file:///elsewhere/';
  document.head.appendChild(base);
  return document.baseURI;
})()`)
	if got != address {
		t.Errorf("links of the page begin at %s, want %s", got, address)
	}
}

// Neither a phone nor a bench computer has to scroll the page sideways, in either scheme; text on
// the page keeps to its size.
func TestWidths(t *testing.T) {
	for _, name := range []string{"hot-chassis", "series-string-doubler", "done-properly"} {
		b := newBrowser(t)
		for _, width := range []int64{360, 768, 1366} {
			b.Do(chromedp.EmulateViewport(width, 800))
			b.open(examplePage(t, name))
			if got := eval[int64](b, `document.documentElement.scrollWidth`); got > width {
				t.Errorf("%s: %d px wide on a screen of %d", name, got, width)
			}
		}
	}
}

// On paper everything is black on white, the controls are left out, and A4 and Letter hold it.
func TestPrint(t *testing.T) {
	b := newBrowser(t)
	b.open(examplePage(t, "done-properly"))
	for name, paper := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
		pdf, err := chromedp.Run(b.Context(), chromedp.PrintToPDF(chromedp.PDFPaper(paper)))
		if err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(string(pdf), "%PDF-") || len(pdf) < 10000 {
			t.Errorf("%s: %d bytes of PDF", name, len(pdf))
		}
	}
	b.Call(func(ctx context.Context, tab *chromedp.Target) error {
		_, err := cdp.Call(ctx, tab, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print",
			Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: "dark"}}})
		return err
	})
	for selector, want := range map[string]string{"body": "rgb(0, 0, 0)", ".signal": "rgb(0, 0, 0)", ".soft, .facts": "rgb(0, 0, 0)"} {
		if got := eval[string](b, fmt.Sprintf(`getComputedStyle(document.querySelector(%q)).color`, selector)); got != want {
			t.Errorf("%s prints in %s", selector, got)
		}
	}
	if got := eval[string](b, `getComputedStyle(document.querySelector('.signal')).backgroundColor`); got != "rgb(255, 255, 255)" {
		t.Errorf("signal words print on %s", got)
	}
	if eval[bool](b, `document.querySelector('form.controls').checkVisibility()`) {
		t.Error("the controls are printed")
	}
}

// largestPage is the page of the example whose page is the largest.
func largestPage(t testing.TB) string {
	largest := ""
	for _, e := range examples.Sets() {
		if page := examplePage(t, e.Name); len(page) > len(largest) {
			largest = page
		}
	}
	return largest
}

// The largest example's controls answer once it is loaded, and tells when that was.
func TestUsableOnceLoaded(t *testing.T) {
	b := newBrowser(t)
	b.open(largestPage(t))
	if !eval[bool](b, answers) || eval[float64](b, untilUsable) < 0 {
		t.Error("the bench does not answer")
	}
}

const (
	// answers reports whether the controls do.
	answers = `!document.documentElement.classList.contains('still') && document.querySelector('.now').textContent !== ''`
	// untilUsable is the time from the last byte to controls that answer, in ms.
	untilUsable = `(function () {
		var n = performance.getEntriesByType('navigation')[0];
		return n.domContentLoadedEventEnd - n.responseEnd;
	})()`
)

// BenchmarkUsable: the best time from the last byte of the largest example's page to controls that
// answers, which is to be within 100 ms.
func BenchmarkUsable(b *testing.B) {
	browser, page := newBrowser(b), largestPage(b)
	best := math.Inf(1)
	for b.Loop() {
		browser.open(page)
		best = min(best, eval[float64](browser, untilUsable))
	}
	b.ReportMetric(best, "ms-usable")
}
