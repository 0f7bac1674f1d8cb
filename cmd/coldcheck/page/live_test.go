package page

import (
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/analysis/survey"
	"coldcheck/netlist/examples"
	"coldcheck/rules/phrase"
)

// A state drawn by itself has the figure of the table of states, and a way that brings it wherever it is
// felt: with two failures, and with the controls anywhere.
func TestCardsOfAnyState(t *testing.T) {
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
			var nodes []string
			for _, m := range k.Metals {
				nodes = append(nodes, m.Node())
			}
			all, err := Cards(survey.Of(c, nodes, state), make([]string, len(nodes)), "live")
			if err != nil || len(all) != len(k.Metals) {
				t.Fatalf("%s: %d of %d pieces of metal, %v", e.Name, len(all), len(k.Metals), err)
			}
			for m, f := range all {
				worst := worstIn(c, state, pointIndex(c, k.Metals[m].Node()))
				if f.Body != phrase.Body(worst) {
					t.Errorf("%s, %s, %s: %s, want %s", e.Name, phrase.State(state), nodes[m], f.Body, phrase.Body(worst))
				}
				hot, _ := c.Blades(state.Plug)
				if f.Band == 0 || f.Band > 2 || nodes[m] == hot {
					continue
				}
				felt++
				if !strings.Contains(string(f.Ways), pathWords[survey.Brings]) {
					t.Errorf("%s, %s, %s: no way is drawn", e.Name, phrase.State(state), nodes[m])
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
