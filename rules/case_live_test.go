package rules

import (
	"strings"
	"testing"

	"coldcheck/analysis"
)

// TestWorstBlocking: metal that is live with every rectifier blocking is told so, though one that conducts reads more:
// that is the plainer state. Where it takes the rectifier the worst of all is told, and nothing of states that are cleared.
func TestWorstBlocking(t *testing.T) {
	m := &Metal{places: []int{0}}
	row := func(rectifier string, milliamps float64, cleared bool) analysis.Row {
		return analysis.Row{State: analysis.State{Plug: analysis.AsMarked, Rectifier: rectifier}, Cleared: cleared,
			Readings: []analysis.Reading{{VoltsOpen: 120, VoltsMeter: 120, Milliamps: milliamps}}}
	}
	for name, c := range map[string]struct {
		rows      []analysis.Row
		rectifier string
		milliamps float64
	}{
		"live, and more conducting":     {[]analysis.Row{row("", 60, false), row("V1:5", 90, false)}, "", 60},
		"live conducting alone":         {[]analysis.Row{row("", 0.1, false), row("V1:5", 90, false)}, "V1:5", 90},
		"felt, and more conducting":     {[]analysis.Row{row("", 1, false), row("V1:5", 2, false)}, "V1:5", 2},
		"nothing much either way":       {[]analysis.Row{row("", 0.2, false), row("V1:5", 0.1, false)}, "", 0.2},
		"blocking cleared":              {[]analysis.Row{row("", 90, true), row("V1:5", 60, false)}, "V1:5", 60},
		"conducting cleared":            {[]analysis.Row{row("", 0.3, false), row("V1:5", 90, true)}, "", 0.3},
		"the worst blocking of several": {[]analysis.Row{row("", 20, false), row("V1:5", 90, false), row("", 70, false)}, "", 70},
	} {
		w := worstBlocking(c.rows, m)
		if w == nil || w.State.Rectifier != c.rectifier || w.Milliamps != c.milliamps {
			t.Errorf("%s: told is %+v", name, w)
		}
	}
	if w := worstBlocking([]analysis.Row{row("", 90, true)}, m); w != nil {
		t.Errorf("a state that is cleared is told: %+v", w)
	}
}

// TestEachSwitchThatDoesNotHelpOnce: metal on line 2 itself is live with the plug reversed whatever stands off; each
// switch is named once, however many states have it off.
func TestEachSwitchThatDoesNotHelpOnce(t *testing.T) {
	r := check(t, polarized, switchHot, wireNeut, loadHB, `W3 = { kind = "wire", ends = ["line 2", "chassis"] }`,
		`S2 = { kind = "switch", ends = ["H", "motor"] }`, `R2 = { kind = "resistor", ends = ["motor", "B-"], value = 800 }`)
	f := one(t, r, "polarity-only", Danger)
	if notes := strings.Join(f.Notes, "\n"); !strings.Contains(notes, "with S1, S2 off it is live all the same") {
		t.Errorf("notes %q", f.Notes)
	}
}

// TestPolarityOnlyTellsTheOneFailure: where the neutral coming off is all that it takes the right way round, that is said.
func TestPolarityOnlyTellsTheOneFailure(t *testing.T) {
	r := check(t,
		`PL1 = { kind = "plug", style = "polarized", hot = "line 1", neutral = "chassis" }`,
		`R1 = { kind = "resistor", ends = ["line 1", "chassis"], value = 500 }`)
	f := one(t, r, "polarity-only", Danger)
	if notes := strings.Join(f.Notes, "\n"); !strings.Contains(notes, "one failure makes it live all the same: ") || strings.Contains(notes, "more than one failure") {
		t.Errorf("told is %q", f.Notes)
	}
}
