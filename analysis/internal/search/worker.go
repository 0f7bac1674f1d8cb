package search

import (
	"math"
	"slices"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
)

// worker evaluates the states of one combination of switch positions, with its share of the sets.
type worker struct {
	d         *depthSearch
	e         *nodal.Evaluator
	order     []*circuit.Fault // free ones first
	share, of int              // of the faults that a set may begin with, those whose place leaves share, divided by of
	probes    []pair           // the points of the block, then the pairs

	set    []*circuit.Fault // the prefix: all but the last of a set
	prefix nodal.FaultSet   // as put into the equations
	ready  bool

	normal    []worst // by probe
	oneFault  []worst
	notJudged Count
	hits      []hit

	now evaluated
}

// evaluated is the set that is evaluated, and what is found of it.
type evaluated struct {
	faults  []*circuit.Fault // in the order of the file; of a set that bears on the worst states
	counted bool             // the set is of one fault at most
	normal  bool             // of none
	probes  []pair           // that bear on the worst states
	need    [2]pointSet      // by plug polarity: the points still to be judged
	live    [2]pointSet
}

func newWorker(d *depthSearch, e *nodal.Evaluator, order []*circuit.Fault, share, of int) *worker {
	w := &worker{d: d, e: e, order: order, share: share, of: of}
	for k := range d.count {
		w.probes = append(w.probes, pair{k, -1})
	}
	w.probes = append(w.probes, d.pairs...)
	w.normal, w.oneFault = make([]worst, len(w.probes)), make([]worst, len(w.probes))
	return w
}

// sets evaluates every set of that size.
func (w *worker) sets(size int) {
	if size > 0 {
		w.prefixes(size, 0, 0)
		return
	}
	if w.share == 0 {
		w.put(true)
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
		if !w.takes(k) || !w.fits(size, cost+f.Cost) || !circuit.Compatible(w.set, f) || w.tooManySuspects(f) {
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

// fits reports whether a set of that size may cost so much.
func (w *worker) fits(size, cost int) bool {
	return cost <= w.d.limit && (size <= w.d.together || cost == 0)
}

// tooManySuspects reports whether one more fault that costs nothing is more than are tried together.
func (w *worker) tooManySuspects(f *circuit.Fault) bool {
	return f.Cost == 0 && len(w.set) >= w.d.suspects
}

// extend evaluates every set of one fault more than the prefix, unless nothing can come of it.
func (w *worker) extend(size, from, cost int) {
	d := w.d
	known := d.covered.none
	for _, f := range w.set {
		known |= d.coveredBy(f, w.set)
	}
	w.ready = false
	for k := from; k < len(w.order); k++ {
		g := w.order[k]
		total := cost + g.Cost
		if !w.fits(size, total) {
			if g.Cost > 0 && !w.fits(size, cost+1) {
				break // the costly ones come last
			}
			continue
		}
		if !w.takes(k) || !circuit.Compatible(w.set, g) || w.tooManySuspects(g) || size > 1 && w.changesNothing(g) {
			continue
		}
		open := d.within[total] &^ (known | d.coveredBy(g, w.set))
		w.now.need = [2]pointSet{open | d.within[total]&d.mayMark(total), open}
		if w.now.need[0] == 0 && !bearsOnWorst(size, total) && size > 1 {
			continue
		}
		if !w.ready {
			w.put(bearsOnWorst(size, cost))
		}
		w.evaluate(g, total)
	}
}

// bearsOnWorst reports whether a set may hold the worst of the states that are told: no fault, or cost
// 1 or less in at most two.
func bearsOnWorst(size, cost int) bool { return size == 0 || size <= worstFaults && cost <= 1 }

// put puts the prefix into the equations.
func (w *worker) put(exact bool) {
	w.e.Put(&w.prefix, w.set, exact)
	w.ready = true
}

// evaluate evaluates the prefix with one fault more, nil for none.
func (w *worker) evaluate(g *circuit.Fault, cost int) {
	size := len(w.set)
	if g != nil {
		size++
	}
	x := &w.now
	x.live, x.counted, x.normal = [2]pointSet{}, size <= 1, size == 0
	ask := nodal.Ask{Plugs: nodal.Both, Uncleared: true}
	if size == 0 {
		x.need = [2]pointSet{w.d.within[0], w.d.within[0]}
	}
	if bearsOnWorst(size, cost) || x.counted {
		ask.Exact = true
		w.evaluateWhole(g, size, cost, ask)
	} else {
		ask.Plugs, ask.Points = [2]bool{x.need[0] != 0, x.need[1] != 0}, uint64(x.need[0]|x.need[1])
		w.e.Each(&w.prefix, g, ask, w.visitForLive)
	}
	for p, live := range x.live {
		if live != 0 {
			set := slices.Clone(w.set)
			if g != nil {
				set = append(set, g)
			}
			w.hits = append(w.hits, hit{circuit.InFileOrder(set), live, circuit.Polarities[p] == circuit.AsMarked})
		}
	}
}

// evaluateWhole evaluates a set in every state, for the worst of them too.
func (w *worker) evaluateWhole(g *circuit.Fault, size, cost int, ask nodal.Ask) {
	x := &w.now
	x.probes = nil
	if bearsOnWorst(size, cost) {
		x.probes = w.probes
		if size == worstFaults && len(w.d.c.Points) > mostBeside {
			x.probes = w.probes[:w.d.count]
		}
		x.faults = slices.Clone(w.set)
		if g != nil {
			x.faults = append(x.faults, g)
		}
		x.faults = circuit.InFileOrder(x.faults)
	}
	w.e.Each(&w.prefix, g, ask, w.visitWhole)
}

// changesNothing reports whether a short lies between nodes that are joined in this state, or that the
// prefix shorts already: the larger set is then live where the smaller is.
func (w *worker) changesNothing(g *circuit.Fault) bool {
	if !g.Short && g.Kind != circuit.Stuck {
		return false
	}
	if w.e.Joined(g.A, g.B) {
		return true
	}
	return slices.ContainsFunc(w.set, func(f *circuit.Fault) bool {
		return f.Short && (w.e.Joined(f.A, g.A) && w.e.Joined(f.B, g.B) || w.e.Joined(f.A, g.B) && w.e.Joined(f.B, g.A))
	})
}

// visitForLive judges the points that a set may make live, in one state.
func (w *worker) visitForLive(x *nodal.Evaluation) bool {
	p := x.Plug.HotBlade()
	if x.Cleared {
		return false
	}
	for k := range w.d.count {
		if w.now.need[p].has(k) && w.live(x, k) {
			w.now.live[p] |= 1 << k
			w.now.need[p] &^= 1 << k
		}
	}
	return w.now.need[p] != 0
}

// live reports whether the k-th point of the block is live. Most are pruned by their open volts.
func (w *worker) live(x *nodal.Evaluation, k int) bool {
	volts, direct := square(x.Volts(k)), math.Abs(x.VoltsDC(k))
	left := (1 - direct/circuit.ES2VoltsDC) * circuit.ES2VoltsAC // what the limit leaves to AC
	if left >= 0 && volts <= left*left {
		return false
	}
	severity := 1e3 * math.Sqrt(volts) / math.Sqrt(square(w.e.Body()+x.Ohms(k, -1))) / circuit.ES2AmpsAC
	if direct > 0 {
		severity += 1e3 * direct / (circuit.BodyDCOhms + x.OhmsDC(k, -1)) / circuit.ES2AmpsDC
	}
	return severity > 1
}

// square is the modulus squared.
func square(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

// visitWhole reads a state for the worst, and judges the points as visitForLive does.
func (w *worker) visitWhole(x *nodal.Evaluation) bool {
	if w.now.counted && !x.Without {
		w.notJudged.Of++
		w.notJudged.States += flag(x.Cleared)
	}
	if x.Cleared {
		return w.now.counted
	}
	if w.now.probes == nil {
		w.visitForLive(x)
		return true
	}
	p := x.Plug.HotBlade()
	order := tieBreakOf(w.now.faults, x.Rectifier >= 0, x.Plug)
	for k, probe := range w.now.probes {
		volts, direct := x.Volts(probe.a), x.VoltsDC(probe.a)
		if probe.b >= 0 {
			volts, direct = volts-x.Volts(probe.b), direct-x.VoltsDC(probe.b)
		}
		size, direct := math.Sqrt(square(volts)), math.Abs(direct)
		judged := probe.b < 0 && w.now.need[p].has(probe.a)
		if w.prunable(k, size, direct) && (!judged || size/circuit.ES2VoltsAC+direct/circuit.ES2VoltsDC <= 1) {
			continue
		}
		reading := x.Source(probe.a, probe.b).Reading(w.d.c.Omega)
		if judged && reading.Class() == nodal.Live {
			w.now.live[p] |= 1 << probe.a
		}
		state := func() circuit.State { return x.State(w.now.faults) }
		w.oneFault[k].add(reading, order, state)
		if w.now.normal {
			w.normal[k].add(reading, order, state)
		}
	}
	return true
}

// prunable reports whether a probe's reading of such open volts can be none of its worst.
func (w *worker) prunable(k int, volts, direct float64) bool {
	ohms := real(w.e.Body())
	return w.oneFault[k].prunable(volts, direct, ohms) && (!w.now.normal || w.normal[k].prunable(volts, direct, ohms))
}
