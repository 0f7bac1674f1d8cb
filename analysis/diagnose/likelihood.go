package diagnose

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// What is not known of a set moves its readings together: a mains volt more is more at every point, and a heater
// that is off in its tolerance takes from all the others of its string. Each such thing is taken as even between
// its limits, so that its standard deviation is a √3th of them (JCGM 100, 4.3.7); what the meter is off is each
// reading's own. The distance of readings from what an explanation predicts is then a sum of squares in terms of
// their joint covariance (Mahalanobis 1936): -2 ln of the likelihood of a normal distribution, but for a constant.

// evenly is the square of an even distribution's limits over its variance.
const evenly = 3.0

// movedBy is by what shares of a figure the parts' tolerances and the mains move it, each at its limit, the other
// things equal; its last is what is not known of it alone.
type movedBy struct {
	together []float64
	alone    float64
}

// share is how far all of it together moves a figure.
func (m *movedBy) share() float64 {
	sum := m.alone * m.alone
	for _, d := range m.together {
		sum += d * d
	}
	return min(math.Sqrt(sum), mostShare)
}

// distance is that of some measurements from what is predicted, each off by so much: -2 ln of its likelihood.
func (x *explainer) distance(which []int, off, sizes []float64) float64 {
	n := len(which)
	if n == 0 {
		return 0
	}
	covariance := mat.NewSymDense(n, nil)
	for i, k := range which {
		a := x.movedBy(k)
		own := x.floors[k] + MeterShare*sizes[i]
		for j := range i + 1 {
			b, v := x.movedBy(which[j]), 0.0
			for t := range min(len(a.together), len(b.together)) {
				v += a.together[t] * b.together[t]
			}
			v *= sizes[i] * sizes[j]
			if i == j {
				v += own*own + a.alone*a.alone*sizes[i]*sizes[i]
			}
			covariance.SetSym(i, j, v/evenly)
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(covariance) {
		return math.Inf(1)
	}
	e, solved := mat.NewVecDense(n, off), mat.NewVecDense(n, nil)
	if err := chol.SolveVecTo(solved, e); err != nil {
		if _, ill := err.(mat.Condition); !ill {
			return math.Inf(1)
		}
	}
	return mat.Dot(e, solved)
}
