package page

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"html"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/text"
	"coldcheck/netlist/examples"
	"coldcheck/netlist/setfile"
	"coldcheck/rules"
	"coldcheck/rules/phrase"
	"coldcheck/rules/rework"
)

// The same set gives the same bytes.
func TestSameBytes(t *testing.T) {
	for _, name := range []string{"hot-chassis", "three-way-portable"} {
		e, _ := examples.FindSet(name)
		if examplePage(t, name) != pageOf(t, reportOf(t, e.Text)) {
			t.Errorf("%s: two pages of one set differ", name)
		}
	}
}

// A page of any example stays under its size, names nothing outside itself, and promises nothing.
func TestSizeAndSelfContained(t *testing.T) {
	const most = 300_000 // bytes: of the largest example
	outside := regexp.MustCompile(`(?i)https?:|//[a-z]|\bsrc\s*=|<link|@import|url\((?:[^#]|$)|<iframe|<object|<form[^>]*action| style=| on[a-z]+=`)
	promise := regexp.MustCompile(`(?i)\b(is|are|be|now) safe\b|\bsafe to\b|\bsafely\b`)
	for _, e := range examples.Sets() {
		page := examplePage(t, e.Name)
		if len(page) >= most {
			t.Errorf("%s: %d bytes", e.Name, len(page))
		}
		if found := outside.FindString(page); found != "" {
			t.Errorf("%s: the page has %q", e.Name, found)
		}
		if found := promise.FindString(page); found != "" {
			t.Errorf("%s: the page promises: %q", e.Name, found)
		}
	}
}

// The policy allows the style and the script that are in the page, and nothing else.
func TestPolicy(t *testing.T) {
	page := pageOf(t, reportOf(t, smallSet))
	between := func(open, end string) string {
		_, rest, ok := strings.Cut(page, open)
		if !ok {
			t.Fatalf("no %s", open)
		}
		body, _, _ := strings.Cut(rest, end)
		return body
	}
	_, script, _ := strings.Cut(page[strings.LastIndex(page, "<script>"):], "<script>")
	script, _, _ = strings.Cut(script, "</script>")
	for kind, body := range map[string]string{"style-src": between("<style>", "</style>"), "script-src": script} {
		sum := sha256.Sum256([]byte(body))
		want := fmt.Sprintf("%s &#39;sha256-%s&#39;", kind, strings.ReplaceAll(base64.StdEncoding.EncodeToString(sum[:]), "+", "&#43;"))
		if !strings.Contains(page, want) {
			t.Errorf("the policy lacks %s", want)
		}
	}
	// Neither base-uri nor form-action falls back on default-src (Content Security Policy 3, 6.1).
	for _, kind := range []string{"default-src", "base-uri", "form-action"} {
		if !strings.Contains(page, kind+" &#39;none&#39;") {
			t.Errorf("the policy lets something through: no %s", kind)
		}
	}
}

// What the file names stays text.
func TestEscaped(t *testing.T) {
	page := pageOf(t, reportOf(t, smallSet))
	if n := strings.Count(page, "<script"); n != 3 {
		t.Errorf("%d scripts, want the table, the fields and the program's own", n)
	}
	for _, raw := range []string{"<img", "<b>bold", `onmouseover="`} {
		if strings.Contains(page, raw) {
			t.Errorf("the page has %q unescaped", raw)
		}
	}
}

// Every figure in the embedded table is that of the table of states: the worst of what the state can be,
// whichever rectifier conducts.
func TestTableIsThatOfStates(t *testing.T) {
	for _, e := range examples.Sets() {
		r := exampleReport(t, e.Name)
		c := r.Case.Circuit
		d := embedded(t, examplePage(t, e.Name))
		type key struct{ fault, way, combo int }
		rows := map[key][]analysis.Row{}
		number := map[*analysis.Fault]int{}
		for i, f := range c.Faults {
			number[f] = i + 1
		}
		seen := 0
		c.EachState(1, analysis.Filter{}, func(row analysis.Row) bool {
			k := key{combo: comboOf(c, row.State)}
			if len(row.State.Faults) == 1 {
				k.fault = number[row.State.Faults[0]]
			}
			if row.State.Plug == analysis.Reversed {
				k.way = 1
			}
			row.Readings = append([]analysis.Reading(nil), row.Readings...)
			rows[k] = append(rows[k], row)
			seen++
			return true
		})
		if seen == 0 {
			t.Fatalf("%s: no states", e.Name)
		}
		for k, list := range rows {
			var left *analysis.Row
			if list[0].Cleared {
				left = leftByFuses(c, k.fault, k.way, list[0].State.Position)
			}
			for m, metal := range r.Case.Metals {
				point := pointIndex(c, metal.Node())
				entry := d.Metals[m].entry((k.fault*2+k.way)*d.Combos + k.combo)
				what := fmt.Sprintf("%s %+v %s", e.Name, k, metal.Node())
				if left != nil && left.Readings[point].Class() > analysis.UnderLimit {
					if !strings.HasPrefix(entry[3].(string), blownNote(left.State.Blown)) {
						t.Errorf("%s: does not tell what a blown fuse leaves: %v", what, entry)
						continue
					}
					checkEntry(t, what, entry, []analysis.Row{*left}, point)
					continue
				}
				checkEntry(t, what, entry, list, point)
			}
		}
	}
}

// leftByFuses is the state that a short of the line leaves once its fuses have opened, nil where there
// is none or it is cleared as well.
func leftByFuses(c *analysis.Circuit, fault, way, position int) *analysis.Row {
	var faults []*analysis.Fault
	if fault > 0 {
		faults = append(faults, c.Faults[fault-1])
	}
	for _, row := range c.JudgedAt(c.Rest(), faults...) {
		if len(row.State.Blown) > 0 && !row.Cleared && row.State.Rectifier == "" && row.State.Position == position && row.State.Plug.HotBlade() == way {
			return &row
		}
	}
	return nil
}

func checkEntry(t *testing.T, what string, entry []any, rows []analysis.Row, point int) {
	t.Helper()
	var worst float64
	band := analysis.UnderLimit
	shown := -1
	for i, row := range rows {
		x := row.Readings[point]
		worst = math.Max(worst, x.Severity())
		band = max(band, x.Class())
		if entry[1] == phrase.Body(x) && entry[0] == phrase.OnMeter(x) && (shown < 0 || x.Severity() > rows[shown].Readings[point].Severity()) {
			shown = i
		}
	}
	if shown < 0 {
		t.Errorf("%s: %v is in no row of states", what, entry[:2])
		return
	}
	x := rows[shown].Readings[point]
	if x.Class() < band {
		t.Errorf("%s: shown in class %d, and states has %d", what, x.Class(), band)
	}
	if worst > x.Severity()*1.0001 && !worseClass(rows, x, point) {
		t.Errorf("%s: shown %g, and states has %g", what, x.Severity(), worst)
	}
	if got := entry[2].(int) == int(verdictCleared); got != rows[0].Cleared {
		t.Errorf("%s: told as cleared %v", what, got)
	}
}

// worseClass reports whether what is shown is of a worse class than any row that carries more.
func worseClass(rows []analysis.Row, x analysis.Reading, point int) bool {
	for _, row := range rows {
		if y := row.Readings[point]; y.Severity() > x.Severity() && y.Class() >= x.Class() {
			return false
		}
	}
	return true
}

func pointIndex(c *analysis.Circuit, node string) int {
	for i, p := range c.Points {
		if p.Name == node {
			return i
		}
	}
	return -1
}

func comboOf(c *analysis.Circuit, s analysis.State) int {
	n := 0
	for i, control := range c.Switches {
		for k, at := range control.Positions {
			if s.Settings[i].At == at {
				n = n*len(control.Positions) + k
			}
		}
	}
	return n
}

// Words of figures keep three digits of what they tell.
func TestFigureWords(t *testing.T) {
	r := analysis.Reading{VoltsMeter: 119.94, Milliamps: 60.42, VoltsDC: 165.3, MilliampsDC: 82.6}
	if got := phrase.OnMeter(r); got != "120 V AC, 165 V DC open" {
		t.Error(got)
	}
	if got := phrase.Body(r); got != "60.4 mA AC and 82.6 mA DC" {
		t.Error(got)
	}
	if got := phrase.Body(analysis.Reading{Milliamps: 0.5}); got != "0.5 mA AC" {
		t.Error(got)
	}
}

// The scale is logarithmic, five decades from 0.01 mA.
func TestScale(t *testing.T) {
	for milliamps, want := range map[float64]int{0: 0, 0.01: 0, 0.1: 200, 1: 400, 10: 600, 100: 800, 1000: 1000, 5000: 1000, 0.5: 340, 5: 540, 40: 720} {
		if got := onScale(milliamps); got != want {
			t.Errorf("%g mA stands at %d, want %d", milliamps, got, want)
		}
	}
	for limit, at := range map[float64]int{analysis.ES1AmpsAC: 340, analysis.ES2AmpsAC: 540, heartAmps: 720, analysis.ES1AmpsDC: 460, analysis.ES2AmpsDC: 680} {
		if got := onScale(limit); got != at || !strings.Contains(pageText, "M"+strconv.Itoa(at)+" ") {
			t.Errorf("the limit of %g mA belongs at %d; the page draws it elsewhere", limit, got)
		}
	}
}

// Every colour that text has stands out from what it is on by 4.5 to 1, lines by 3 to 1 (WCAG 2.2,
// 1.4.3 and 1.4.11).
func TestContrast(t *testing.T) {
	schemes := regexp.MustCompile(`:root\{([^}]*)\}`).FindAllStringSubmatch(styleText, 2)
	if len(schemes) != 2 {
		t.Fatal("no two schemes of colours")
	}
	for _, scheme := range schemes {
		colour := map[string]string{}
		for _, m := range regexp.MustCompile(`--(\w+):(#[0-9a-f]+)`).FindAllStringSubmatch(scheme[1], -1) {
			colour[m[1]] = m[2]
		}
		for _, on := range []string{"paper", "panel", "wash"} {
			for name, least := range map[string]float64{"ink": 7, "soft": 4.5, "act": 4.5} {
				if c := contrast(colour[name], colour[on]); c < least {
					t.Errorf("%s %s on %s %s: %.2f", name, colour[name], on, colour[on], c)
				}
			}
		}
		if c := contrast(colour["line"], colour["panel"]); c < 3 {
			t.Errorf("line on panel: %.2f", c)
		}
	}
	signals := regexp.MustCompile(`\.(danger|warning|caution|notice)\{background:(#[0-9a-f]{6});color:(#[0-9a-f]+)`).FindAllStringSubmatch(styleText, -1)
	if len(signals) != 4 {
		t.Fatalf("%d signal words have colours", len(signals))
	}
	for _, s := range signals {
		if c := contrast(s[3], s[2]); c < 4.5 {
			t.Errorf("%s: %.2f", s[1], c)
		}
	}
}

func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

func luminance(hex string) float64 {
	hex = strings.TrimPrefix(hex, "#")
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	sum := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			return math.NaN()
		}
		v := float64(n) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		sum += weight * v
	}
	return sum
}

// A page of two reports has both, before first, and the counts of each point side by side.
func TestRework(t *testing.T) {
	var b bytes.Buffer
	before, after := exampleReport(t, "hot-chassis"), exampleReport(t, "done-properly")
	if err := Rework(&b, rework.Compare(before, after)); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	i, j := strings.Index(page, before.Case.Set.Name), strings.Index(page, after.Case.Set.Name)
	if i < 0 || j < i {
		t.Errorf("before at %d, after at %d", i, j)
	}
	p, q := before.Case.Result.Point("chassis"), after.Case.Result.Point("chassis")
	row := fmt.Sprintf(`<tr><th scope="row"><bdi>chassis</bdi></th><td>%d</td><td>%d</td></tr>`, p.Depth, q.Depth)
	if !strings.Contains(page, row) {
		t.Errorf("no row %s", row)
	}
	if ids := regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(page, -1); len(ids) > 0 {
		seen := map[string]bool{}
		for _, id := range ids {
			if seen[id[1]] {
				t.Errorf("two things are called %s", id[1])
			}
			seen[id[1]] = true
		}
	}
}

// Each finding is in the page with its signal word, remedy and caution.
func TestFindingsAreThere(t *testing.T) {
	r := exampleReport(t, "guitar-amplifier")
	page := pageOf(t, r)
	for _, f := range r.Findings {
		for _, words := range []string{"Why this matters: " + f.Rule.Name, html.EscapeString(f.Rule.Why), f.Signal.String()} {
			if !strings.Contains(page, words) {
				t.Errorf("%s: no %q", f.Rule.Name, words)
			}
		}
	}
	if n := strings.Count(page, `<div class="finding">`); n != len(r.Findings) {
		t.Errorf("%d findings on the page, want %d", n, len(r.Findings))
	}
	if !strings.Contains(page, text.BlindSpots(r.Case)[0]) {
		t.Error("what was not looked at is not told")
	}
}

// Any set that loads has a page, on any bench.
func TestAnySet(t *testing.T) {
	files, err := filepath.Glob("../../../netlist/setfile/testdata/valid/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatal("no set files to try", err)
	}
	for _, file := range files {
		set, err := setfile.LoadFile(file, nil)
		if err != nil {
			t.Fatal(err)
		}
		first := set.Nodes[0].Name
		for _, bench := range []analysis.Bench{{}, {Isolated: true}, {Isolated: true, Earthed: []string{first}}} {
			c, err := analysis.New(set, bench)
			if err != nil {
				t.Fatal(err)
			}
			page := pageOf(t, rules.Check(c, analysis.Options{Faults: 1}))
			if n := strings.Count(page, " data-metal "); n == 0 && len(c.Points) > 0 {
				t.Errorf("%s: no card", file)
			}
		}
	}
}
