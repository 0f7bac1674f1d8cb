package page

import (
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist/examples"
	"coldcheck/rules/phrase"
)

// A state drawn by itself has the figure of the table of states, and a way that brings it wherever it is
// felt: with two failures, and with the controls anywhere.
func TestFragments(t *testing.T) {
	felt := 0
	for _, e := range examples.Sets() {
		k := exampleReport(t, e.Name).Case
		c := k.Circuit
		for i, state := range c.Normal() {
			if i%3 != 0 || len(c.Faults) < 2 {
				continue
			}
			f, g := c.Faults[i%len(c.Faults)], c.Faults[(i+len(c.Faults)/2)%len(c.Faults)]
			if f.Part == g.Part {
				continue
			}
			state = state.WithFaults(f, g)
			all, err := Fragments(k, state, "live")
			if err != nil || len(all) != len(k.Metals) {
				t.Fatalf("%s: %d of %d pieces of metal, %v", e.Name, len(all), len(k.Metals), err)
			}
			for m, f := range all {
				worst := worstIn(c, state, pointIndex(c, k.Metals[m].Node()))
				if !strings.Contains(f.HTML, phrase.Body(worst)) {
					t.Errorf("%s, %s, %s: the card lacks %s", e.Name, phrase.State(state), f.Node, phrase.Body(worst))
				}
				hot, _ := c.Blades(state.Plug)
				if f.Band == 0 || f.Band > 2 || f.Node == hot {
					continue
				}
				felt++
				if !strings.Contains(f.HTML, pathWords[3]) {
					t.Errorf("%s, %s, %s: no way is drawn", e.Name, phrase.State(state), f.Node)
				}
			}
		}
	}
	if felt < 20 {
		t.Errorf("something is felt in %d states", felt)
	}
}

// worstIn is the worst reading of a state, whichever rectifier conducts, or what a fuse leaves of it.
func worstIn(c *analysis.Circuit, state analysis.State, point int) analysis.Reading {
	var worst analysis.Reading
	cleared := false
	for _, row := range c.Judged(state.Faults...) {
		if row.State.Plug != state.Plug || row.State.Position != state.Position || row.State.Without {
			continue
		}
		x := row.Readings[point]
		switch {
		case len(row.State.Blown) > 0:
			if !row.Cleared && x.Class() > analysis.UnderLimit && (cleared || x.Severity() > worst.Severity()) {
				worst = x
			}
		case row.State.Rectifier == "":
			worst, cleared = x, row.Cleared
		case x.Class() > worst.Class() || x.Class() == worst.Class() && x.Severity() > worst.Severity():
			worst = x
		}
	}
	return worst
}
