package working

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// ErrRestless is returned where no steady state is found.
var ErrRestless = errors.New("no steady state is found: the set may have none, or a very slow one")

// When a state is taken as periodic.
const (
	closeEnough = 1e-5 // of the largest volts or amps: the way that Newton's method still has to go
	still       = 1e-4 // likewise: the change in a period that is taken as none where Newton's is no help
	mostPeriods = 1500
	mostNewton  = 25 // tries after which periods are run plainly
	plainFirst  = 4  // periods run before the first try
	plainMost   = 40 // periods run at once where Newton's step is no help
	stillAfter  = 30 // periods in a row from which on what is still may be taken as settled
	shorter     = 0.9
	leastVolts  = 1.0  // V, the largest volts are taken as no less
	leastAmps   = 1e-3 // A, likewise
)

// partsOfStep are what is tried of a step that goes too far.
var partsOfStep = [...]float64{1, 0.5, 0.25, 0.1}

// tried is what a period makes of an x, and the step to the x that it would leave as it is.
type tried struct {
	after     []float64
	on        string
	gap, size float64 // the change in the period, and the length of the step, by distance
	step      []float64
}

// settle finds the x that a period leaves as it is. In a slow circuit a period changes little long before
// it is settled, so that what counts is how far Newton's step still goes. A step is taken, whole or in part,
// where the next one is shorter; else some periods are run plainly.
func (r *run) settle(x []float64, on string, warm bool) ([]float64, string, error) {
	plain := plainFirst
	if warm {
		plain = 0
	}
	var err error
	if x, on, err = r.plain(x, on, plain); err != nil || len(x) == 0 {
		return x, on, err
	}
	plain = plainFirst
	found, err := r.newton(x, on)
	if err != nil {
		return nil, "", err
	}
	for tries := 1; found.size >= closeEnough; tries++ {
		if r.periods > mostPeriods {
			return nil, "", ErrRestless
		}
		next, from, err := r.shorter(x, found, tries)
		switch {
		case err != nil:
			return nil, "", err
		case next != nil:
			x, found = from, next
			continue
		case found.gap < still && plain > stillAfter: // a reservoir that nothing drains: charged to the peak
			r.left = found.gap
			return found.after, found.on, nil
		}
		plain = min(2*plain, plainMost)
		if x, on, err = r.plain(found.after, found.on, plain); err != nil {
			return nil, "", err
		}
		if found, err = r.newton(x, on); err != nil {
			return nil, "", err
		}
	}
	settled := make([]float64, len(x))
	for k := range settled {
		settled[k] = found.after[k] + found.step[k]
	}
	return settled, found.on, nil
}

// shorter tries the step, and less of it, for one after which the way that is left is shorter; nil where
// there is none.
func (r *run) shorter(x []float64, found *tried, tries int) (next *tried, from []float64, err error) {
	if tries >= mostNewton {
		return nil, nil, nil
	}
	for _, part := range partsOfStep {
		there := make([]float64, len(x))
		for k := range there {
			there[k] = x[k] + part*found.step[k]
		}
		next, err := r.newton(there, found.on)
		if err != nil {
			return nil, nil, err
		}
		if next.size < shorter*found.size {
			return next, there, nil
		}
	}
	return nil, nil, nil
}

// plain runs periods one after the other.
func (r *run) plain(x []float64, on string, periods int) ([]float64, string, error) {
	var err error
	for range periods {
		if x, on, err = r.period(x, on, nil, nil); err != nil {
			return nil, "", err
		}
	}
	return x, on, nil
}

// newton runs a period and finds Newton's step: of what a period adds to x, (1 − slope)⁻¹.
func (r *run) newton(x []float64, on string) (*tried, error) {
	slope := r.sensitivity()
	after, now, err := r.period(x, on, slope, nil)
	if err != nil {
		return nil, err
	}
	n := len(x)
	gap, matrix := mat.NewVecDense(n, nil), mat.NewDense(n, n, nil)
	for k := range n {
		gap.SetVec(k, after[k]-x[k])
		from := slope.volts.RawRowView(k)
		if r.n.store[k].coil {
			from = slope.amps.RawRowView(k)
		}
		for c, v := range from {
			matrix.Set(k, c, -v)
		}
		matrix.Set(k, k, 1-from[k])
	}
	t := &tried{after: after, on: now, gap: r.distance(gap.RawVector().Data, after), size: math.Inf(1)}
	var step mat.VecDense
	if err := step.SolveVec(matrix, gap); err != nil {
		if condition, ok := err.(mat.Condition); !ok || math.IsInf(float64(condition), 1) {
			t.step = make([]float64, n) // no way to go: the size says that it is none
			return t, nil
		}
	}
	t.step = step.RawVector().Data
	t.size = r.distance(t.step, after)
	return t, nil
}

// distance is the largest change, against the largest volts of capacitors or amps of coils there are.
func (r *run) distance(change, x []float64) float64 {
	top := map[bool]float64{false: leastVolts, true: leastAmps}
	for k, v := range x {
		top[r.n.store[k].coil] = max(top[r.n.store[k].coil], math.Abs(v))
	}
	most := 0.0
	for k, d := range change {
		most = max(most, math.Abs(d)/top[r.n.store[k].coil])
	}
	if math.IsNaN(most) {
		return math.Inf(1)
	}
	return most
}
