package analysis

import (
	"cmp"
	"slices"
	"strings"
	"sync"
)

// Options say how far Examine looks.
type Options struct {
	// Faults is K: sets of faults are searched up to this cost.
	Faults int
	// Together is how many faults a set of them may hold that costs anything: K + 1, or more where more
	// is asked for.
	Together int
}

// DefaultFaults is K where nothing else is asked for.
const DefaultFaults = 2

// suspectsTogether is how many faults of cost 0 are tried together where a set costs nothing.
const suspectsTogether = 4

// FaultSet is a minimal set of faults that makes a point live (a cut set of IEC 61025), its guard
// taken off among them where it has one.
type FaultSet struct {
	Cost   int
	Faults []*Fault
}

// PointResult is what was found at one touch point.
type PointResult struct {
	*TouchPoint
	// Depth is the least cost of a set of faults that makes the point live; -1 where none is found
	// up to K. DepthAsMarked counts the plug's reversal as a failure, on a plug that has a way.
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
	Circuit *Circuit
	Options Options  // as they were carried out
	Reduced *Reduced // nil unless the search was cut down
	Points  []*PointResult
	// Between is each pair of touch points, hand to hand; none where NotPaired.
	Between []*PairResult
	// Together is every bare touch point joined as by one hand, nil where fewer than two are bare or
	// every state was cleared.
	Together *Worst
	// NotPaired tells that the touch points are too many to look at in pairs.
	NotPaired bool
	// NotBeside tells that they are too many to look at in pairs where a suspect part fails beside
	// another part.
	NotBeside bool
	// NotJudged counts the cleared ones among the states with no fault or one.
	NotJudged Count
	Stored    []Stored
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

// MostFaults is the largest K.
const MostFaults = 3

// Examine searches every state with every set of faults up to the limit, which is 0 to MostFaults.
func (c *Circuit) Examine(options Options) *Result {
	options.Faults = min(max(options.Faults, 0), MostFaults)
	options.Together = max(options.Together, options.Faults+1)
	r := &Result{Circuit: c}
	suspects := 0
	options, suspects, r.Reduced = c.bounded(options)
	r.Options = options
	d := newDepthSearch(c, options.Faults)
	d.suspects, d.together = suspects, options.Together
	d.run()
	for k := range c.Points {
		r.Points = append(r.Points, d.point(k))
	}
	c.dropColumns()
	r.NotJudged = d.notJudged
	r.Between = d.pairs()
	r.NotPaired = len(c.Points) > pairedPoints
	r.NotBeside = len(c.Points) > pairedBeside && !r.NotPaired && len(d.free) > 0
	r.Together = c.together()
	r.Stored = c.stored()
	return r
}

// depthSearch is the search for live points over sets of faults.
type depthSearch struct {
	c         *Circuit
	limit     int
	suspects  int // free ones tried together
	together  int // faults in a set that costs anything
	touches   []probe
	probes    []probe  // the touch points, then each pair of them
	free      []*Fault // of cost 0
	costly    []*Fault
	found     []setIndex // by point, guard aside
	marked    []int      // by point: least cost with the plug as marked, guard aside
	guard     []int
	normal    []worst
	oneFault  []worst
	notJudged Count
	set       []*Fault
	batch     []trial
	readers   []*reader

	searchers []*searcher
	within    []uint64 // by cost: the points that a set of that cost may speak of
	cover     []uint64 // by fault: the points that it makes live alone
	coverAll  uint64   // the points that are live with no fault
	pairCover []uint64 // by two faults: the points that they make live together; nil until it is known
	slow      sync.Mutex
}

func newDepthSearch(c *Circuit, limit int) *depthSearch {
	n := len(c.Points)
	d := &depthSearch{c: c, limit: limit, together: limit + 1, suspects: suspectsTogether, touches: c.touchProbes(),
		found: make([]setIndex, n), marked: make([]int, n), guard: make([]int, n)}
	d.probes = append(d.touches, c.pairProbes()...)
	d.normal, d.oneFault = make([]worst, len(d.probes)), make([]worst, len(d.probes))
	for _, f := range c.Faults {
		if f.Cost == 0 {
			d.free = append(d.free, f)
		} else {
			d.costly = append(d.costly, f)
		}
	}
	for k, p := range c.Points {
		d.marked[k] = None
		if p.GuardFault != nil {
			d.guard[k] = p.GuardFault.Cost
		}
	}
	return d
}

// bitsOfPoints is how many touch points the search of larger sets can tell apart.
const bitsOfPoints = 64

// run goes through the sets by size, so that every proper subset of a set came before it: at most
// together faults, or suspectsTogether where they all cost nothing. Those that bear on the worst states
// are read whole; of the others only whether they make a point live.
func (d *depthSearch) run() {
	d.within = make([]uint64, d.limit+1)
	for cost := range d.within {
		for k := range d.c.Points {
			if cost+d.guard[k] <= d.limit {
				d.within[cost] |= 1 << k
			}
		}
	}
	d.makeReaders()
	for size := 0; size <= max(d.together, d.suspects); size++ {
		plain := len(d.c.Points) > bitsOfPoints // too many to tell by bits
		if size <= 2 || plain {
			for free := 0; free <= size; free++ {
				if size > d.together && free < size || size-free > d.limit || free > d.suspects {
					continue
				}
				if plain || size < 2 || size-free <= 1 {
					d.choose(d.free, free, 0, func() {
						d.choose(d.costly, size-free, costOf(d.set), d.try)
					})
				}
			}
			d.readBatch()
		}
		switch {
		case plain:
		case size < 2:
			d.noteCover()
		case size == 2 && d.limit < 2, size > len(d.free) && (size > d.together || len(d.free)+d.limit < size):
			// nothing of that size but what was looked at for the worst states
		default:
			if size == 3 {
				d.notePairs()
			}
			d.larger(size)
		}
	}
	d.gatherWorsts()
}

// noteCover notes which points no fault or one makes live: a larger set with it is not minimal.
func (d *depthSearch) noteCover() {
	d.cover, d.coverAll = make([]uint64, len(d.c.Faults)), 0
	for k := range d.found {
		for _, set := range d.found[k].sets {
			if len(set) == 0 {
				d.coverAll |= 1 << k
			} else {
				d.cover[set[0].index] |= 1 << k
			}
		}
	}
}

// mostPaired is how many faults there may be for what two of them make live to be kept by pairs.
const mostPaired = 1000

// notePairs notes which points two faults together make live.
func (d *depthSearch) notePairs() {
	n := len(d.c.Faults)
	if n > mostPaired {
		return
	}
	d.pairCover = make([]uint64, n*n)
	for k := range d.found {
		for _, set := range d.found[k].sets {
			if len(set) == 2 {
				a, b := set[0].index, set[1].index
				d.pairCover[a*n+b] |= 1 << k
				d.pairCover[b*n+a] |= 1 << k
			}
		}
	}
}

// coveredBy are the points that a fault makes live alone or with one of some others.
func (d *depthSearch) coveredBy(f *Fault, others []*Fault) uint64 {
	covered := d.cover[f.index]
	if d.pairCover != nil {
		row := d.pairCover[f.index*len(d.c.Faults):]
		for _, o := range others {
			covered |= row[o.index]
		}
	}
	return covered
}

// openMarks are the points for which a set of that cost may lower the depth as marked.
func (d *depthSearch) openMarks(cost int) (open uint64) {
	for k, marked := range d.marked {
		if marked == None || cost < marked {
			open |= 1 << k
		}
	}
	return open
}

// choose calls each with every way to add n of the faults to the set within the limit.
func (d *depthSearch) choose(from []*Fault, n, cost int, each func()) {
	if n == 0 {
		each()
		return
	}
	for k := 0; k <= len(from)-n; k++ {
		f := from[k]
		if cost+f.Cost > d.limit || !compatible(d.set, f) {
			continue
		}
		d.set = append(d.set, f)
		d.choose(from[k+1:], n-1, cost+f.Cost, each)
		d.set = d.set[:len(d.set)-1]
	}
}

func (d *depthSearch) point(k int) *PointResult {
	p := &d.c.Points[k]
	r := &PointResult{TouchPoint: p, Depth: None, DepthAsMarked: None, Normal: d.normal[k].result(), OneFault: d.oneFault[k].result()}
	for _, faults := range d.found[k].sets {
		set := FaultSet{Cost: costOf(faults) + d.guard[k]}
		if p.GuardFault != nil {
			set.Faults = append(set.Faults, p.GuardFault)
		}
		set.Faults = append(set.Faults, inOrder(faults)...)
		r.FaultSets = append(r.FaultSets, set)
	}
	slices.SortStableFunc(r.FaultSets, compareSets)
	if len(r.FaultSets) > 0 {
		r.Depth = r.FaultSets[0].Cost
	}
	if d.marked[k] != None {
		r.DepthAsMarked = d.marked[k] + d.guard[k]
	}
	if r.Depth != None {
		turned := r.Depth
		if d.c.plug.Style != "plain" {
			turned++
		}
		if r.DepthAsMarked == None || turned < r.DepthAsMarked {
			r.DepthAsMarked = turned
		}
	}
	if r.DepthAsMarked > d.limit {
		r.DepthAsMarked = None
	}
	return r
}

// inOrder is a copy of a set of faults in the order of the file.
func inOrder(faults []*Fault) []*Fault {
	return slices.SortedFunc(slices.Values(faults), func(f, g *Fault) int { return cmp.Compare(f.index, g.index) })
}

func compareSets(x, y FaultSet) int {
	if order := cmp.Or(cmp.Compare(x.Cost, y.Cost), cmp.Compare(len(x.Faults), len(y.Faults))); order != 0 {
		return order
	}
	return slices.CompareFunc(x.Faults, y.Faults, func(f, g *Fault) int {
		return cmp.Or(strings.Compare(f.Part, g.Part), strings.Compare(string(f.Kind), string(g.Kind)), slices.Compare(f.Between, g.Between))
	})
}

// setIndex is the minimal sets found so far, and answers whether one of them lies within another.
type setIndex struct {
	sets [][]*Fault
	keys map[[suspectsTogether]int32]bool
}

func (x *setIndex) add(set []*Fault) {
	set = slices.Clone(set)
	x.sets = append(x.sets, set)
	if x.keys == nil {
		x.keys = map[[suspectsTogether]int32]bool{}
	}
	x.keys[keyOf(set)] = true
}

func keyOf(set []*Fault) [suspectsTogether]int32 {
	var key [suspectsTogether]int32
	for i, f := range set {
		key[i] = int32(f.index + 1)
	}
	slices.Sort(key[:len(set)])
	return key
}

// holdsSubset tells whether some found set, other than a larger one, is within the set.
func (x *setIndex) holdsSubset(set []*Fault) bool {
	if len(x.sets) == 0 {
		return false
	}
	full := keyOf(set)
	for mask := range 1 << len(set) {
		var key [suspectsTogether]int32
		n := 0
		for i := range set {
			if mask>>i&1 == 1 {
				key[n] = full[i]
				n++
			}
		}
		if x.keys[key] {
			return true
		}
	}
	return false
}
