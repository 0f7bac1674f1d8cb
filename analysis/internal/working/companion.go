package working

import (
	"gonum.org/v1/gonum/mat"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/sparse"
)

// stepper goes on in time by steps of one length and one rule. Theta 1 is backward Euler, 1/2 the
// trapezoidal rule. A capacitor or a coil at the end of a step carries g·v + j, and j is p·v + q·i of the
// step's beginning.
type stepper struct {
	n       *branches
	g, p, q []float64
	kept    map[string]*response // by which rectifiers conduct
	last    *response
	lastOn  string
}

// mostKept is how many figures the responses of a stepper take at most, about.
const mostKept = 2 << 20

// powersKept is how many powers of its step a response comes to have: 200 steps have eight bits.
const powersKept = 8

// solveWork is about what an unknown takes in a solution with factors as sparse as a set's, and what
// factoring takes of such solutions.
const solveWork = 10

// response is what a step gives for one set of conducting rectifiers: the equations solved for every
// column of [j of each store, emf of each source, 1].
type response struct {
	wide       int
	stores     [][]float64  // by column: the volts across each store
	rectifiers []float64    // across each rectifier, row by row
	nodes      [][]float64  // by column: the volts of each row
	within     *mat.Dense   // of the stores' volts, what their own j make
	powers     []*mat.Dense // what 1, 2, 4 … steps make of j
}

func newStepper(n *branches, h, theta float64) *stepper {
	s := &stepper{n: n, kept: map[string]*response{}}
	rho := (1 - theta) / theta
	for _, x := range n.store {
		if x.coil {
			k := x.henrys / (theta * h)
			g := 1 / (x.ohms + k)
			s.g, s.p, s.q = append(s.g, g), append(s.p, g*rho), append(s.q, g*(k-rho*x.ohms))
			continue
		}
		g := x.farads / (theta * h)
		s.g, s.p, s.q = append(s.g, g), append(s.p, -g), append(s.q, -rho)
	}
	return s
}

// of is the response with these rectifiers conducting, one byte each.
func (s *stepper) of(on string) *response {
	if s.last != nil && s.lastOn == on {
		return s.last
	}
	r := s.kept[on]
	if r == nil {
		r = s.solve(on)
		if room := mostKept / (r.wide * (s.n.rows + len(s.g)*powersKept)); len(s.kept) > room {
			clear(s.kept) // of many rectifiers the combinations have no end
		}
		s.kept[on] = r
	}
	s.last, s.lastOn = r, on
	return r
}

// conducts is the byte of a rectifier that conducts, blocks that of one that does not.
const (
	conducts = '1'
	blocks   = '0'
)

// solve writes the equations of a step and solves them for every column.
func (s *stepper) solve(on string) *response {
	n := s.n
	unknowns := n.rows
	for _, windings := range n.ideal {
		unknowns += len(windings)
	}
	m := sparse.New(unknowns)
	s.write(m, on)
	lu := m.Factor()
	r := &response{wide: len(n.store) + len(n.source) + 1}
	n.spend(solveWork * unknowns * (r.wide + solveWork))
	r.rectifiers = make([]float64, len(n.rectifier)*r.wide)
	r.stores, r.nodes = make([][]float64, r.wide), make([][]float64, r.wide)
	x := make([]complex128, unknowns)
	for column := range r.wide {
		clear(x)
		s.column(x, column, on)
		lu.Solve(x)
		volts := make([]float64, n.rows)
		for i := range volts {
			volts[i] = real(x[i])
		}
		r.nodes[column] = volts
		across := func(a, b int) float64 { return voltsAt(volts, n.at(a)) - voltsAt(volts, n.at(b)) }
		r.stores[column] = make([]float64, len(n.store))
		for k := range n.store {
			r.stores[column][k] = across(n.store[k].a, n.store[k].b)
		}
		for k := range n.rectifier {
			r.rectifiers[k*r.wide+column] = across(n.rectifier[k].a, n.rectifier[k].b)
		}
	}
	return r
}

func voltsAt(volts []float64, row int) float64 {
	if row == ground {
		return 0
	}
	return volts[row]
}

// write writes the left side: conductances, and of each transformer that its windings' volts stand in the
// ratio of their turns and its ampere turns make nothing.
func (s *stepper) write(m *sparse.Matrix, on string) {
	n := s.n
	for i := range n.rows {
		m.Add(i, i, circuit.MinimumSiemens)
	}
	for _, t := range n.ties {
		m.Stamp(t[0], t[1], tieSiemens)
	}
	stamp := func(a, b int, siemens float64) { m.Stamp(n.at(a), n.at(b), complex(siemens, 0)) }
	for _, r := range n.resist {
		stamp(r.a, r.b, 1/r.ohms)
	}
	for k, x := range n.store {
		stamp(x.a, x.b, s.g[k])
	}
	for _, x := range n.source {
		stamp(x.a, x.b, 1/circuit.SupplyOhms)
	}
	for _, x := range n.constant {
		stamp(x.a, x.b, 1/x.ohms)
	}
	for k, r := range n.rectifier {
		if on[k] == conducts {
			stamp(r.a, r.b, 1/r.ohms)
		}
	}
	row := n.rows
	for _, windings := range n.ideal {
		writeTransformer(m, n, windings, row)
		row += len(windings)
	}
}

// writeTransformer writes a transformer whose windings' currents are the unknowns from row on.
func writeTransformer(m *sparse.Matrix, n *branches, windings []coil, row int) {
	first := windings[0]
	for k, w := range windings {
		m.Add(n.at(w.a), row+k, 1)
		m.Add(n.at(w.b), row+k, -1)
		m.Add(row, row+k, complex(w.volts/first.volts, 0))
		if k == 0 {
			continue
		}
		m.Add(row+k, n.at(w.a), complex(1/w.volts, 0))
		m.Add(row+k, n.at(w.b), complex(-1/w.volts, 0))
		m.Add(row+k, n.at(first.a), complex(-1/first.volts, 0))
		m.Add(row+k, n.at(first.b), complex(1/first.volts, 0))
	}
}

// column writes one column of the right side: a unit of j, of a source's emf, or all that does not change.
func (s *stepper) column(x []complex128, column int, on string) {
	n := s.n
	into := func(a, b int, amps float64) {
		if i := n.at(a); i != ground {
			x[i] += complex(amps, 0)
		}
		if i := n.at(b); i != ground {
			x[i] -= complex(amps, 0)
		}
	}
	switch k := column - len(n.store); {
	case k < 0:
		into(n.store[column].a, n.store[column].b, -1)
	case k < len(n.source):
		into(n.source[k].a, n.source[k].b, 1/circuit.SupplyOhms)
	default:
		for _, b := range n.constant {
			into(b.a, b.b, b.emf/b.ohms)
		}
		for k, r := range n.rectifier {
			if on[k] == conducts {
				into(r.a, r.b, r.drop/r.ohms)
			}
		}
	}
}

// history is j of each store from what stood at the beginning of the step.
func (s *stepper) history(j []float64, at *state) {
	for k := range s.g {
		j[k] = s.p[k]*at.volts[k] + s.q[k]*at.amps[k]
	}
}
