package analysis

import (
	"gonum.org/v1/gonum/mat"

	"coldcheck/netlist/settest"
)

// twinNetwork is branches between nodes, each an admittance in series with a source that makes a
// positive, ideal transformers, and ammeters, which join their nodes.
type twinNetwork struct {
	parent       []int
	earth        int
	branches     []twinBranch
	transformers [][]twinCoil
	ammeters     [][2]int
}

// twinSolution is every node's volts, what an ampere into each point does to each, each node's group by one
// of its nodes, and the current in each ammeter.
type twinSolution struct {
	volts []complex128
	z     [][]complex128
	group []int
	amps  []complex128
}

type twinBranch struct {
	a, b int
	y    complex128
	emf  complex128
}

type twinCoil struct {
	a, b        int
	volts, ohms float64
}

func (n *twinNetwork) root(i int) int {
	for n.parent[i] != i {
		i = n.parent[i]
	}
	return i
}

func (n *twinNetwork) join(a, b int) { n.parent[n.root(a)] = n.root(b) }

func (n *twinNetwork) branch(a, b int, y, emf complex128) {
	n.branches = append(n.branches, twinBranch{a, b, y, emf})
}

// groups are the nodes that anything joins which conducts, each by one of them. A winding joins its own two
// ends. What is not in the group of earth floats.
func (n *twinNetwork) groups() []int {
	all := &twinNetwork{}
	for i := range n.parent {
		all.parent = append(all.parent, n.root(i))
	}
	for _, x := range n.branches {
		if x.y != 0 {
			all.join(x.a, x.b)
		}
	}
	for _, windings := range n.transformers {
		for _, w := range windings {
			all.join(w.a, w.b)
		}
	}
	for _, ends := range n.ammeters {
		all.join(ends[0], ends[1])
	}
	group := make([]int, len(n.parent))
	for i := range group {
		group[i] = all.root(i)
	}
	return group
}

// twinMatrix is the equations of a network as one real matrix of twice the size, with a column of sources
// and one for each point.
type twinMatrix struct {
	size int
	a, b *mat.Dense
}

// add adds to the coefficient of unknown j in equation i; earth, -1, has neither.
func (m *twinMatrix) add(i, j int, v complex128) {
	if i < 0 || j < 0 {
		return
	}
	m.a.Set(i, j, m.a.At(i, j)+real(v))
	m.a.Set(i, m.size+j, m.a.At(i, m.size+j)-imag(v))
	m.a.Set(m.size+i, j, m.a.At(m.size+i, j)+imag(v))
	m.a.Set(m.size+i, m.size+j, m.a.At(m.size+i, m.size+j)+real(v))
}

// inject adds to the right side of equation i.
func (m *twinMatrix) inject(i, column int, v complex128) {
	if i >= 0 {
		m.b.Set(i, column, m.b.At(i, column)+real(v))
		m.b.Set(m.size+i, column, m.b.At(m.size+i, column)+imag(v))
	}
}

// rows gives every node its row, -1 for what is joined to earth, and counts the rows.
func (n *twinNetwork) rows() (row []int, count int) {
	row = make([]int, len(n.parent))
	for i := range row {
		row[i] = -1
	}
	for i := range row {
		if r := n.root(i); r != n.root(n.earth) && row[r] < 0 {
			row[r] = count
			count++
		}
	}
	for i := range row {
		row[i] = row[n.root(i)]
	}
	return row, count
}

// solve gives what the points show.
func (n *twinNetwork) solve(t settest.TB, points []int) twinSolution {
	row, nodes := n.rows()
	size := nodes + len(n.ammeters)
	for _, windings := range n.transformers {
		size += len(windings)
	}
	m := &twinMatrix{size, mat.NewDense(2*size, 2*size, nil), mat.NewDense(2*size, 1+len(points), nil)}
	for i := range nodes {
		m.add(i, i, 1e-10)
	}
	for _, x := range n.branches {
		i, j := row[x.a], row[x.b]
		if i == j {
			continue
		}
		m.add(i, i, x.y)
		m.add(j, j, x.y)
		m.add(i, j, -x.y)
		m.add(j, i, -x.y)
		m.inject(i, 0, x.y*x.emf)
		m.inject(j, 0, -x.y*x.emf)
	}
	next := nodes
	for _, windings := range n.transformers {
		m.couple(row, next, windings)
		next += len(windings)
	}
	for k, ends := range n.ammeters { // V(a) - V(b) is next to nothing, so that two side by side share
		i, j, current := row[ends[0]], row[ends[1]], next+k
		m.add(i, current, 1)
		m.add(j, current, -1)
		m.add(current, i, 1)
		m.add(current, j, -1)
		m.add(current, current, -1e-9)
	}
	for k, p := range points {
		m.inject(row[p], 1+k, 1)
	}
	at := m.solved(t)
	s := twinSolution{volts: make([]complex128, len(row)), z: make([][]complex128, len(points)), group: n.groups()}
	for i := range s.volts {
		s.volts[i] = at(row[i], 0)
	}
	for i, p := range points {
		for k := range points {
			s.z[i] = append(s.z[i], at(row[p], 1+k))
		}
	}
	for k := range n.ammeters {
		s.amps = append(s.amps, at(next+k, 0))
	}
	return s
}

// couple writes an ideal transformer, the currents into its windings the unknowns from next on.
func (m *twinMatrix) couple(row []int, next int, windings []twinCoil) {
	one := windings[0]
	for k, w := range windings {
		i, j, current := row[w.a], row[w.b], next+k
		m.add(i, current, 1) // the current into the first end
		m.add(j, current, -1)
		// E = V(first end) - V(other end) - R·I
		emf := func(equation int, w twinCoil, current int, scale complex128) {
			m.add(equation, row[w.a], scale)
			m.add(equation, row[w.b], -scale)
			m.add(equation, current, -scale*complex(w.ohms, 0))
		}
		if k == 0 { // Σ (v/v1)·I = E1 / (j·v1 / 50 mA)
			emf(current, w, current, -1/complex(0, w.volts/0.05))
		} else { // E/v = E1/v1
			emf(current, w, current, complex(1/w.volts, 0))
			emf(current, one, next, complex(-1/one.volts, 0))
		}
		m.add(next, current, complex(w.volts/one.volts, 0))
	}
}

// solved gives each unknown by its place and the column of the right side; earth, -1, is 0.
func (m *twinMatrix) solved(t settest.TB) func(i, column int) complex128 {
	t.Helper()
	var x mat.Dense
	var lu mat.LU
	lu.Factorize(m.a)
	if err := lu.SolveTo(&x, false, m.b); err != nil {
		if _, merely := err.(mat.Condition); !merely {
			t.Fatalf("the plain matrix does not solve: %v", err)
		}
	}
	return func(i, column int) complex128 {
		if i < 0 {
			return 0
		}
		return complex(x.At(i, column), x.At(m.size+i, column))
	}
}
