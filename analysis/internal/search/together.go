package search

import (
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
)

// together is the worst normal state with all bare points joined as by one hand, read to earth. The
// hand joins them once the breaker has been judged without it.
func together(n *nodal.Network) *Worst {
	c := n.Circuit
	bare := c.Bare()
	if len(bare) < 2 {
		return nil
	}
	read := 0
	for k := range c.Points {
		if &c.Points[k] == bare[0] {
			read = k
		}
	}
	var most worst
	for _, plug := range circuit.Polarities {
		for position := range c.Positions {
			e := n.Evaluator(position)
			ask := nodal.Ask{Plugs: nodal.Only(plug)}
			untouched := ask
			untouched.BlockingAlone, untouched.Uncleared = true, true
			e.Evaluate(nil, untouched, func(x *nodal.Evaluation) bool {
				if !x.Cleared {
					x.Together(ask, func(y *nodal.Evaluation) bool {
						most.add(y.Source(read, -1).Reading(c.Omega), tieBreakOf(y.State(nil)), func() circuit.State { return y.State(nil) })
						return true
					})
				}
				return false
			})
		}
	}
	return most.result()
}
