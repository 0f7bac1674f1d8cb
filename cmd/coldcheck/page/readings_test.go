package page

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"coldcheck/analysis"
	"coldcheck/analysis/diagnose"
	"coldcheck/cmd/coldcheck/reading"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/setfile"
)

// checklistPage is the checklist of an example as a page, and the checks of its fields in their order.
func checklistPage(t testing.TB, name string) (page string, checks []diagnose.Check) {
	t.Helper()
	l := diagnose.Checks(exampleReport(t, name).Case.Circuit)
	var b bytes.Buffer
	if err := Checklist(&b, l); err != nil {
		t.Fatal(err)
	}
	for _, s := range laidOut(l).Sections {
		for _, block := range s.Blocks {
			if block.Table == nil {
				continue
			}
			for _, row := range block.Table.Rows {
				for _, cell := range row.Cells {
					checks = append(checks, cell.Of...)
				}
			}
		}
	}
	return b.String(), checks
}

// typeInto types into a field, as a person would leave it.
func (b *browser) typeInto(n int, text string) string {
	quoted, err := json.Marshal(text)
	if err != nil {
		b.t.Fatal(err)
	}
	return eval[string](b, fmt.Sprintf(`(function () {
  var i = document.querySelectorAll('.field input')[%d];
  i.value = %s;
  i.dispatchEvent(new Event('input', { bubbles: true }));
  return i.closest('.field').querySelector('output').textContent;
})()`, n, quoted))
}

// TestFieldsJudgeAsTheEngineDoes: what a figure typed into a field of the page is said to be is what the engine says of
// it, whatever its spelling; a spelling that the page does not know is never read as another figure.
func TestFieldsJudgeAsTheEngineDoes(t *testing.T) {
	page, checks := checklistPage(t, "hot-chassis")
	circuit := exampleReport(t, "hot-chassis").Case.Circuit
	b := newBrowser(t)
	address := b.open(page)
	if n := eval[int](b, `document.querySelectorAll('.field input').length`); n != len(checks) || n < 20 {
		t.Fatalf("%d fields, %d checks", n, len(checks))
	}
	random := rand.New(rand.NewPCG(1, 2))
	read, off := 0, 0
	for n, c := range checks {
		typed := []string{"open", "OL", "", " ", "many", "-5", "1e300", "1e999", "4k7", "4R7", "4m7", "1.2 meg", ".47M", "47 K", "220M ohm", "12 V", "12 mV", "3 volts", "3 ohms", "3 Ω", "3 mA", "1/2", "1,000", "1,5", "0x10", "+5", "--5", "5 5", "5.", ".", "1e3", "1e3k", "5 kilo", "5kilohm", "5µV", "1.2.3", "∞", "10 r"}
		for _, edge := range []float64{c.Low, c.High, c.Expect} {
			for _, share := range []float64{0.97, 1, 1.03, random.Float64() * 3} {
				typed = append(typed, fmt.Sprintf("%.4g", edge*share))
			}
		}
		for _, text := range typed {
			value, err := reading.Figure(text, c.Quantity)
			want := ""
			switch {
			case strings.TrimSpace(text) == "":
			case err != nil:
				want = err.Error()
			default:
				_, want = reading.Judge(circuit, c, value)
			}
			got := b.typeInto(n, text)
			if got == want {
				if read++; want != "Right" {
					off++
				}
				continue
			}
			// Few spellings, of parts and not of meters, are read by the engine alone.
			if text == "1/2" || text == "1,000" {
				if !strings.HasPrefix(got, "not read: ") {
					t.Errorf("%s: %q is %q, and not read", reading.ID(c.Measurement), text, got)
				}
				continue
			}
			t.Errorf("%s: %q is %q, want %q", reading.ID(c.Measurement), text, got, want)
		}
		b.typeInto(n, "")
	}
	if read < 1000 || off < 100 {
		t.Errorf("%d alike, %d of them off: too few to tell", read, off)
	}
	b.clean(address)
}

// TestFieldsAreGivenOut: what is typed stands in the page's text as a set file has it, is there after the page was
// left and opened again, and is gone once it is forgotten.
func TestFieldsAreGivenOut(t *testing.T) {
	page, checks := checklistPage(t, "line-bypass")
	b := newBrowser(t)
	address := b.open(page)
	want := map[string]float64{}
	tied := 0
	for n, c := range checks {
		b.typeInto(n, fmt.Sprint(n+3))
		if c.Tied {
			tied++
		} else {
			want[reading.ID(c.Measurement)] = float64(n + 3) // the last, where heaters side by side read one and the same
		}
	}
	given := eval[string](b, `document.querySelector('.readings textarea').value`)
	if n := strings.Count(given, "(plug out, blades tied"); n != tied || tied == 0 {
		t.Errorf("%d remarks, want %d", n, tied)
	}
	var set string
	for _, e := range examples.Sets() {
		if e.Name == "line-bypass" {
			set = e.Text
		}
	}
	read, err := setfile.Load("set.toml", strings.NewReader(set+"\n"+given))
	if err != nil {
		t.Fatalf("no set file: %v\n%s", err, given)
	}
	circuit, err := analysis.New(read, analysis.Bench{})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range read.Readings {
		id := reading.ID(diagnose.MeasurementOf(circuit, r))
		if want[id] != r.Value {
			t.Errorf("%s reads %g, want %g", id, r.Value, want[id])
		}
		delete(want, id)
	}
	for id := range want {
		t.Errorf("%s is not given out", id)
	}
	b.Do(chromedp.Navigate("about:blank"))
	b.to(address)
	if again := eval[string](b, `document.querySelector('.readings textarea').value`); again != given {
		t.Errorf("after a reload it gives out %s", again)
	}
	if count := eval[string](b, `document.querySelector('.readings .count').textContent`); !strings.Contains(count, "MAKE NO HOT CHECK") {
		t.Errorf("readings that are off bar no hot check: %s", count)
	}
	eval[bool](b, `document.querySelector('.readings .forget').click(), true`)
	if left := eval[string](b, `Array.from(document.querySelectorAll('.field input'), function (i) { return i.value; }).join('')`); left != "" {
		t.Errorf("after forgetting there is %q", left)
	}
	b.Do(chromedp.Navigate("about:blank"))
	b.to(address)
	if again := eval[bool](b, `document.querySelector('.given').hidden`); !again {
		t.Error("what was forgotten came back")
	}
}

// TestFieldsAreNamedApart: every field of the pages of the examples has a name of its own for those who do not see it,
// and one that must not be measured has none.
func TestFieldsAreNamedApart(t *testing.T) {
	b := newBrowser(t)
	for _, name := range []string{"hot-chassis", "floating-b-minus", "tape-jack"} {
		page, _ := checklistPage(t, name)
		for _, html := range []string{page, examplePage(t, name)} {
			b.open(html)
			if twice := eval[[]string](b, `(function () {
  var names = Array.from(document.querySelectorAll('.field input'), function (i) { return i.getAttribute('aria-label'); });
  return names.length ? names.filter(function (n, i) { return names.indexOf(n) !== i; }) : ['there is no field'];
})()`); len(twice) > 0 {
				t.Errorf("%s: %q", name, twice)
			}
			if barred := eval[int](b, `document.querySelectorAll('td:has(.bar) .field').length`); barred != 0 {
				t.Errorf("%s: %d fields where nothing may be measured", name, barred)
			}
		}
	}
}
