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

// Sought says of which points, and of which pairs of them, anything is asked; of a point b is nil.
type Sought func(a, b *circuit.TouchPoint) bool

// All is asked of where nothing less is.
func All(_, _ *circuit.TouchPoint) bool { return true }

// DefaultFaults is K where nothing else is asked for, MostFaults the largest.
const (
	DefaultFaults = 2
	MostFaults    = 3
)

// mostTogether is how many faults a set of them may hold that is searched for completely.
const mostTogether = 6

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

// PairResult is what was found between two pieces of metal, hand to hand, each told by the one of its
// points that is touched most easily.
type PairResult struct {
	A, B                 *circuit.TouchPoint
	Depth, DepthAsMarked int
	Normal, OneFault     *Worst
	FaultSets            []FaultSet
}

// Result is all that Examine finds.
type Result struct {
	Options Options  // as they were carried out
	Reduced *Reduced // nil unless the search was cut down
	Points  []*PointResult
	// Between is each pair of pieces of metal.
	Between []*PairResult
	// LeftOut are the pieces of metal of which no pairs were looked at, for there are too many.
	LeftOut [][]*circuit.TouchPoint
	// Together is every bare touch point joined as by one hand, nil where fewer than two are bare or
	// every state was cleared.
	Together *Worst
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

// Pair returns the result of two pieces of metal by the names that tell them, in either order, or nil.
func (r *Result) Pair(a, b string) *PairResult {
	for _, p := range r.Between {
		if p.A.Name == a && p.B.Name == b || p.A.Name == b && p.B.Name == a {
			return p
		}
	}
	return nil
}

// Examine searches every state with every set of faults up to the limit, for what is sought. Options out of range are
// taken as the nearest that are in it.
func Examine(n *nodal.Network, options Options, sought Sought) *Result {
	options.Faults = min(max(options.Faults, 0), MostFaults)
	options.Together = min(max(options.Together, options.Faults+1), mostTogether)
	r := &Result{}
	r.Options, r.Reduced = bounded(n, options)
	d := newDepthSearch(n, r.Options, sought)
	kept := keepsColumns(n, r.Options.Faults)
	if kept {
		n.KeepColumns(parallel.Each)
	}
	d.run()
	if kept && columnBytes(n) > fewColumns {
		n.DropColumns()
	}
	points := n.Circuit.Points
	for k, t := range d.targets {
		depth, asMarked, sets := d.outcome(k)
		if t.b < 0 {
			r.Points = append(r.Points, &PointResult{&points[t.a], depth, asMarked, d.normal[k].result(), d.oneFault[k].result(), sets})
		} else {
			r.Between = append(r.Between, &PairResult{&points[t.a], &points[t.b], depth, asMarked, d.normal[k].result(), d.oneFault[k].result(), sets})
		}
	}
	r.LeftOut = d.leftOut
	r.NotJudged = d.notJudged
	r.Together = together(n)
	return r
}

// outcome puts together what was found of a target.
func (d *depthSearch) outcome(k int) (depth, asMarked int, sets []FaultSet) {
	guards := d.targets[k].guards
	depth, asMarked = None, None
	for _, faults := range d.found[k].sets {
		set := FaultSet{Cost: circuit.CostOf(faults) + circuit.CostOf(guards), Faults: slices.Clone(guards)}
		set.Faults = append(set.Faults, circuit.InFileOrder(faults)...)
		sets = append(sets, set)
	}
	slices.SortStableFunc(sets, compareSets)
	if len(sets) > 0 {
		depth = sets[0].Cost
	}
	if d.marked[k] != None {
		asMarked = d.marked[k] + circuit.CostOf(guards)
	}
	if depth != None {
		reversed := depth
		if d.c.Plug.Style != "plain" {
			reversed++
		}
		if asMarked == None || reversed < asMarked {
			asMarked = reversed
		}
	}
	if asMarked > d.limit {
		asMarked = None
	}
	return depth, asMarked, sets
}

func compareSets(x, y FaultSet) int {
	if order := cmp.Or(cmp.Compare(x.Cost, y.Cost), cmp.Compare(len(x.Faults), len(y.Faults))); order != 0 {
		return order
	}
	return slices.CompareFunc(x.Faults, y.Faults, func(f, g *circuit.Fault) int {
		return cmp.Or(strings.Compare(f.Part, g.Part), strings.Compare(string(f.Kind), string(g.Kind)), slices.Compare(f.Between, g.Between))
	})
}
