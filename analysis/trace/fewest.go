package trace

import "coldcheck/analysis"

// FewestSafeguards is the path from the hot conductor to a node that has the fewest safeguards in
// any normal state; ok is false where there is none at all.
func FewestSafeguards(c *analysis.Circuit, node string) (best analysis.Path, ok bool) {
	for _, state := range c.Normal() {
		w := c.Wiring(state)
		hot, _ := c.Blades(state.Plug)
		p, found := w.Shortest(hot, node, analysis.Query{Avoid: w.Ends()})
		if found && (!ok || p.Cost() < best.Cost()) {
			best, ok = p, true
		}
	}
	return best, ok
}
