package examine

import (
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist/examples"
	"coldcheck/rules"
	"coldcheck/rules/rework/internal/reworktest"
)

// TestSuspectsBesideAFailure: a look for one failure finds every WARNING that a look for two does, also
// where two suspect parts fail with the one.
func TestSuspectsBesideAFailure(t *testing.T) {
	const three = `[set]
name = "three in a row"
[nodes]
chassis = { touch = "chassis" }
[parts]
PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
M1 = { kind = "motor", ends = ["line 1", "line 2"], volts = 120, watts = 20 }
C1 = { kind = "capacitor", ends = ["line 1", "a"], value = "0.001 uF", rating = "400 V", type = "paper" }
C2 = { kind = "capacitor", ends = ["a", "b"], value = "0.001 uF", rating = "400 V", type = "paper" }
C3 = { kind = "capacitor", ends = ["b", "chassis"], value = "0.001 uF", rating = "400 V", type = "film" }
C4 = { kind = "capacitor", ends = ["chassis", "line 2"], value = "0.001 uF", rating = "400 V", class = "Y1" }
`
	texts := map[string]string{"three in a row": three}
	for _, e := range examples.Sets() {
		texts[e.Name] = e.Text
	}
	for name, text := range texts {
		set := reworktest.Load(t, text)
		warnings := func(failures int) []rules.Finding {
			return slices.DeleteFunc(Report(set, failures).Findings, func(f rules.Finding) bool { return f.Signal < rules.Warning })
		}
		one, two := reworktest.Names(warnings(OneFailure)), reworktest.Names(warnings(analysis.DefaultFaults))
		if !slices.Equal(one, two) {
			t.Errorf("%s: at one failure %q, at two %q", name, one, two)
		}
		if name == "three in a row" && !slices.ContainsFunc(one, func(f string) bool { return strings.Contains(f, "one-capacitor") }) {
			t.Errorf("%s: %q has no failure that suspect parts let through", name, one)
		}
	}
}

// TestSideBySide: each is called once, and no more at a time than is asked for.
func TestSideBySide(t *testing.T) {
	for _, atOnce := range []int{1, 2, 1000} {
		var calls [7]atomic.Int64
		var now atomic.Int64
		SideBySide(len(calls), atOnce, func(i int) {
			if n := now.Add(1); n > int64(atOnce) {
				t.Errorf("%d at a time, want %d at most", n, atOnce)
			}
			calls[i].Add(1)
			now.Add(-1)
		})
		for i := range calls {
			if n := calls[i].Load(); n != 1 {
				t.Errorf("%d at a time: %d was called %d times", atOnce, i, n)
			}
		}
	}
}
