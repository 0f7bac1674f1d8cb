package search

import (
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
)

// WorstBetween is the worst from one touch point to another, by their places in Circuit.Points, in all
// states with these faults; nil where every one is cleared.
func (j *Judge) WorstBetween(a, b int, faults ...*circuit.Fault) *Worst {
	c := j.n.Circuit
	faults = slices.Clone(faults)
	var w worst
	for _, plug := range circuit.Polarities {
		for position := range c.Positions {
			j.with(position, func(e *nodal.Evaluator) {
				e.Evaluate(faults, nodal.Ask{Plugs: nodal.Only(plug), Uncleared: true}, func(x *nodal.Evaluation) bool {
					if !x.Cleared {
						w.add(x.Source(a, b).Reading(c.Omega), tieBreakOf(x.State(faults)), func() circuit.State { return x.State(faults) })
					}
					return true
				})
			})
		}
	}
	return w.result()
}
