package diagnose

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// What is not known of a set moves its readings together: a mains volt more is more at every point, and a heater
// that is off in its tolerance takes from all the others of its string. Each such thing is taken as even between
// its limits, so that its standard deviation is a √3th of them (JCGM 100, 4.3.7); what the meter is off is each
// reading's own. The distance of readings from what an explanation predicts is then a sum of squares in terms of
// their joint covariance (Mahalanobis 1936): -2 ln of the likelihood of a normal distribution, but for a constant.

// evenly is the square of an even distribution's limits over its variance.
const evenly = 3.0

// movedBy is by what shares of a figure the parts' tolerances and the mains move it, each at its limit, the other
// things equal; alone is what is not known of it alone.
type movedBy struct {
	together []float64
	alone    float64
	share    float64   // how far all of it together moves the figure
	with     []float64 // by measurement: what its shares and those of that one have in common, none until it is asked for
}

func newMovedBy(together []float64, alone float64) *movedBy {
	m := &movedBy{together: together, alone: alone}
	m.share = min(math.Sqrt(alone*alone+m.common(m)), mostShare)
	return m
}

// common is the sum of products of what moves both figures.
func (m *movedBy) common(o *movedBy) float64 {
	n := min(len(m.together), len(o.together))
	return floats.Dot(m.together[:n], o.together[:n])
}

// common is that of two measurements, worked out once: every explanation asks for it.
func (x *explainer) common(k, l int) float64 {
	m := x.movedBy(k)
	if m.with == nil {
		m.with = make([]float64, len(x.moved))
		for i := range m.with {
			m.with[i] = math.NaN()
		}
	}
	if math.IsNaN(m.with[l]) {
		m.with[l] = m.common(x.movedBy(l))
	}
	return m.with[l]
}

// distance is that of some measurements from what is predicted, each off by so much: -2 ln of its likelihood.
func (x *explainer) distance(which []int, off, sizes []float64) float64 {
	n := len(which)
	if n == 0 {
		return 0
	}
	covariance := blas64.Symmetric{N: n, Stride: n, Data: make([]float64, n*n), Uplo: blas.Lower}
	for i, k := range which {
		own := x.floors[k] + MeterShare*sizes[i]
		for j := range i + 1 {
			v := x.common(k, which[j]) * sizes[i] * sizes[j]
			if i == j {
				alone := x.movedBy(k).alone * sizes[i]
				v += own*own + alone*alone
			}
			covariance.Data[i*n+j] = v / evenly
		}
	}
	// With the covariance L·Lᵀ the sum is that of the squares of L⁻¹·off. mat.Cholesky would estimate the condition
	// besides, which takes longer than all the rest; every reading has a variance of its own, its meter's.
	lower, ok := lapack64.Potrf(covariance)
	if !ok {
		return math.Inf(1)
	}
	e := slices.Clone(off)
	blas64.Trsv(blas.NoTrans, lower, blas64.Vector{N: n, Data: e, Inc: 1})
	return floats.Dot(e, e)
}
