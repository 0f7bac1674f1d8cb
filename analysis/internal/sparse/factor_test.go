package sparse

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"coldcheck/netlist/settest"
)

// system is a random square system, sparse and dense.
type system struct {
	n    int
	fast *Matrix
	real *mat.Dense // [Re −Im; Im Re]
}

func newSystem(n int) *system {
	return &system{n, New(n), mat.NewDense(2*n, 2*n, nil)}
}

func (s *system) add(i, j int, v complex128) {
	s.fast.Add(i, j, v)
	if i < 0 || j < 0 {
		return
	}
	n := s.n
	s.real.Set(i, j, s.real.At(i, j)+real(v))
	s.real.Set(i, n+j, s.real.At(i, n+j)-imag(v))
	s.real.Set(n+i, j, s.real.At(n+i, j)+imag(v))
	s.real.Set(n+i, n+j, s.real.At(n+i, n+j)+real(v))
}

func (s *system) solve(t settest.TB, rhs []complex128) []complex128 {
	b := mat.NewVecDense(2*s.n, nil)
	for i, v := range rhs {
		b.SetVec(i, real(v))
		b.SetVec(s.n+i, imag(v))
	}
	var x mat.VecDense
	if err := x.SolveVec(s.real, b); err != nil {
		if _, merely := err.(mat.Condition); !merely {
			t.Fatalf("%v", err)
		}
	}
	out := make([]complex128, s.n)
	for i := range out {
		out[i] = complex(x.AtVec(i), x.AtVec(s.n+i))
	}
	return out
}

// solvable reports whether the system is far enough from having no answer.
func (s *system) solvable() bool {
	var lu mat.LU
	lu.Factorize(s.real)
	return lu.Cond() < 1e8
}

// TestSparseAgainstDense: random sparse complex systems, many of their diagonals empty, with several
// right-hand sides to one factorisation.
func TestSparseAgainstDense(t *testing.T) {
	settest.Check(t, 300, func(t *rapid.T) {
		d := settest.NewDrawer(t)
		s := newSystem(1 + d.N(30))
		number := func() complex128 {
			return complex(float64(d.N(2001)-1000)/100, float64(d.N(2001)-1000)/100)
		}
		for i := range s.n { // a hidden permutation, so that there is an answer
			s.add(i, (i*7+3)%s.n, number()+25)
			if d.Percent(40) {
				s.add(i, i, number())
			}
		}
		for range d.N(4 * s.n) {
			s.add(d.N(s.n), d.N(s.n), number())
		}
		if !s.solvable() {
			t.Skip("no answer, or nearly none")
		}
		f := s.fast.Factor()
		for range 3 {
			rhs := make([]complex128, s.n)
			for i := range rhs {
				if d.Percent(50) {
					rhs[i] = number()
				}
			}
			want := s.solve(t, rhs)
			got := append([]complex128(nil), rhs...)
			f.Solve(got)
			largest := 1.0
			for _, v := range want {
				largest = math.Max(largest, cmplx.Abs(v))
			}
			for i := range got {
				if cmplx.Abs(got[i]-want[i]) > 1e-6*largest {
					t.Fatalf("unknown %d of %d is %v, want %v", i, s.n, got[i], want[i])
				}
			}
		}
	})
}

// TestSparseHub: one node that hundreds of others hang on, two and two joined, so that its row is
// long, shrinks, and takes entries that it had not. Against the dense solution.
func TestSparseHub(t *testing.T) {
	const arms = 3 * longRow
	s := newSystem(arms + 1)
	stamp := func(a, b int, y complex128) {
		s.add(a, a, y)
		s.add(b, b, y)
		s.add(a, b, -y)
		s.add(b, a, -y)
	}
	s.add(0, 0, 1)
	for k := 1; k <= arms; k++ {
		if k%3 != 0 { // a third hang on their neighbours alone
			stamp(0, k, complex(1/float64(k), float64(k%7)))
		}
		stamp(k, k%arms+1, complex(0.5, 0.01*float64(k%5)))
	}
	rhs := make([]complex128, s.n)
	rhs[0], rhs[arms/2], rhs[arms] = 1, 2i, -3
	want := s.solve(t, rhs)
	s.fast.Factor().Solve(rhs)
	for i := range rhs {
		if cmplx.Abs(rhs[i]-want[i]) > 1e-9 {
			t.Fatalf("unknown %d is %v, want %v", i, rhs[i], want[i])
		}
	}
}

// TestSparseZeroPivots: no diagonal at all, as the branch currents of conductors have none.
func TestSparseZeroPivots(t *testing.T) {
	s := New(4)
	s.Add(0, 3, 2)
	s.Add(1, 2, 4i)
	s.Add(2, 1, 5)
	s.Add(3, 0, -1)
	s.Add(-1, 0, 99) // earth: nothing is added
	s.Add(0, -1, 99)
	x := []complex128{2, 8, 10, 3}
	s.Factor().Solve(x)
	for i, want := range []complex128{-3, 2, -2i, 1} {
		if cmplx.Abs(x[i]-want) > 1e-12 {
			t.Errorf("unknown %d is %v, want %v", i, x[i], want)
		}
	}
	// a saddle: 1 S, 1 S and an ideal conductor from one to the other, an ampere into the first
	s = New(3)
	s.Stamp(0, -1, 1)
	s.Stamp(1, -1, 1)
	for k, sign := range []complex128{1, -1} {
		s.Add(k, 2, sign)
		s.Add(2, k, sign)
	}
	x = []complex128{1, 0, 0}
	s.Factor().Solve(x)
	for i, want := range []complex128{0.5, 0.5, 0.5} {
		if cmplx.Abs(x[i]-want) > 1e-12 {
			t.Errorf("saddle: unknown %d is %v, want %v", i, x[i], want)
		}
	}
}

// TestSparseEmptyAndCancelled: entries that cancel to nothing, and a column that has none, give
// finite figures.
func TestSparseEmptyAndCancelled(t *testing.T) {
	s := New(3)
	s.Add(0, 0, 2)
	s.Add(0, 0, 3)
	s.Add(1, 1, 1)
	s.Add(1, 1, -1)
	x := []complex128{10, 0, 0}
	s.Factor().Solve(x)
	if x[0] != 2 {
		t.Errorf("5x = 10 gives %v", x[0])
	}
	for i, v := range x {
		if math.IsNaN(cmplx.Abs(v)) || math.IsInf(cmplx.Abs(v), 0) {
			t.Errorf("unknown %d is %v", i, v)
		}
	}
	New(0).Factor().Solve(nil)
}
