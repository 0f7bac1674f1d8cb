package analysis

import (
	"math"
	"runtime"
	"sync"
)

// trial is a set of faults to be read in every state, and the points that it may speak of. A bit
// is a point.
type trial struct {
	faults    []*Fault
	cost      int
	forWorst  bool
	openPoint pointBits // where it would be a minimal set
	openMark  pointBits // where it may lower the depth as marked
}

// pointBits are a set of small numbers.
type pointBits []uint64

func (b pointBits) has(k int) bool { return b[k/64]>>(k%64)&1 == 1 }

func (b pointBits) add(k int) { b[k/64] |= 1 << (k % 64) }

// batchSize is how many trials are handed to the readers at once.
const batchSize = 512

// reader reads trials in the states of its own: those of one switch combination, in one plug way
// or both. Readers work side by side; what they read is put together in an order that does not
// depend on which was first.
type reader struct {
	d         *depthSearch
	ways      []Way
	combo     int
	solver    *solver
	normal    []worst // as in the search
	oneFault  []worst
	notJudged Count
	live      []pointBits // by trial of the batch
	marked    []pointBits // live with the plug as marked
}

// makeReaders shares the states out. Where every column of the equations is kept, the equations are
// only read, so that the plug ways can be shared out too.
func (d *depthSearch) makeReaders() {
	c := d.c
	each := [][]Way{ways[:]}
	if c.keepColumns(d.limit) {
		each = [][]Way{ways[:1], ways[1:]}
	}
	n := len(d.probes)
	for _, w := range each {
		for combo := range c.combos {
			d.readers = append(d.readers, &reader{d: d, ways: w, combo: combo, solver: newSolver(c), normal: make([]worst, n), oneFault: make([]worst, n)})
		}
	}
}

// try puts the set at hand into the batch, unless nothing could come of it.
func (d *depthSearch) try() {
	cost := costOf(d.set)
	if len(d.set) == 2 && cost > 1 && len(d.c.Points) <= bitsOfPoints {
		return // larger looks at it
	}
	words := (len(d.c.Points) + 63) / 64
	t := trial{cost: cost, forWorst: len(d.set) == 0 || cost <= 1 && len(d.set) <= 2, openPoint: make(pointBits, words), openMark: make(pointBits, words)}
	needed := t.forWorst || len(d.set) <= 1 // all of those are counted
	for k := range d.c.Points {
		if cost+d.guard[k] > d.limit {
			continue
		}
		if !d.found[k].holdsSubset(d.set) {
			t.openPoint.add(k)
			needed = true
		}
		if d.marked[k] == None || cost < d.marked[k] {
			t.openMark.add(k)
			needed = true
		}
	}
	if !needed {
		return
	}
	t.faults = inOrder(d.set)
	if d.batch = append(d.batch, t); len(d.batch) == batchSize {
		d.readBatch()
	}
}

// readBatch reads the trials at hand and notes the sets that make points live. The trials of a batch
// are of one size, so that none of them is within another.
func (d *depthSearch) readBatch() {
	SideBySide(len(d.readers), func(i int) { d.readers[i].readBatch() })
	for i, t := range d.batch {
		for k := range d.c.Points {
			live := false
			for _, r := range d.readers {
				live = live || r.live[i].has(k)
				if r.marked[i].has(k) && (d.marked[k] == None || t.cost < d.marked[k]) {
					d.marked[k] = t.cost
				}
			}
			if live && t.openPoint.has(k) {
				d.found[k].add(t.faults)
			}
		}
	}
	d.batch = d.batch[:0]
}

// SideBySide calls work for 0 to n-1, as many at a time as there are processors.
func SideBySide(n int, work func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	if workers <= 1 {
		for i := range n {
			work(i)
		}
		return
	}
	next := make(chan int, n)
	for i := range n {
		next <- i
	}
	close(next)
	var wait sync.WaitGroup
	for range workers {
		wait.Go(func() {
			for i := range next {
				work(i)
			}
		})
	}
	wait.Wait()
}

// gatherWorsts puts the readers' worst states and counts together, in the order of the states.
func (d *depthSearch) gatherWorsts() {
	for _, r := range d.readers {
		d.notJudged.States += r.notJudged.States
		d.notJudged.Of += r.notJudged.Of
		for k := range d.probes {
			d.normal[k].addAll(&r.normal[k])
			d.oneFault[k].addAll(&r.oneFault[k])
		}
	}
}

func (r *reader) readBatch() {
	words := (len(r.d.c.Points) + 63) / 64
	for len(r.live) < len(r.d.batch) {
		r.live, r.marked = append(r.live, make(pointBits, words)), append(r.marked, make(pointBits, words))
	}
	for i := range r.d.batch {
		clear(r.live[i])
		clear(r.marked[i])
		for _, way := range r.ways {
			r.state(way, &r.d.batch[i], i, false)
		}
	}
}

// state solves one plug way and switch combination. Where a failed part is what shorts the line,
// the state is solved again with every failed part's short left out.
func (r *reader) state(way Way, t *trial, i int, without bool) {
	d := r.d
	again := false
	probes := d.touches
	if t.forWorst && (len(t.faults) < 2 || len(d.c.Points) <= pairedBeside) {
		probes = d.probes
	}
	r.solver.run(way, r.combo, t.faults, without, nil, probes, wanted{dc: true, held: true, lazy: true}, func(rectifier string, cleared bool, at []thevenin) bool {
		if len(t.faults) <= 1 && !without {
			r.notJudged.Of++
			r.notJudged.States += flag(cleared)
		}
		if cleared {
			again = d.c.hasShort && !without
			return len(t.faults) <= 1
		}
		for k, seen := range at {
			judged := k < len(d.touches) && (t.openPoint.has(k) || t.openMark.has(k))
			if !t.forWorst && !judged {
				continue
			}
			volts, dcVolts, ohms := modulus(seen.volts), math.Abs(seen.dcVolts), real(d.c.body)
			hopeless := !t.forWorst || r.oneFault[k].hopeless(volts, dcVolts, ohms) && (len(t.faults) > 0 || r.normal[k].hopeless(volts, dcVolts, ohms))
			if hopeless && (!judged || volts/ES2VoltsAC+dcVolts/ES2VoltsDC <= 1) {
				continue
			}
			seen.ohms = r.solver.ohms(rectifier != "", probes[k])
			seen.dcOhms = r.solver.dcOhms(probes[k])
			reading := seen.reading(d.c.omega)
			if k < len(d.touches) && reading.Band() == Live {
				r.live[i].add(k)
				if way == AsMarked && t.openMark.has(k) {
					r.marked[i].add(k)
				}
			}
			if !t.forWorst {
				continue
			}
			state := func() State {
				return State{Plug: way, Settings: d.c.combos[r.combo], Rectifier: rectifier, Faults: t.faults, Without: without, combo: r.combo}
			}
			plain := plainnessOf(t.faults, rectifier, way)
			r.oneFault[k].add(reading, plain, state)
			if len(t.faults) == 0 {
				r.normal[k].add(reading, plain, state)
			}
		}
		return true
	})
	if again {
		r.state(way, t, i, true)
	}
}
