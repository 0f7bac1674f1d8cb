package live

import (
	"slices"
	"strings"
	"testing"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// TestHandToHand: what the bench tells from hand to hand, over all states with nothing failed and with one failure, is
// at its worst what the engine's search finds for the pair; and the worst of a state stands first.
func TestHandToHand(t *testing.T) {
	x := open(t, exampleText(t, "floating-b-minus"))
	c := x.files.now().base
	faults := [][]*analysis.Fault{nil}
	for _, f := range c.Faults {
		if len(faults) < 12 {
			faults = append(faults, []*analysis.Fault{f})
		}
	}
	pairs, told := 0, map[string]bool{}
	for _, set := range faults {
		worst := map[string]pairView{} // by names, over the states of the bench
		for _, plug := range []analysis.Polarity{analysis.AsMarked, analysis.Reversed} {
			for position := range c.Positions {
				a := askedOf(c, c.StateAt(plug, position).WithFaults(set...))
				got := post[stateAnswer](x, "state", a)
				if !slices.IsSortedFunc(got.Hands, func(v, w pairView) int { return w.Band - v.Band }) {
					t.Errorf("%v is not in order", got.Hands)
				}
				for _, v := range got.Hands {
					if known, ok := worst[v.Names]; !ok || v.Band > known.Band {
						worst[v.Names] = v
					}
					told[v.Body] = true
				}
			}
		}
		for i, a := range c.Points {
			for k, b := range c.Points[:i] {
				v, ok := worst[netlist.Visible(b.Name)+" and "+netlist.Visible(a.Name)]
				if !ok {
					v, ok = worst[netlist.Visible(a.Name)+" and "+netlist.Visible(b.Name)]
				}
				if w := c.WorstBetween(k, i, set...); ok && w != nil {
					pairs++
					if int(w.Class()) != v.Band || !told[phrase.Body(w.Reading)] {
						t.Errorf("%s with %v: the bench tells %+v at the worst, the search %s", v.Names, set, v, phrase.Body(w.Reading))
					}
				}
			}
		}
	}
	if pairs < 10 || !slices.ContainsFunc(c.Points, func(p analysis.TouchPoint) bool { return strings.Contains(p.Name, "chassis") }) {
		t.Errorf("only %d pairs", pairs)
	}
}
