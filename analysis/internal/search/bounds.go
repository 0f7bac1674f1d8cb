package search

import (
	"fmt"

	"coldcheck/analysis/budget"
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
)

// What a search may take in bytes; in evaluations budget.Search says it. Beyond either it looks at fewer
// failures at once, and says so.
const (
	// mostBytes is what the equations of all switch positions may take together.
	mostBytes = 250 << 20
	// mostColumns is how many bytes of the ports' columns are kept at once.
	mostColumns = 192 << 20
	// fewColumns is how many bytes of them are kept also where not all are read.
	fewColumns = 16 << 20
)

// Reduced says that a search was asked to look at more failures at once than it can finish.
type Reduced struct {
	Asked       int     // the K that was asked for
	Together    int     // how many faults are tried together
	Evaluations float64 // how many states with a set of faults there are
}

// bounded lowers what is looked at at once to what can be finished: K first, then how many faults are
// together. Single failures are always looked at.
func bounded(n *nodal.Network, asked Options) (o Options, reduced *Reduced) {
	o = asked
	full := n.Circuit.CountStates() * countSets(n.Circuit, o)
	for evaluations(n, o) > float64(budget.Search) || o.Faults > 1 && columnBytes(n) > mostColumns {
		switch {
		case o.Together > o.Faults+1:
			o.Together--
		case o.Faults > 1:
			o.Faults--
			o.Together = min(o.Together, o.Faults+1)
		case o.Together > 1:
			o.Together--
		default:
			return o, &Reduced{asked.Faults, o.Together, full}
		}
	}
	if o != asked {
		reduced = &Reduced{asked.Faults, o.Together, full}
	}
	return o, reduced
}

// evaluations estimates what a search up to K takes, in evaluations of a state of a set with few touch
// points.
func evaluations(n *nodal.Network, o Options) float64 {
	return n.Circuit.CountStates() * countSets(n.Circuit, o) * costOfOne(n.Circuit)
}

// SingleFailures estimates what it takes to examine a circuit at single failures, in evaluations.
func SingleFailures(n *nodal.Network) float64 {
	return evaluations(n, Options{Faults: 1, Together: DefaultFaults + 1})
}

// countSets counts the sets of faults that a search goes through.
func countSets(c *circuit.Circuit, o Options) float64 {
	free, costly := c.CountFaults()
	choose := func(n float64, k int) float64 {
		sets := 1.0
		for i := range k {
			sets *= max(n-float64(i), 0) / float64(i+1)
		}
		return sets
	}
	sets := 0.0
	for size := range o.Together + 1 {
		for paid := range min(size, o.Faults) + 1 {
			sets += choose(free, size-paid) * choose(costly, paid)
		}
	}
	return sets
}

// costOfOne is what one evaluation takes against one at a set of few touch points.
func costOfOne(c *circuit.Circuit) float64 {
	points := float64(len(c.Points))
	if points > blockOf {
		return 50 + points/2
	}
	return 1 + points*points/400 // each judges them, and few are pruned where they are many
}

// columnBytes is what the columns of all ports take.
func columnBytes(n *nodal.Network) float64 {
	c, ports := n.Circuit, float64(n.CountPorts())
	equations := len(c.Positions) * (1 + flag(c.HasFailed)) * n.CountModes() * (1 + flag(c.Floating()))
	return 16 * ports * ports * float64(equations)
}

// keepsColumns reports whether a search reads the columns of all ports, or they are few.
func keepsColumns(n *nodal.Network, limit int) bool {
	return limit >= 2 || columnBytes(n) <= fewColumns
}

// TooLarge is the error of a set whose switch positions are too many for its size.
type TooLarge struct{ Positions, Parts int }

func (e *TooLarge) Error() string {
	return fmt.Sprintf("%d switch positions on %d parts are more than can be looked through; give a selector that is set with a tool "+
		"its fixed position, or leave out switches that have no part in the line side", e.Positions, e.Parts)
}

// Fits gives a TooLarge error for a set whose equations would not fit, else nil.
func Fits(n *nodal.Network) error {
	positions, parts := len(n.Circuit.Positions), len(n.Circuit.Set.Parts)
	if positions > 1 && (positions*parts > int(budget.Positions) || n.Bytes() > mostBytes) {
		return &TooLarge{positions, parts}
	}
	return nil
}
