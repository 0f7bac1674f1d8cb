package nodal

import (
	"maps"
	"slices"
	"sync"
	"sync/atomic"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/sparse"
)

// key says what is fixed in equations: everything but the plug's polarity (which is a matter of the
// source alone on the mains) and the faults.
type key struct {
	position int
	mode     circuit.Mode
	side     int  // the hot side, where it bears on the equations: a floating supply at AC
	tied     bool // unplugged: the blades joined
	variant
}

// variant is how a cleared state is solved once more.
type variant struct {
	without bool // the shorts of failed parts left out
	blown   *blown
}

// blown is fuses that a short has opened, by their elements and the ports that open them. There is one
// of each combination; nil is none.
type blown struct{ elements, ports []int }

// out are their elements.
func (b *blown) out() []int {
	if b == nil {
		return nil
	}
	return b.elements
}

// blownOf is fuses by their elements.
func (n *Network) blownOf(elements []int) *blown {
	if len(elements) == 0 {
		return nil
	}
	n.lock.Lock()
	defer n.lock.Unlock()
	for _, b := range n.blown {
		if slices.Equal(b.elements, elements) {
			return b
		}
	}
	b := &blown{elements: slices.Clone(elements)}
	for _, i := range elements {
		b.ports = append(b.ports, n.element[i].opens)
	}
	n.blown = append(n.blown, b)
	return b
}

// Equations are the nodal equations of one combination of switch positions, factored: node voltages,
// and the currents of the branches that may open and of transformer windings. Many goroutines may
// read them.
type Equations struct {
	net      *Network
	key      key
	size     int
	row      []int // the unknown of each node
	source   int   // the unknown of a floating supply's own terminal, -1 for earth
	offset   int   // branch k is unknown offset+k
	inactive []bool
	places   [][2]int32   // by port: the unknowns whose difference it shows, size for one that is always 0
	parting  []int32      // by port that opens what joins nodes: the port that gives the parted nodes a minimum conductance; -1 for others
	battery  []complex128 // what the batteries give, a full solution; nil for none

	watched atomic.Pointer[watch] // see watching
	keeps   atomic.Bool           // a column that is asked for in part is worked out whole
	lock    sync.Mutex            // of what follows, but for reading columns
	lu      *sparse.LU
	columns []atomic.Pointer[[]complex128] // by port: what one unit into it shows at every port
	unit    []complex128                   // room for column
	own     map[int]complex128             // by port: what one unit into it shows there
}

func (n *Network) keyOf(position int, m circuit.Mode, plug circuit.Polarity, v variant) key {
	k := key{position: position, mode: m, variant: v}
	if n.Circuit.Floating() && !m.DC() {
		k.side = plug.HotBlade()
	}
	return k
}

// equations are those of a key. They are kept.
func (n *Network) equations(k key) *Equations {
	n.lock.Lock()
	b, full := n.kept[k], n.full
	n.lock.Unlock()
	if b != nil {
		return b
	}
	b = n.assemble(k, nil)
	b.keeps.Store(full)
	n.lock.Lock()
	defer n.lock.Unlock()
	if other := n.kept[k]; other != nil {
		return other
	}
	n.kept[k] = b
	return b
}

// KeepColumns makes all equations of the states, and has them keep every column that is read, for a search
// that reads most of them.
func (n *Network) KeepColumns(sideBySide func(count int, work func(i int))) {
	n.lock.Lock()
	n.full = true
	there := slices.Collect(maps.Values(n.kept))
	n.lock.Unlock()
	for _, b := range there {
		b.keeps.Store(true)
	}
	modes := n.modes()
	sideBySide(len(n.Circuit.Positions)*len(modes), func(i int) {
		for _, plug := range circuit.Polarities {
			n.equations(n.keyOf(i/len(modes), modes[i%len(modes)], plug, variant{}))
		}
	})
}

// DropColumns lets go of the columns: after a search few are read.
func (n *Network) DropColumns() {
	n.lock.Lock()
	defer n.lock.Unlock()
	n.full = false
	for _, b := range n.kept {
		b.lock.Lock()
		b.keeps.Store(false)
		for p := range b.columns {
			b.columns[p].Store(nil)
		}
		b.lock.Unlock()
	}
}

// Forget lets go of the equations, which may be large. They are made again when they are asked for.
func (n *Network) Forget() {
	n.lock.Lock()
	defer n.lock.Unlock()
	n.kept, n.full = map[key]*Equations{}, false
}

// modes are those in which a state has equations.
func (n *Network) modes() []circuit.Mode {
	modes := append([]circuit.Mode{circuit.Blocking}, n.Circuit.DCModes()...)
	if len(n.Circuit.Sections) > 0 {
		modes = append(modes, circuit.Held)
	}
	if len(n.Circuit.Diodes) > 0 {
		modes = append(modes, circuit.Small)
	}
	return modes
}

// CountModes is how many sets of equations a combination of switch positions has.
func (n *Network) CountModes() int { return len(n.modes()) }

func (b *Equations) node(i int) int {
	if i < 0 {
		return -1
	}
	return b.row[i]
}

// markInactive finds the ports that change nothing here: both ends on one node, or a branch that
// conducts nothing in these equations, or is open already.
func (b *Equations) markInactive() {
	n := b.net
	b.inactive = make([]bool, len(n.ports))
	for i, p := range n.ports {
		if p.branch < 0 {
			b.inactive[i] = b.node(p.a) == b.node(p.b)
		}
	}
	for i := range n.element {
		if p := n.element[i].opens; p >= 0 {
			_, conducts := b.impedance(&n.Circuit.Elements[i])
			b.inactive[p] = !conducts
		}
	}
	if b.key.blown != nil {
		for _, p := range b.key.blown.ports {
			b.inactive[p] = true
		}
	}
}

// placePorts finds where each port is read in a solution.
func (b *Equations) placePorts() {
	n := b.net
	b.columns = make([]atomic.Pointer[[]complex128], len(n.ports))
	b.places = make([][2]int32, len(n.ports))
	for p, q := range n.ports {
		none := int32(b.size)
		b.places[p] = [2]int32{none, none}
		if q.branch >= 0 {
			b.places[p][0] = int32(b.offset + q.branch)
			continue
		}
		if q.a >= 0 {
			b.places[p][0] = int32(b.row[q.a])
		}
		if q.b >= 0 {
			b.places[p][1] = int32(b.row[q.b])
		}
	}
}

// at reads a full solution at a port: volts across it, or the current of its branch.
func (b *Equations) at(x []complex128, p int) complex128 {
	v := complex(0, 0)
	if i := b.places[p][0]; int(i) < b.size {
		v = x[i]
	}
	if i := b.places[p][1]; int(i) < b.size {
		v -= x[i]
	}
	return v
}

// spread puts so much into a port on a right-hand side: amperes from b to a, or volts in series with
// the branch.
func (b *Equations) spread(p int, x complex128, rhs []complex128) {
	if i := b.places[p][0]; int(i) < b.size {
		rhs[i] += x
	}
	if i := b.places[p][1]; int(i) < b.size {
		rhs[i] -= x
	}
}

// solve solves for a right-hand side, in place.
func (b *Equations) solve(x []complex128) {
	b.lock.Lock()
	b.lu.Solve(x)
	b.lock.Unlock()
}

// column gives, for one unit into port p, what every port shows. It is kept.
func (b *Equations) column(p int) []complex128 {
	if kept := b.columns[p].Load(); kept != nil {
		return *kept
	}
	b.lock.Lock()
	defer b.lock.Unlock()
	b.unit = resize(b.unit, b.size+1)
	clear(b.unit)
	b.spread(p, 1, b.unit)
	b.lu.Solve(b.unit[:b.size])
	column := make([]complex128, len(b.places))
	for q, place := range b.places {
		column[q] = b.unit[place[0]] - b.unit[place[1]]
	}
	b.columns[p].Store(&column)
	return column
}

// kept is the column of a port where it is kept, or is to be.
func (b *Equations) kept(p int) ([]complex128, bool) {
	if kept := b.columns[p].Load(); kept != nil {
		return *kept, true
	}
	if b.keeps.Load() {
		return b.column(p), true
	}
	return nil, false
}

// between is what one unit into port p shows at port q. Where neither column is kept it is worked
// out alone, by the rows of the factored equations that the two ports reach.
func (b *Equations) between(p, q int) complex128 {
	if column := b.columns[p].Load(); column != nil { // the usual case, short enough to be written out where it is asked
		return (*column)[q]
	}
	return b.workedOut(p, q)
}

func (b *Equations) workedOut(p, q int) complex128 {
	if b.keeps.Load() {
		return b.column(p)[q]
	}
	if kept := b.columns[q].Load(); kept != nil {
		return (*kept)[p]
	}
	b.lock.Lock()
	defer b.lock.Unlock()
	if p != q {
		return b.lu.Inner(b.terminals(p), b.terminals(q))
	}
	own, known := b.own[p]
	if !known {
		own = b.lu.Inner(b.terminals(p), b.terminals(p))
		b.own[p] = own
	}
	return own
}

// ohmsBetween is the resistance between two nodes, by their places.
func (b *Equations) ohmsBetween(i, j int) float64 {
	if b.row[i] == b.row[j] {
		return 0
	}
	var ends sparse.Terminals
	ends.Add(b.row[i], 1)
	ends.Add(b.row[j], -1)
	b.lock.Lock()
	defer b.lock.Unlock()
	return real(b.lu.Inner(ends, ends))
}

// terminals are the unknowns at which a port stands, with the sign of a unit into it.
func (b *Equations) terminals(p int) (t sparse.Terminals) {
	for k, i := range b.places[p] {
		if int(i) < b.size {
			t.Add(int(i), float64(1-2*k))
		}
	}
	return t
}

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

func resizeRows(rows [][]complex128, k, n int) [][]complex128 {
	for len(rows) < k {
		rows = append(rows, nil)
	}
	for i := range k {
		rows[i] = resize(rows[i], n)
	}
	return rows[:k]
}
