package search

import (
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/unionfind"
)

// target is what may become live: a touch point to earth, or two pieces of metal, hand to hand.
type target struct {
	a, b   int              // in Circuit.Points; b is -1 for a point to earth
	guards []*circuit.Fault // that must be off before it can be touched
}

// guardCost is what the guards cost.
func (t target) guardCost() int { return circuit.CostOf(t.guards) }

// Pieces are the touch points, those that conductors (whole fuses too) join in every state without
// faults taken as one piece of metal, by their places in Circuit.Points. The first of a piece is the one
// that is touched most easily: bare ones before guarded ones.
func Pieces(c *circuit.Circuit) [][]int {
	var joined []*unionfind.Sets
	for k := range c.Positions {
		joined = append(joined, c.Joined(k, true))
	}
	var pieces [][]int
	for i := range c.Points {
		home := slices.IndexFunc(pieces, func(piece []int) bool {
			return !slices.ContainsFunc(joined, func(s *unionfind.Sets) bool { return !s.Same(c.Points[piece[0]].Index, c.Points[i].Index) })
		})
		if home < 0 {
			pieces = append(pieces, []int{i})
			continue
		}
		pieces[home] = append(pieces[home], i)
	}
	ease := func(i int) int {
		switch f := c.Points[i].GuardFault; {
		case f == nil:
			return 0
		default:
			return 1 + f.Cost
		}
	}
	for _, piece := range pieces {
		slices.SortStableFunc(piece, func(i, j int) int { return ease(i) - ease(j) })
	}
	return pieces
}

// mostPieces is how many pieces of metal are looked at in pairs: of more, the pairs are too many.
const mostPieces = 16

// targetsOf lists the touch points, then the pairs of pieces of metal. LeftOut are the pieces whose pairs
// are not among them.
func targetsOf(c *circuit.Circuit) (targets []target, leftOut [][]int) {
	guards := func(i int) []*circuit.Fault {
		if f := c.Points[i].GuardFault; f != nil {
			return []*circuit.Fault{f}
		}
		return nil
	}
	for i := range c.Points {
		targets = append(targets, target{i, -1, guards(i)})
	}
	pieces := Pieces(c)
	if len(pieces) > mostPieces {
		pieces, leftOut = pieces[:mostPieces], pieces[mostPieces:]
	}
	for i, p := range pieces {
		for _, q := range pieces[i+1:] {
			targets = append(targets, target{p[0], q[0], append(guards(p[0]), guards(q[0])...)})
		}
	}
	return targets, leftOut
}
