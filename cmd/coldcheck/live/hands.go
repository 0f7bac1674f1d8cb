package live

import (
	"cmp"
	"slices"

	"coldcheck/analysis"
	"coldcheck/cmd/coldcheck/page"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// pairView is what passes from hand to hand between two pieces of metal.
type pairView struct {
	Names string `json:"names"`
	Band  int    `json:"band"`
	Body  string `json:"body"`
	Head  string `json:"head"`
}

// mostHands is how many pieces of metal are taken in pairs.
const mostHands = 12

// hands reads from hand to hand between the pieces of metal of some cards, each at its point that reads worst. Where
// the line is shorted nothing is told.
func (c *circuitOf) hands(state analysis.State, cards []card) []pairView {
	point := func(k card) int {
		return slices.IndexFunc(c.Points, func(p analysis.TouchPoint) bool { return p.Name == k.Node })
	}
	var pairs [][2]int
	var names []string
	for i, a := range cards[:min(len(cards), mostHands)] {
		for _, b := range cards[:i] {
			pairs = append(pairs, [2]int{point(b), point(a)})
			names = append(names, netlist.Visible(b.Node)+" and "+netlist.Visible(a.Node))
		}
	}
	views, severity := []pairView{}, map[string]float64{}
	for i, w := range c.WorstsBetweenIn(state.Position, state.Plug, pairs, state.Faults...) {
		if w == nil {
			continue
		}
		v := pairView{Names: names[i], Body: phrase.Body(w.Reading)}
		v.Band, v.Head = page.Verdict(w.Reading)
		severity[v.Names] = w.Severity()
		views = append(views, v)
	}
	slices.SortStableFunc(views, func(v, w pairView) int {
		return cmp.Or(cmp.Compare(w.Band, v.Band), cmp.Compare(severity[w.Names], severity[v.Names]))
	})
	return views
}
