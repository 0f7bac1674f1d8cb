package search

import (
	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
)

// PairResult is what a person finds between two touch points, hand to hand. Its worsts are nil
// where every state was cleared.
type PairResult struct {
	A, B             *circuit.TouchPoint
	Normal, OneFault *Worst
}

// mostPaired is how many touch points are looked at in pairs: of more, the pairs are too many.
// mostBeside is how many where a suspect part fails beside another one, for such sets are many.
const (
	mostPaired = 64
	mostBeside = 40
)

// pair is two touch points, by their places; b is -1 for the first against earth.
type pair struct{ a, b int }

// pairs are those of the touch points from a block's on, in the order of the file; none where the
// points are more than mostPaired.
func pairsOf(points int) []pair {
	if points > mostPaired {
		return nil
	}
	var pairs []pair
	for i := range points {
		for j := i + 1; j < points; j++ {
			pairs = append(pairs, pair{i, j})
		}
	}
	return pairs
}

func (d *depthSearch) pairResults() []*PairResult {
	var results []*PairResult
	points := d.c.Points
	for k, p := range d.pairs {
		m := len(points) + k
		results = append(results, &PairResult{A: &points[p.a], B: &points[p.b], Normal: d.normal[m].result(), OneFault: d.oneFault[m].result()})
	}
	return results
}

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
			ask := nodal.Ask{Plugs: nodal.Only(plug), Exact: true}
			untouched := ask
			untouched.BlockingAlone, untouched.Uncleared = true, true
			e.Evaluate(nil, untouched, func(x *nodal.Evaluation) bool {
				if x.Cleared {
					return false
				}
				x.Evaluator().Together(ask, func(y *nodal.Evaluation) bool {
					most.add(y.Source(read, -1).Reading(c.Omega), tieBreakOf(nil, y.Rectifier >= 0, plug), func() circuit.State { return y.State(nil) })
					return true
				})
				return false
			})
		}
	}
	return most.result()
}
