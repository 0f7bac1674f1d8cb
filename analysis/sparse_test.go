package analysis

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"
)

// system is a random square system, sparse and dense.
type system struct {
	n    int
	fast *sparse
	real *mat.Dense // [Re −Im; Im Re]
}

func newSystem(n int) *system {
	return &system{n, newSparse(n), mat.NewDense(2*n, 2*n, nil)}
}

func (s *system) add(i, j int, v complex128) {
	s.fast.add(i, j, v)
	if i < 0 || j < 0 {
		return
	}
	n := s.n
	s.real.Set(i, j, s.real.At(i, j)+real(v))
	s.real.Set(i, n+j, s.real.At(i, n+j)-imag(v))
	s.real.Set(n+i, j, s.real.At(n+i, j)+imag(v))
	s.real.Set(n+i, n+j, s.real.At(n+i, n+j)+real(v))
}

func (s *system) solve(t fataler, rhs []complex128) []complex128 {
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

// solvable tells whether the system is far enough from having no answer.
func (s *system) solvable() bool {
	var lu mat.LU
	lu.Factorize(s.real)
	return lu.Cond() < 1e8
}

// TestSparseAgainstDense: random sparse complex systems, many of their diagonals empty, with several
// right-hand sides to one factorisation.
func TestSparseAgainstDense(t *testing.T) {
	checkTimes(t, 300, func(t *rapid.T) {
		d := &drawer{t: t}
		s := newSystem(1 + d.n(30))
		number := func() complex128 {
			return complex(float64(d.n(2001)-1000)/100, float64(d.n(2001)-1000)/100)
		}
		for i := range s.n { // a hidden permutation, so that there is an answer
			s.add(i, (i*7+3)%s.n, number()+25)
			if d.percent(40) {
				s.add(i, i, number())
			}
		}
		for range d.n(4 * s.n) {
			s.add(d.n(s.n), d.n(s.n), number())
		}
		if !s.solvable() {
			t.Skip("no answer, or nearly none")
		}
		f := s.fast.factor()
		for range 3 {
			rhs := make([]complex128, s.n)
			for i := range rhs {
				if d.percent(50) {
					rhs[i] = number()
				}
			}
			want := s.solve(t, rhs)
			got := append([]complex128(nil), rhs...)
			f.solve(got)
			largest := 1.0
			for _, v := range want {
				largest = math.Max(largest, cabs(v))
			}
			for i := range got {
				if cabs(got[i]-want[i]) > 1e-6*largest {
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
	s.fast.factor().solve(rhs)
	for i := range rhs {
		if cabs(rhs[i]-want[i]) > 1e-9 {
			t.Fatalf("unknown %d is %v, want %v", i, rhs[i], want[i])
		}
	}
}

// TestSparseZeroPivots: no diagonal at all, as the branch currents of conductors have none.
func TestSparseZeroPivots(t *testing.T) {
	s := newSparse(4)
	s.add(0, 3, 2)
	s.add(1, 2, 4i)
	s.add(2, 1, 5)
	s.add(3, 0, -1)
	s.add(-1, 0, 99) // earth: nothing is added
	s.add(0, -1, 99)
	x := []complex128{2, 8, 10, 3}
	s.factor().solve(x)
	for i, want := range []complex128{-3, 2, -2i, 1} {
		if cabs(x[i]-want) > 1e-12 {
			t.Errorf("unknown %d is %v, want %v", i, x[i], want)
		}
	}
	// a saddle: 1 S, 1 S and an ideal conductor from one to the other, an ampere into the first
	s = newSparse(3)
	s.stamp(0, -1, 1)
	s.stamp(1, -1, 1)
	for k, sign := range []complex128{1, -1} {
		s.add(k, 2, sign)
		s.add(2, k, sign)
	}
	x = []complex128{1, 0, 0}
	s.factor().solve(x)
	for i, want := range []complex128{0.5, 0.5, 0.5} {
		if cabs(x[i]-want) > 1e-12 {
			t.Errorf("saddle: unknown %d is %v, want %v", i, x[i], want)
		}
	}
}

// TestSparseEmptyAndCancelled: entries that cancel to nothing, and a column that has none, give
// finite figures.
func TestSparseEmptyAndCancelled(t *testing.T) {
	s := newSparse(3)
	s.add(0, 0, 2)
	s.add(0, 0, 3)
	s.add(1, 1, 1)
	s.add(1, 1, -1)
	x := []complex128{10, 0, 0}
	s.factor().solve(x)
	if x[0] != 2 {
		t.Errorf("5x = 10 gives %v", x[0])
	}
	for i, v := range x {
		if math.IsNaN(cabs(v)) || math.IsInf(cabs(v), 0) {
			t.Errorf("unknown %d is %v", i, v)
		}
	}
	newSparse(0).factor().solve(nil)
}

// TestIslandOnItsLeaksKeepsItsDigits: a set that floats whole on an isolated supply, with shorts of
// 0.01 Ω beside leaks of 10 GΩ. Where a small entry is taken as pivot, the leaks are lost.
func TestIslandOnItsLeaksKeepsItsDigits(t *testing.T) {
	set := loadText(t, inSetAt("220 V 50 Hz", `PL1 = { kind = "plug", hot = "line 1", neutral = "line 2" }
B1 = { kind = "battery", positive = "B-", negative = "B+", volts = 180 }
C2 = { kind = "capacitor", ends = ["B-", "chassis"], value = "1 nF" }
S3 = { kind = "switch", ends = ["line 1", "line 2"] }
C4 = { kind = "capacitor", ends = ["line 1", "shaft"], value = "100 pF" }
C5 = { kind = "capacitor", ends = ["shaft", "line 2"], value = "100 pF" }
C6 = { kind = "capacitor", ends = ["line 1", "chassis"], value = "100 pF" }
F7 = { kind = "fuse", ends = ["X", "B-"] }
B8 = { kind = "battery", positive = "shaft", negative = "line 1", volts = 9 }
T9 = { kind = "tube", type = "35W4", pins = { 3 = "chassis", 6 = "line 1", 5 = "mid", 7 = "aerial" }, condition = "failed" }
S10 = { kind = "selector", common = "mid", throws = ["line 2", "B+", "line 1"], positions = ["first", "second", "third"] }
R12 = { kind = "rectifier", anode = "aerial", cathode = "line 2" }
R13 = { kind = "resistor", ends = ["h1", "mid"], value = "1k" }
C14 = { kind = "capacitor", ends = ["X", "line 2"], value = "0.25 uF" }
C15 = { kind = "capacitor", ends = ["aerial", "X"], value = "0.1 uF" }`, "chassis", "shaft", "aerial"))
	bench := Bench{Isolated: true}
	c := newCircuit(t, set, bench)
	state := on(c, AsMarked, "S3", "off", "S10", "second")
	s := c.Solve(state)
	want := newTwin(set, bench).all(t, conditionOf(state, nil), nil)[""]
	for i, n := range set.Nodes {
		if got := s.VoltsDC(n.Name); math.Abs(got-real(want.dc[i])) > 0.02 {
			t.Errorf("%s stands at %.4f V DC, want %.4f", n.Name, got, real(want.dc[i]))
		}
	}
}
