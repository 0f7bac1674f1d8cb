package search

import (
	"cmp"
	"slices"
	"strings"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/analysis/internal/parallel"
)

// Options say how far Examine looks.
type Options struct {
	// Faults is K: sets of faults are searched up to this cost.
	Faults int
	// Together is how many faults a set of them may hold that costs anything: K + 1, or more where more
	// is asked for.
	Together int
}

// DefaultFaults is K where nothing else is asked for, MostFaults the largest.
const (
	DefaultFaults = 2
	MostFaults    = 3
)

// suspectsTogether is how many faults of cost 0 are tried together where a set costs nothing, and
// mostTogether how many faults a set of them may hold at all.
const (
	suspectsTogether = 4
	mostTogether     = 6
)

// FaultSet is a minimal set of faults that makes a point live (a minimal cut set of IEC 61025), its
// guard taken off among them where it has one.
type FaultSet struct {
	Cost   int
	Faults []*circuit.Fault
}

// PointResult is what was found at one touch point.
type PointResult struct {
	*circuit.TouchPoint
	// Depth is the least cost of a set of faults that makes the point live; -1 where none is found
	// up to K. DepthAsMarked counts the plug's reversal as a failure, on a plug that has a polarity.
	Depth, DepthAsMarked int
	// Normal and OneFault are the worst with no fault, and at cost 1 or less in at most two faults,
	// as if no guard were there. Nil where every state was cleared.
	Normal, OneFault *Worst
	FaultSets        []FaultSet
}

// None stands for a depth that was not found.
const None = -1

// Result is all that Examine finds.
type Result struct {
	Options Options  // as they were carried out
	Reduced *Reduced // nil unless the search was cut down
	Points  []*PointResult
	// Between is each pair of touch points, hand to hand; none where NotPaired.
	Between []*PairResult
	// Together is every bare touch point joined as by one hand, nil where fewer than two are bare or
	// every state was cleared.
	Together *Worst
	// NotPaired says that the touch points are too many to look at in pairs.
	NotPaired bool
	// NotBeside says that they are too many to look at in pairs where a suspect part fails beside
	// another part.
	NotBeside bool
	// NotJudged counts the cleared ones among the states with no fault or one.
	NotJudged Count
}

// Count is so many of so many.
type Count struct{ States, Of int }

// Point returns the result of a touch point by its node's name, or nil.
func (r *Result) Point(node string) *PointResult {
	for _, p := range r.Points {
		if p.Name == node {
			return p
		}
	}
	return nil
}

// Examine searches every state with every set of faults up to the limit. Options out of range are
// taken as the nearest that are in it.
func Examine(n *nodal.Network, options Options) *Result {
	options.Faults = min(max(options.Faults, 0), MostFaults)
	options.Together = min(max(options.Together, options.Faults+1), mostTogether)
	r := &Result{}
	suspects := 0
	options, suspects, r.Reduced = bounded(n, options)
	r.Options = options
	d := newDepthSearch(n, options.Faults)
	d.suspects, d.together = suspects, options.Together
	kept := keepsColumns(n, options.Faults)
	if kept {
		n.KeepColumns(parallel.Each)
	}
	d.run()
	if kept && columnBytes(n) > fewColumns {
		n.DropColumns()
	}
	for k := range n.Circuit.Points {
		r.Points = append(r.Points, d.point(k))
	}
	r.NotJudged = d.notJudged
	r.Between = d.pairResults()
	r.NotPaired = len(n.Circuit.Points) > mostPaired
	r.NotBeside = len(n.Circuit.Points) > mostBeside && !r.NotPaired && len(d.free) > 0
	r.Together = together(n)
	return r
}

// point puts together what was found at one touch point.
func (d *depthSearch) point(k int) *PointResult {
	p := &d.c.Points[k]
	r := &PointResult{TouchPoint: p, Depth: None, DepthAsMarked: None, Normal: d.normal[k].result(), OneFault: d.oneFault[k].result()}
	for _, faults := range d.found[k].sets {
		set := FaultSet{Cost: circuit.CostOf(faults) + p.GuardCost()}
		if p.GuardFault != nil {
			set.Faults = append(set.Faults, p.GuardFault)
		}
		set.Faults = append(set.Faults, circuit.InFileOrder(faults)...)
		r.FaultSets = append(r.FaultSets, set)
	}
	slices.SortStableFunc(r.FaultSets, compareSets)
	if len(r.FaultSets) > 0 {
		r.Depth = r.FaultSets[0].Cost
	}
	if d.marked[k] != None {
		r.DepthAsMarked = d.marked[k] + p.GuardCost()
	}
	if r.Depth != None {
		reversed := r.Depth
		if d.c.Plug.Style != "plain" {
			reversed++
		}
		if r.DepthAsMarked == None || reversed < r.DepthAsMarked {
			r.DepthAsMarked = reversed
		}
	}
	if r.DepthAsMarked > d.limit {
		r.DepthAsMarked = None
	}
	return r
}

func compareSets(x, y FaultSet) int {
	if order := cmp.Or(cmp.Compare(x.Cost, y.Cost), cmp.Compare(len(x.Faults), len(y.Faults))); order != 0 {
		return order
	}
	return slices.CompareFunc(x.Faults, y.Faults, func(f, g *circuit.Fault) int {
		return cmp.Or(strings.Compare(f.Part, g.Part), strings.Compare(string(f.Kind), string(g.Kind)), slices.Compare(f.Between, g.Between))
	})
}
