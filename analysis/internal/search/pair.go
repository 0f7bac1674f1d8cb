package search

import (
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
)

// WorstsBetween is the worst from one touch point to another, of each of some pairs of their places in
// Circuit.Points, in all states with these faults; nil where every one is cleared.
func (j *Judge) WorstsBetween(pairs [][2]int, faults ...*circuit.Fault) []*Worst {
	return j.WorstsBetweenIn(j.positions(), circuit.Polarities[:], pairs, faults...)
}

// WorstsBetweenIn is WorstsBetween in some positions and plug polarities alone.
func (j *Judge) WorstsBetweenIn(positions []int, plugs []circuit.Polarity, pairs [][2]int, faults ...*circuit.Fault) []*Worst {
	c := j.n.Circuit
	faults = slices.Clone(faults)
	worsts := make([]worst, len(pairs))
	for _, plug := range plugs {
		for _, position := range positions {
			j.with(position, func(e *nodal.Evaluator) {
				e.Evaluate(faults, nodal.Ask{Plugs: nodal.Only(plug), Uncleared: true}, func(x *nodal.Evaluation) bool {
					if x.Cleared {
						return true
					}
					state := x.State(faults)
					for i, p := range pairs {
						worsts[i].add(x.Source(p[0], p[1]).Reading(c.Omega), tieBreakOf(state), func() circuit.State { return state })
					}
					return true
				})
			})
		}
	}
	results := make([]*Worst, len(pairs))
	for i := range worsts {
		results[i] = worsts[i].result()
	}
	return results
}
