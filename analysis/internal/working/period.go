package working

import (
	"errors"
	"math"
	"math/bits"
	"slices"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/mat"
)

// ErrRectifiers is returned where no state of the rectifiers agrees with their own volts.
var ErrRectifiers = errors.New("the rectifiers find no state that agrees with their volts")

// How a period is stepped.
const (
	periodSteps = 200  // a period; 2 % of every figure is asked, and this is within 0.5 % of half the step
	agrees      = 1e-9 // V, how far a rectifier may stand beyond what it should
	tinyShare   = 64   // of a step: what a coil's amps that are cut off are told by
	turnAll     = 20   // tries at which all rectifiers that disagree turn; then the worst alone
	mostTurns   = 60
)

// state is what stands at one instant: volts and amps of every store, and which rectifiers conduct.
type state struct {
	volts, amps []float64
	on          string
}

// instant is a step's end as it is kept of the last period.
type instant struct {
	nodes []float64
	amps  []float64 // of the stores
	emfs  []float64
	on    string
}

// run goes through periods.
type run struct {
	n                 *branches
	h, omega          float64
	whole, half, tiny *stepper
	periods           int
	left              float64 // change in a period that is left where it only stands still
	z                 []float64
	turned            []byte
	states            [statesKept]state
	next              int // of states: which is used next
	slope             *sensitivity
}

// statesKept: a step and what it goes through need four states at once.
const statesKept = 5

// spare is a state that no one holds any more.
func (r *run) spare(on string) *state {
	s := &r.states[r.next]
	r.next = (r.next + 1) % statesKept
	if s.volts == nil {
		s.volts, s.amps = make([]float64, len(r.n.store)), make([]float64, len(r.n.store))
	}
	s.on = on
	return s
}

func newRun(n *branches) *run {
	h := 2 * math.Pi / n.c.Omega / periodSteps
	r := &run{n: n, h: h, omega: n.c.Omega}
	r.whole, r.half, r.tiny = newStepper(n, h, 0.5), newStepper(n, h/2, 1), newStepper(n, h/tinyShare, 1)
	r.z = make([]float64, len(n.store)+len(n.source)+1)
	r.turned = make([]byte, len(n.rectifier))
	return r
}

// drive puts the sources' volts at a time into z.
func (r *run) drive(t float64) {
	for k, s := range r.n.source {
		r.z[len(r.n.store)+k] = s.peak * math.Sin(r.omega*t+s.phase)
	}
	r.z[len(r.z)-1] = 1
}

// step goes from one state to the next by a stepper, to the time t. Where settle is false it gives none if a
// rectifier changes.
func (r *run) step(s *stepper, from *state, t float64, settle bool) (*state, *response, error) {
	s.history(r.z, from)
	r.drive(t)
	on := from.on
	var m *response
	for try := 0; ; try++ {
		m = s.of(on)
		next, changed := r.turn(m, on, try)
		if !changed {
			break
		}
		if !settle {
			return nil, nil, nil
		}
		if try == mostTurns {
			return nil, nil, ErrRectifiers
		}
		on = next
	}
	to := r.spare(on)
	combine(to.volts, m.stores, r.z)
	for k, g := range s.g {
		to.amps[k] = g*to.volts[k] + r.z[k]
	}
	return to, m, nil
}

// turn is which rectifiers conduct once those are turned that disagree with their own volts.
func (r *run) turn(m *response, on string, try int) (next string, changed bool) {
	worst, at := 0.0, -1
	copy(r.turned, on)
	for k := range r.n.rectifier {
		over := dot(m.rectifiers[k*m.wide:(k+1)*m.wide], r.z) - r.n.rectifier[k].drop
		if (over < -agrees) == (on[k] == conducts) && math.Abs(over) > agrees {
			if math.Abs(over) >= worst {
				worst, at = math.Abs(over), k
			}
			r.turned[k] = other(on[k])
		}
	}
	if at < 0 {
		return on, false
	}
	if try >= turnAll {
		copy(r.turned, on)
		r.turned[at] = other(on[at])
	}
	return string(r.turned), true
}

func other(on byte) byte {
	if on == conducts {
		return blocks
	}
	return conducts
}

// combine is so much of each column. It goes column by column: a sum row by row waits for each of its terms.
func combine(into []float64, columns [][]float64, z []float64) {
	clear(into)
	for column, x := range z {
		floats.AddScaled(into, x, columns[column])
	}
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for k, v := range a {
		sum += v * b[k]
	}
	return sum
}

// start is the state at the beginning of a period with these volts of capacitors and amps of coils.
func (r *run) start(x []float64, on string) *state {
	s := r.spare(on)
	for k := range x {
		s.volts[k], s.amps[k] = x[k], 0
		if r.n.store[k].coil {
			s.volts[k], s.amps[k] = 0, x[k]
		}
	}
	return s
}

// kept are the volts of capacitors and the amps of coils of a state.
func (r *run) kept(s *state) []float64 {
	x := make([]float64, len(s.volts))
	for k := range x {
		if x[k] = s.volts[k]; r.n.store[k].coil {
			x[k] = s.amps[k]
		}
	}
	return x
}

// period goes through one period from x, and gives what it makes of x. Slope, where it is not nil, takes
// what a change of x at the beginning makes of its end; record is called at the end of every step.
func (r *run) period(x []float64, on string, slope *sensitivity, record func(instant)) ([]float64, string, error) {
	at := r.start(x, on)
	r.periods++
	r.n.spend(periodSteps * (len(x) + len(r.n.rectifier)) * len(r.z))
	for count := range periodSteps {
		if r.n.spent > r.n.o.Work {
			return nil, "", ErrTooLarge
		}
		t := float64(count) * r.h
		end := t + r.h
		var to *state
		var m *response
		var err error
		if count > 0 {
			if to, m, err = r.step(r.whole, at, end, false); err != nil {
				return nil, "", err
			}
		}
		if to != nil {
			slope.whole(m)
		} else if to, m, err = r.halves(at, t, slope); err != nil {
			return nil, "", err
		}
		at = to
		if record != nil {
			nodes := make([]float64, r.n.rows)
			combine(nodes, m.nodes, r.z)
			record(instant{nodes, slices.Clone(at.amps), slices.Clone(r.z[len(r.n.store) : len(r.z)-1]), at.on})
		}
	}
	slope.flush()
	return r.kept(at), at.on, nil
}

// halves takes a step as two half steps of backward Euler. Where a rectifier changes in the second, a
// coil's amps that were cut off within it leave a spike of volts: those are told anew by a tiny step, in
// which coils keep their amps and capacitors their volts.
func (r *run) halves(from *state, t float64, slope *sensitivity) (*state, *response, error) {
	first, m, err := r.step(r.half, from, t+r.h/2, true)
	if err != nil {
		return nil, nil, err
	}
	slope.single(r.half, m)
	second, m, err := r.step(r.half, first, t+r.h, true)
	if err != nil {
		return nil, nil, err
	}
	slope.single(r.half, m)
	if first.on == second.on {
		return second, m, nil
	}
	last, m, err := r.step(r.tiny, second, t+r.h, true)
	if err != nil {
		return nil, nil, err
	}
	for k, s := range r.n.store {
		if s.coil {
			last.amps[k] = second.amps[k]
		} else {
			last.volts[k] = second.volts[k]
		}
	}
	slope.again(r.tiny, m)
	return last, m, nil
}

// sensitivity is what a change of x at the beginning of a period makes of the volts and amps of the stores
// by now, a column for each x. Whole steps with the same rectifiers conducting make the same of j each time, so
// that many of them are a power of one. A nil one is asked for nothing.
type sensitivity struct {
	r           *run
	volts, amps *mat.Dense
	j, work     *mat.Dense // scratch
	steps       int        // whole steps that are not yet taken
	by          *response
}

// sensitivity is that at the beginning of a period. There is one a run, used again and again.
func (r *run) sensitivity() *sensitivity {
	n := len(r.n.store)
	if r.slope == nil {
		square := func() *mat.Dense { return mat.NewDense(n, n, nil) }
		r.slope = &sensitivity{r: r, volts: square(), amps: square(), j: square(), work: square()}
	}
	s := r.slope
	s.volts.Zero()
	s.amps.Zero()
	s.steps, s.by = 0, nil
	for k := range n {
		if r.n.store[k].coil {
			s.amps.Set(k, k, 1)
		} else {
			s.volts.Set(k, k, 1)
		}
	}
	return s
}

func (s *sensitivity) whole(m *response) {
	if s == nil {
		return
	}
	if s.by != m {
		s.flush()
	}
	s.by = m
	s.steps++
}

func (s *sensitivity) single(by *stepper, m *response) {
	if s == nil {
		return
	}
	s.flush()
	s.take(by, m, 1)
}

// again takes a step after which coils have their amps and capacitors their volts of before.
func (s *sensitivity) again(by *stepper, m *response) {
	if s == nil {
		return
	}
	volts, amps := mat.DenseCopyOf(s.volts), mat.DenseCopyOf(s.amps)
	s.take(by, m, 1)
	for k, x := range s.r.n.store {
		if x.coil {
			s.amps.SetRow(k, amps.RawRowView(k))
		} else {
			s.volts.SetRow(k, volts.RawRowView(k))
		}
	}
}

func (s *sensitivity) flush() {
	if s == nil || s.steps == 0 {
		return
	}
	s.take(s.r.whole, s.by, s.steps)
	s.steps = 0
}

// take takes so many steps of one kind: j of the last is a power of what one step makes of j, times j of
// the first.
func (s *sensitivity) take(by *stepper, m *response, steps int) {
	n := len(by.g)
	s.r.n.spend(n * n * n * (2 + bits.Len(uint(steps))))
	j := s.j
	j.Copy(s.volts)
	for k := range n {
		row, amps := j.RawRowView(k), s.amps.RawRowView(k)
		for c := range row {
			row[c] = by.p[k]*row[c] + by.q[k]*amps[c]
		}
	}
	for bit := 0; (steps-1)>>bit > 0; bit++ {
		if (steps-1)>>bit&1 == 1 {
			s.work.Mul(m.power(by, bit), j)
			j.Copy(s.work)
		}
	}
	s.volts.Mul(m.own(n), j)
	for k := range n {
		volts, amps, row := s.volts.RawRowView(k), s.amps.RawRowView(k), j.RawRowView(k)
		for c := range row {
			amps[c] = by.g[k]*volts[c] + row[c]
		}
	}
}

// own is what the stores' j make of their volts.
func (m *response) own(n int) *mat.Dense {
	if m.within == nil {
		m.within = mat.NewDense(n, n, nil)
		for c := range n {
			m.within.SetCol(c, m.stores[c])
		}
	}
	return m.within
}

// power is what 2^bit steps make of j: one makes (p + q·g)·volts + q·j of it.
func (m *response) power(by *stepper, bit int) *mat.Dense {
	n := len(by.g)
	if len(m.powers) == 0 {
		one := mat.DenseCopyOf(m.own(n))
		for k := range n {
			row := one.RawRowView(k)
			for c := range row {
				row[c] *= by.p[k] + by.q[k]*by.g[k]
			}
			row[k] += by.q[k]
		}
		m.powers = append(m.powers, one)
	}
	for len(m.powers) <= bit {
		last := m.powers[len(m.powers)-1]
		var next mat.Dense
		next.Mul(last, last)
		m.powers = append(m.powers, &next)
	}
	return m.powers[bit]
}
