package trace

import (
	"math/cmplx"
	"slices"

	"coldcheck/analysis"
)

// Foremost is the path of the current from the line to a piece of metal in a state: the one that carries
// the most of it. Where no current is to be had it is the one through conductors and loads alone, else
// through the fewest capacitors and resistors that stand for safeguards, of least impedance.
func Foremost(c *analysis.Circuit, state analysis.State, node string) *analysis.Path {
	w := c.Wiring(state)
	var shortest []analysis.Path
	for _, blade := range Sources(c, state) {
		if p, ok := w.Shortest(blade, node, analysis.Query{Avoid: w.EndsOf(blade)}); ok {
			shortest = append(shortest, p)
		}
	}
	if len(shortest) == 0 {
		return nil
	}
	if first := shareOut(c, state, node, shortest)[0]; first.share > carriesMost {
		return &first.path
	}
	if all := carriers(c, state, node, compared(w)); len(all) > 0 {
		return &all[0].path
	}
	return &shortest[0]
}

// carriesMost is the share of a current from which on no other path carries more of it, shareStep aside.
const carriesMost = 0.55

// ForemostBy is Foremost by one part, where any path of few safeguards leads by it.
func ForemostBy(c *analysis.Circuit, state analysis.State, node, part string) *analysis.Path {
	p := Foremost(c, state, node)
	if p == nil || part == analysis.SupplyName || p.Leads(part) {
		return p
	}
	w := c.Wiring(state)
	for _, other := range carriers(c, state, node, 2*compared(w)) {
		if other.path.Leads(part) {
			return &other.path
		}
	}
	return p
}

// Carrying is the path to the same metal that carries more of the current than a path through loads does and
// leads through what would have to fail, such as a capacitor beside a load: nil where there is none.
func Carrying(c *analysis.Circuit, state analysis.State, free *analysis.Path) *analysis.Path {
	if free == nil {
		return nil
	}
	if p := Foremost(c, state, free.To); slices.ContainsFunc(p.Barriers(), func(s analysis.Step) bool { return !HoldsVoltage(c, s, state) }) {
		return p
	}
	return nil
}

// Beside is a path that shares no load with another and carries a share of the current beside it,
// nil where none does. Impedances alone do not tell: small diodes charge what capacitors are in their way.
func Beside(c *analysis.Circuit, state analysis.State, p *analysis.Path) *analysis.Path {
	taken := map[string]bool{}
	for _, s := range p.Steps {
		if !s.Conducts() {
			taken[s.Part] = true
		}
	}
	other := leastPath(c, state, p.To, func(ch analysis.Channel) bool {
		return ch.Passes() && ch.Sort != analysis.Rectifying && !taken[ch.Part]
	})
	if other == nil || other.Ohms() > parallelShare*p.Ohms() || shareOut(c, state, p.To, []analysis.Path{*other})[0].share == 0 {
		return nil
	}
	return other
}

// parallelShare: a path in parallel with another has a share of the current worth telling up to so
// many times its impedance.
const parallelShare = 5

// WithoutSafeguards is the path through conductors and loads alone, of least impedance. A rectifier is part of
// it only where it is taken as conducting, or where there is no other path.
func WithoutSafeguards(c *analysis.Circuit, state analysis.State, node string) *analysis.Path {
	return leastPath(c, state, node, func(ch analysis.Channel) bool {
		return ch.Free() && (ch.Sort != analysis.Rectifying || ch.Piece == state.Rectifier)
	}, analysis.Channel.Free)
}

// leastPath is the path of least impedance through the channels of the first of the passes that gives
// one.
func leastPath(c *analysis.Circuit, state analysis.State, node string, passes ...func(analysis.Channel) bool) *analysis.Path {
	w := c.Wiring(state)
	for _, pass := range passes {
		if best := mostOf(c, state, node, pathsFrom(c, w, node, compared(w), pass)); best != nil {
			return best
		}
	}
	return nil
}

// Sources are the blades from which current comes to what is touched: the hot one, or both where both
// are, the foremost first. On a bench that parts the mains from earth, or where the building earths
// nothing, they are those that the solution has off the earth; both where neither is.
func Sources(c *analysis.Circuit, state analysis.State) []string {
	hot, neutral := c.Blades(state.Plug)
	switch {
	case !c.Floating() && !c.BothHot():
		return []string{hot}
	case !c.Floating():
		return []string{hot, neutral}
	}
	s := c.Solve(state)
	a, b := cmplx.Abs(s.Volts(hot)), cmplx.Abs(s.Volts(neutral))
	switch {
	case a > offEarth*b:
		return []string{hot}
	case b > offEarth*a:
		return []string{neutral}
	}
	return []string{hot, neutral}
}

// offEarth is how many times the volts of the other a side of the supply must have to be the one that
// current comes from: an earthed clip leaves the other next to nothing.
const offEarth = 10

// pathsFrom are up to n paths from each of the Sources to a node.
func pathsFrom(c *analysis.Circuit, w *analysis.Wiring, node string, n int, pass func(analysis.Channel) bool) []analysis.Path {
	var paths []analysis.Path
	for _, blade := range Sources(c, w.State) {
		paths = append(paths, w.Paths(blade, node, n, analysis.Query{Avoid: w.EndsOf(blade), Pass: pass})...)
	}
	return paths
}

// pathsCompared is how many paths are compared for the least impedance, pathsOfLarge how many in a
// wiring of more than manyChannels: each further one takes as long as the first.
const (
	pathsCompared = 8
	pathsOfLarge  = 2
	manyChannels  = 2000
)

// compared is how many paths are compared in a wiring.
func compared(w *analysis.Wiring) int {
	if len(w.Channels) > manyChannels {
		return pathsOfLarge
	}
	return pathsCompared
}
