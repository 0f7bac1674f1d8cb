package search

import (
	"slices"

	"coldcheck/analysis/internal/circuit"
)

// target is what may become live: a touch point to earth, or two pieces of metal, hand to hand.
type target struct {
	a, b   int              // in Circuit.Points; b is -1 for a point to earth
	guards []*circuit.Fault // that must be off before it can be touched
}

// guardCost is what the guards cost.
func (t target) guardCost() int { return circuit.CostOf(t.guards) }

// pieces are the pieces of metal, each by the one of its points that is touched most easily: a bare one
// before a guarded one, of those the one whose guard costs least.
func pieces(c *circuit.Circuit) (pieces [][]*circuit.TouchPoint) {
	ease := func(p *circuit.TouchPoint) int {
		if p.GuardFault == nil {
			return 0
		}
		return 1 + p.GuardFault.Cost
	}
	for _, metal := range c.Metals() {
		slices.SortStableFunc(metal, func(p, q *circuit.TouchPoint) int { return ease(p) - ease(q) })
		pieces = append(pieces, metal)
	}
	return pieces
}

// mostPieces is how many pieces of metal are looked at in pairs: of more, the pairs are too many.
const mostPieces = 16

// targetsOf lists the touch points, then the pairs of pieces of metal. LeftOut are the pieces whose pairs
// are not among them.
func targetsOf(c *circuit.Circuit) (targets []target, leftOut [][]*circuit.TouchPoint) {
	place := map[*circuit.TouchPoint]int{}
	guards := func(p *circuit.TouchPoint) []*circuit.Fault {
		if p.GuardFault != nil {
			return []*circuit.Fault{p.GuardFault}
		}
		return nil
	}
	for i := range c.Points {
		p := &c.Points[i]
		place[p] = i
		targets = append(targets, target{i, -1, guards(p)})
	}
	all := pieces(c)
	if len(all) > mostPieces {
		all, leftOut = all[:mostPieces], all[mostPieces:]
	}
	for i, p := range all {
		for _, q := range all[i+1:] {
			targets = append(targets, target{place[p[0]], place[q[0]], append(guards(p[0]), guards(q[0])...)})
		}
	}
	return targets, leftOut
}
