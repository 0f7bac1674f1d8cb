package page

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/analysistest"
	"coldcheck/netlist/examples"
	"coldcheck/rules"
)

func reportOf(t testing.TB, text string) *rules.Report {
	t.Helper()
	return rules.Check(analysistest.Of(t, text), analysis.Options{Faults: analysis.DefaultFaults})
}

// known is what was worked out for an example: tests share it.
var known = struct {
	reports map[string]*rules.Report
	sheets  map[string]*sheet
	pages   map[string]string
}{map[string]*rules.Report{}, map[string]*sheet{}, map[string]string{}}

func exampleReport(t testing.TB, name string) *rules.Report {
	t.Helper()
	if known.reports[name] == nil {
		e, ok := examples.FindSet(name)
		if !ok {
			t.Fatalf("no example %s", name)
		}
		known.reports[name] = reportOf(t, e.Text)
	}
	return known.reports[name]
}

func exampleSheet(t testing.TB, name string) *sheet {
	t.Helper()
	if known.sheets[name] == nil {
		known.sheets[name] = newSheet(exampleReport(t, name).Case)
	}
	return known.sheets[name]
}

func examplePage(t testing.TB, name string) string {
	t.Helper()
	if known.pages[name] == "" {
		known.pages[name] = pageOf(t, exampleReport(t, name))
	}
	return known.pages[name]
}

func pageOf(t testing.TB, reports ...*rules.Report) string {
	t.Helper()
	var b bytes.Buffer
	if err := Inspect(&b, reports); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// embedded reads the table back out of a page.
func embedded(t testing.TB, page string) dataView {
	t.Helper()
	const open = `<script type="application/json" class="table">`
	_, rest, ok := strings.Cut(page, open)
	if !ok {
		t.Fatal("the page has no table")
	}
	text, _, _ := strings.Cut(rest, "</script>")
	var d benchData
	if err := json.Unmarshal([]byte(text), &d); err != nil {
		t.Fatal(err)
	}
	for _, m := range d.Stages[0].all() {
		m.Words = d.Words
	}
	return *d.Stages[0]
}

// smallSet is a hot chassis with a capacitor to an antenna, and names that a page must not take
// for its own text.
const smallSet = `format = 1
[set]
name = "<script>document.title='caught'</script> & <b>bold</b>"
mains = "120 V 60 Hz"
note = "</script><script>document.title='caught'</script>"
[nodes]
"chassis <img src=x onerror=document.title='caught'>" = { touch = "chassis" }
"antenna\" onmouseover=\"document.title='caught'" = { touch = "antenna" }
[parts]
PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "line 2" }
S1 = { kind = "switch", ends = ["line 2", "chassis <img src=x onerror=document.title='caught'>"] }
R1 = { kind = "resistor", ends = ["line 1", "chassis <img src=x onerror=document.title='caught'>"], value = "800" }
C1 = { kind = "capacitor", ends = ["chassis <img src=x onerror=document.title='caught'>", "antenna\" onmouseover=\"document.title='caught'"], value = "0.1 uF", rating = "630 V", type = "film" }
`
