package analysis

import (
	"math"
	"math/cmplx"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"

	"coldcheck/netlist"
	"coldcheck/netlist/settest"
)

// twin is the straightforward solver, the judge of the fast one. It knows the set as it was read,
// not as elements, joins nodes by union-find, writes the whole nodal matrix of every state afresh
// and solves it dense by gonum. Its figures are written here a second time on purpose.
type twin struct {
	set   *netlist.Set
	bench Bench
	plug  *netlist.Plug
	nodes map[string]int
	iso   int // the other terminal of an isolated supply
	earth int
}

func newTwin(set *netlist.Set, bench Bench) *twin {
	_, plug := set.Plug()
	w := &twin{set: set, bench: bench, plug: plug, nodes: map[string]int{}}
	for i, n := range set.Nodes {
		w.nodes[n.Name] = i
	}
	w.iso, w.earth = len(set.Nodes), len(set.Nodes)+1
	return w
}

// twinNetwork is branches between nodes, each an admittance in series with a source that makes a
// positive, and ideal transformers.
type twinNetwork struct {
	parent       []int
	earth        int
	branches     []twinBranch
	transformers [][]twinCoil
}

type twinBranch struct {
	a, b int
	y    complex128
	emf  float64
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

func (n *twinNetwork) branch(a, b int, y complex128, emf float64) {
	n.branches = append(n.branches, twinBranch{a, b, y, emf})
}

// twinMatrix is the real matrix [Re −Im; Im Re] of a complex system, and its right-hand sides. A
// negative index is earth.
type twinMatrix struct {
	size int
	a, b *mat.Dense
}

func newTwinMatrix(size, sides int) *twinMatrix {
	return &twinMatrix{size, mat.NewDense(2*size, 2*size, nil), mat.NewDense(2*size, sides, nil)}
}

func (m *twinMatrix) add(i, j int, v complex128) {
	if i < 0 || j < 0 {
		return
	}
	n := m.size
	m.a.Set(i, j, m.a.At(i, j)+real(v))
	m.a.Set(i, n+j, m.a.At(i, n+j)-imag(v))
	m.a.Set(n+i, j, m.a.At(n+i, j)+imag(v))
	m.a.Set(n+i, n+j, m.a.At(n+i, n+j)+real(v))
}

func (m *twinMatrix) inject(i, side int, v complex128) {
	if i >= 0 {
		m.b.Set(i, side, m.b.At(i, side)+real(v))
		m.b.Set(m.size+i, side, m.b.At(m.size+i, side)+imag(v))
	}
}

// solve gives the unknowns by their place and that of the right-hand side.
func (m *twinMatrix) solve(t settest.TB) (at func(i, side int) complex128) {
	t.Helper()
	var x mat.Dense
	var lu mat.LU
	lu.Factorize(m.a)
	if err := lu.SolveTo(&x, false, m.b); err != nil {
		if _, merely := err.(mat.Condition); !merely {
			t.Fatalf("the plain matrix does not solve: %v", err)
		}
	}
	return func(i, side int) complex128 {
		if i < 0 {
			return 0
		}
		return complex(x.At(i, side), x.At(m.size+i, side))
	}
}

// number gives every node its row, -1 for those on earth.
func (n *twinNetwork) number() (row []int, rows int) {
	row = make([]int, len(n.parent))
	for i := range row {
		row[i] = -1
	}
	for i := range row {
		if r := n.root(i); r != n.root(n.earth) && row[r] < 0 {
			row[r] = rows
			rows++
		}
	}
	for i := range row {
		row[i] = row[n.root(i)]
	}
	return row, rows
}

// solve gives the volts of every node, and what an ampere into each of the points does to each.
func (n *twinNetwork) solve(t settest.TB, points []int) (volts []complex128, z [][]complex128) {
	row, nodes := n.number()
	size := nodes
	for _, windings := range n.transformers {
		size += len(windings)
	}
	m := newTwinMatrix(size, 1+len(points))
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
		m.inject(i, 0, x.y*complex(x.emf, 0))
		m.inject(j, 0, -x.y*complex(x.emf, 0))
	}
	next := nodes
	for _, windings := range n.transformers {
		m.addWindings(windings, row, next)
		next += len(windings)
	}
	for k, p := range points {
		m.inject(row[p], 1+k, 1)
	}
	at := m.solve(t)
	volts = make([]complex128, len(row))
	for i := range volts {
		volts[i] = at(row[i], 0)
	}
	z = make([][]complex128, len(points))
	for i, p := range points {
		for k := range points {
			z[i] = append(z[i], at(row[p], 1+k))
		}
	}
	return volts, z
}

// addWindings writes an ideal transformer, its currents from the unknown next on.
func (m *twinMatrix) addWindings(windings []twinCoil, row []int, next int) {
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

// condition is one state for the twin.
type condition struct {
	plug    Polarity
	at      map[string]string // every control's position
	faults  []twinFault
	without bool     // the shorts of failed parts left out
	joined  []string // points that one hand joins
}

func (x condition) has(kind FaultKind, part string) bool {
	return slices.ContainsFunc(x.faults, func(f twinFault) bool { return f.kind == kind && f.part == part })
}

// build writes the network of a state: AC with the named rectifier conducting ("" for none), or DC
// with the AC volts from which the rectifiers charge.
func (w *twin) build(x condition, rectifier string, direct bool, ac []complex128) *twinNetwork {
	omega := 2 * math.Pi * w.set.Hertz
	n := &twinNetwork{earth: w.earth}
	for i := range w.earth + 1 {
		n.parent = append(n.parent, i)
	}
	if !w.bench.Isolated {
		n.join(w.iso, w.earth)
	}
	hot, neutral := w.nodes[w.plug.Hot], w.nodes[w.plug.Neutral]
	if x.plug == Reversed {
		hot, neutral = neutral, hot
	}
	mains := w.set.Volts
	if direct {
		mains = 0
	}
	n.branch(hot, w.iso, 10, mains)
	if !x.has(NeutralLost, SupplyName) {
		n.branch(neutral, w.iso, 10, 0)
	}
	if w.bench.Isolated && !direct {
		n.branch(hot, w.earth, complex(0, omega*1e-9), 0)
		n.branch(w.iso, w.earth, complex(0, omega*1e-9), 0)
	}
	if w.plug.Earth != "" && !x.has(EarthLost, SupplyName) {
		n.branch(w.nodes[w.plug.Earth], w.earth, 10, 0)
	}
	if i, used := w.nodes[netlist.BuildingEarth]; used {
		n.branch(i, w.earth, 1.0/25, 0)
	}
	for _, name := range w.bench.Earthed {
		n.branch(w.nodes[name], w.earth, 10, 0)
	}
	for _, p := range w.set.Parts {
		if p.Kind == netlist.KindTube && x.has(Pulled, p.Name) {
			continue
		}
		(&placing{n, w, p, x, rectifier, direct, ac}).place()
		if p.Condition == netlist.Failed && !x.without {
			for _, s := range failedShorts(p) {
				n.branch(w.nodes[s[0]], w.nodes[s[1]], 100, 0)
			}
		}
	}
	for _, name := range x.joined {
		n.join(w.nodes[name], w.nodes[x.joined[0]])
	}
	for _, f := range x.faults {
		if f.short[0] != "" && f.kind != Stuck {
			n.branch(w.nodes[f.short[0]], w.nodes[f.short[1]], 100, 0)
		}
	}
	return n
}

// solved is what the twin finds in a state with one rectifier conducting, or none.
type solved struct {
	w       *twin
	points  []int
	ac      []complex128
	z       [][]complex128
	dc      []complex128
	dcZ     [][]complex128
	amps    float64 // the larger of the two sides of the supply, rectifiers blocking
	cleared bool
}

// all solves a state with all blocking, then with each rectifier that can conduct, in the order of
// the file.
func (w *twin) all(t settest.TB, x condition, points []string) map[string]solved {
	var at []int
	for _, p := range points {
		at = append(at, w.nodes[p])
	}
	s := solved{w: w, points: at}
	s.ac, s.z = w.build(x, "", false, nil).solve(t, at)
	s.dc, s.dcZ = w.build(x, "", true, s.ac).solve(t, at)
	hot, neutral := w.nodes[w.plug.Hot], w.nodes[w.plug.Neutral]
	if x.plug == Reversed {
		hot, neutral = neutral, hot
	}
	s.amps = cmplx.Abs(complex(w.set.Volts, 0)+s.ac[w.iso]-s.ac[hot]) / 0.1
	if !x.has(NeutralLost, SupplyName) {
		s.amps = max(s.amps, cmplx.Abs(s.ac[neutral]-s.ac[w.iso])/0.1)
	}
	s.cleared = s.amps > 20
	found := map[string]solved{"": s}
	for _, label := range w.labels(x) {
		one := s
		one.ac, one.z = w.build(x, label, false, nil).solve(t, at)
		found[label] = one
	}
	return found
}

// labels names the rectifiers that can conduct.
func (w *twin) labels(x condition) []string {
	var labels []string
	for _, p := range w.set.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Rectifier:
			labels = append(labels, p.Name)
		case *netlist.Tube:
			if x.has(Pulled, p.Name) {
				continue
			}
			wired := sectionsOf(d)
			for _, s := range wired {
				if len(wired) == 1 {
					labels = append(labels, p.Name)
				} else {
					labels = append(labels, p.Name+":"+itoa(s.Anode))
				}
			}
		}
	}
	return labels
}

// reading is what is read at a point to earth, or from point i to point j; j is -1 for earth.
func (s solved) reading(i, j int) Reading {
	volts, z := s.ac[s.points[i]], s.z[i][i]
	direct, dcZ := s.dc[s.points[i]], s.dcZ[i][i]
	if j >= 0 {
		volts -= s.ac[s.points[j]]
		z += s.z[j][j] - s.z[i][j] - s.z[j][i]
		direct -= s.dc[s.points[j]]
		dcZ += s.dcZ[j][j] - s.dcZ[i][j] - s.dcZ[j][i]
	}
	body := 500 + 1/(1.0/1500+complex(0, 2*math.Pi*s.w.set.Hertz*0.22e-6))
	return Reading{
		VoltsOpen:   cmplx.Abs(volts),
		VoltsMeter:  cmplx.Abs(volts * 10e6 / (10e6 + z)),
		Milliamps:   1000 * cmplx.Abs(volts/(body+z)),
		VoltsDC:     cmplx.Abs(direct),
		MilliampsDC: 1000 * cmplx.Abs(direct/(2000+dcZ)),
	}
}

// TestTwinByHand holds the judge itself to two sums: a divider, and a capacitor into a body.
func TestTwinByHand(t *testing.T) {
	set := settest.Load(t, settest.With(`
R1 = { kind = "resistor", ends = ["L", "chassis"], value = 9000 }
R2 = { kind = "resistor", ends = ["chassis", "N"], value = 1000 }
C1 = { kind = "capacitor", ends = ["L", "shaft"], value = "0.1 uF" }`, "chassis", "shaft"))
	got := newTwin(set, Bench{}).all(t, condition{plug: AsMarked}, []string{"chassis", "shaft"})[""]
	settest.Near(t, "divider", got.reading(0, -1).VoltsOpen, 120*1000.1/10000.2, 1e-6)
	// 120 / |1977.1 − j183.8 − j26525.8|
	settest.Near(t, "capacitor", got.reading(1, -1).Milliamps, 120e3/cmplx.Abs(complex(1977.1, -183.8-26525.8)), 1e-4)
}
