package search

import (
	"math"
	"math/bits"
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
)

// worker evaluates the states of one position of switches and controls, with its share of the sets.
type worker struct {
	d         *depthSearch
	e         *nodal.Evaluator
	order     []*circuit.Fault // free ones first
	share, of int              // of the faults that a set may begin with, those whose place leaves share, divided by of
	probes    []probe          // by target of the block
	read      []uint64         // by target: its points, a bit each; 0 where they are too many for that

	set    []*circuit.Fault // the prefix: all but the last of a set
	prefix nodal.FaultSet   // as put into the equations
	ready  bool

	normal    []worst // by target
	oneFault  []worst
	notJudged Count
	hits      []hit

	now evaluated
}

// evaluated is the set that is evaluated, and what is found of it.
type evaluated struct {
	faults  []*circuit.Fault // in the order of the file
	cost    int
	counted bool         // the set is of one fault at most
	normal  bool         // of none
	need    [2]targetSet // by plug polarity: the targets still to be judged
	live    [2]targetSet
}

func newWorker(d *depthSearch, e *nodal.Evaluator, order []*circuit.Fault, probes []probe, share, of int) *worker {
	w := &worker{d: d, e: e, order: order, share: share, of: of, probes: probes, read: make([]uint64, len(probes))}
	w.normal, w.oneFault = make([]worst, len(probes)), make([]worst, len(probes))
	if len(e.Watched) <= 64 {
		for k, p := range probes {
			w.read[k] = 1 << p.a
			if p.b >= 0 {
				w.read[k] |= 1 << p.b
			}
		}
	}
	return w
}

// sets evaluates every set of that size.
func (w *worker) sets(size int) {
	if size > 0 {
		w.prefixes(size, 0, 0)
		return
	}
	if w.share == 0 {
		w.put()
		w.now.need = [2]targetSet{w.d.block.within[0], w.d.block.within[0]}
		w.evaluate(nil, 0)
	}
}

// prefixes goes through the sets of one fault less, and from each to its larger ones.
func (w *worker) prefixes(size, from, cost int) {
	if len(w.set) == size-1 {
		w.extend(size, from, cost)
		return
	}
	for k := from; k < len(w.order); k++ {
		f := w.order[k]
		if !w.takes(k) || !w.fits(cost+f.Cost) || !circuit.Compatible(w.set, f) || w.changesNothing(f) {
			continue
		}
		w.set = append(w.set, f)
		w.prefixes(size, k+1, cost+f.Cost)
		w.set = w.set[:len(w.set)-1]
	}
}

// takes reports whether the fault at a place of the order is one with which the worker's sets may go
// on.
func (w *worker) takes(k int) bool { return len(w.set) > 0 || k%w.of == w.share }

// fits reports whether a set may cost so much.
func (w *worker) fits(cost int) bool { return cost <= w.d.limit }

// extend evaluates every set of one fault more than the prefix, unless nothing can come of it.
func (w *worker) extend(size, from, cost int) {
	d, b := w.d, &w.d.block
	known := b.covered.none
	for _, f := range w.set {
		known |= d.coveredBy(f, w.set)
	}
	w.ready = false
	for k := from; k < len(w.order); k++ {
		g := w.order[k]
		total := cost + g.Cost
		if !w.fits(total) || !w.takes(k) || !circuit.Compatible(w.set, g) || size > 1 && w.changesNothing(g) {
			continue
		}
		open := b.within[total] &^ (known | d.coveredBy(g, w.set))
		w.now.need = [2]targetSet{open | b.within[total]&d.mayMark(total), open}
		if w.now.need[0] == 0 && !bearsOnWorst(size, total) && size > 1 {
			continue
		}
		if !w.ready {
			w.put()
		}
		w.evaluate(g, total)
	}
}

// bearsOnWorst reports whether a set may hold the worst of the states that are told: no fault, or cost
// 1 or less in at most two.
func bearsOnWorst(size, cost int) bool { return size == 0 || size <= worstFaults && cost <= 1 }

// put puts the prefix into the equations.
func (w *worker) put() {
	w.e.Put(&w.prefix, w.set)
	w.ready = true
}

// evaluate evaluates the prefix with one fault more, nil for none.
func (w *worker) evaluate(g *circuit.Fault, cost int) {
	x := &w.now
	size := len(w.set)
	if g != nil {
		size++
	}
	x.live, x.counted, x.normal, x.cost = [2]targetSet{}, size <= 1, size == 0, cost
	ask := nodal.Ask{Plugs: nodal.Both, Uncleared: true}
	if bearsOnWorst(size, cost) || x.counted {
		x.faults = w.whole(g)
		w.e.Each(&w.prefix, g, ask, w.visitWhole)
	} else {
		ask.Driven = true
		ask.Plugs, ask.Points = [2]bool{x.need[0] != 0, x.need[1] != 0}, w.pointsOf(x.need[0]|x.need[1])
		w.e.Each(&w.prefix, g, ask, w.visitForLive)
	}
	for p, live := range x.live {
		if live != 0 {
			w.hits = append(w.hits, hit{w.whole(g), live, circuit.Polarities[p] == circuit.AsMarked})
		}
	}
}

// whole is the prefix with one fault more, in the order of the file.
func (w *worker) whole(g *circuit.Fault) []*circuit.Fault {
	set := slices.Clone(w.set)
	if g != nil {
		set = append(set, g)
	}
	return circuit.InFileOrder(set)
}

// pointsOf are the points at which targets are read.
func (w *worker) pointsOf(targets targetSet) (points uint64) {
	for k := range w.probes {
		if targets.has(k) {
			if w.read[k] == 0 {
				return 0
			}
			points |= w.read[k]
		}
	}
	return points
}

// changesNothing reports whether a fault joins nodes that are joined in this state, or that one of the prefix
// joins already: the larger set is then live where the smaller is. Two shorts side by side are told as one.
func (w *worker) changesNothing(g *circuit.Fault) bool {
	if !joins(g) {
		return false
	}
	if w.e.Joined(g.A, g.B) {
		return true
	}
	return slices.ContainsFunc(w.set, func(f *circuit.Fault) bool {
		return joins(f) && (w.e.Joined(f.A, g.A) && w.e.Joined(f.B, g.B) || w.e.Joined(f.A, g.B) && w.e.Joined(f.B, g.A))
	})
}

// joins reports whether a fault does nothing but join two nodes. A deck that is stuck opens its own throw too.
func joins(f *circuit.Fault) bool { return f.Short || f.Kind == circuit.Stuck && f.Throw < 0 }

// visitForLive judges the targets that a set may make live, in one state.
func (w *worker) visitForLive(x *nodal.Evaluation) bool {
	p := x.Plug.HotBlade()
	if x.Cleared {
		return false
	}
	for need := w.now.need[p]; need != 0; need &= need - 1 {
		k := bits.TrailingZeros64(uint64(need))
		if w.live(x, w.probes[k]) {
			w.now.live[p] |= 1 << k
			w.now.need[p] &^= 1 << k
		}
	}
	return w.now.need[p] != 0
}

// open are the open volts of a probe, AC rms and an upper bound on DC. What floats is not left out.
func open(x *nodal.Evaluation, p probe) (volts, direct float64) {
	v := x.Volts(p.a)
	if p.b >= 0 {
		v -= x.Volts(p.b)
	}
	return math.Sqrt(real(v)*real(v) + imag(v)*imag(v)), x.VoltsDC(p.a, p.b)
}

// live reports whether a target is live. Most are pruned by an upper bound.
func (w *worker) live(x *nodal.Evaluation, p probe) bool {
	return x.MayBeLive(p.a, p.b) && x.Source(p.a, p.b).Reading(w.d.c.Omega).Class() == nodal.Live
}

// visitWhole reads a state for the worst, and judges the targets as visitForLive does.
func (w *worker) visitWhole(x *nodal.Evaluation) bool {
	solvedAgain := x.Without || x.Blown()
	if w.now.counted && !solvedAgain {
		w.notJudged.Of++
		w.notJudged.States += flag(x.Cleared)
	}
	if x.Cleared {
		return w.now.counted
	}
	if !bearsOnWorst(len(w.now.faults), w.now.cost) {
		w.visitForLive(x)
		return true
	}
	p := x.Plug.HotBlade()
	made := false
	var state circuit.State
	var order tieBreak
	for k, probe := range w.probes {
		volts, direct := open(x, probe)
		judged := w.now.need[p].has(k)
		if w.prunable(k, volts, direct) && (!judged || volts/circuit.ES2VoltsAC+direct/circuit.ES2VoltsDC <= 1) {
			continue
		}
		reading := x.Source(probe.a, probe.b).Reading(w.d.c.Omega)
		if judged && reading.Class() == nodal.Live {
			w.now.live[p] |= 1 << k
		}
		if !made {
			state, made = x.State(w.now.faults), true
			order = tieBreakOf(state)
		}
		of := func() circuit.State { return state }
		w.oneFault[k].add(reading, order, of)
		if w.now.normal {
			w.normal[k].add(reading, order, of)
		}
	}
	return true
}

// prunable reports whether a target's reading of such open volts can be none of its worst.
func (w *worker) prunable(k int, volts, direct float64) bool {
	ohms := real(w.e.Body())
	return w.oneFault[k].prunable(volts, direct, ohms) && (!w.now.normal || w.normal[k].prunable(volts, direct, ohms))
}
