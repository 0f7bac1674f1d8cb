package nodal

import (
	"math"
	"slices"

	"coldcheck/analysis/internal/sparse"
)

// Update is equations with some ports changed: a conductance put across two nodes, a branch opened. It
// is a low-rank update (Woodbury's identity; in circuit terms the compensation theorem): what a port
// shows then is what it showed before, less what the currents in the changed ports take away. An
// update may stand on another one, so that the search goes from each set of faults to its larger ones
// for a handful of multiplications, without factoring anything afresh.
//
// It rests on reciprocity: what a unit into port q shows at port p is what a unit into p shows at q,
// since sets are made of resistances, reactances and ideal transformers alone.
type Update struct {
	eq    *Equations
	watch *watch
	under *Update // nil where it stands on the equations themselves
	n     int
	ports [maxChanged]int
	// The small system on the ports, eliminated port by port (LDLᵀ): multiplier is how much of a port
	// before it another takes along, pivot what a port sees with those before it changed, per one over
	// that. An inverse of the system would lose digits that the elimination keeps: where floating
	// nodes are joined to others, what ports show differs by as many powers of ten as the two are
	// apart, and only the elimination leaves a small remainder.
	multiplier [maxChanged][maxChanged]complex128
	pivot, per [maxChanged]complex128
	rows       [][]complex128                     // by port: the figures of its row with the ports before it changed
	room       [][]complex128                     // for rows
	through    [maxChanged][maxChanged]complex128 // by port: the currents in under's ports for a unit into it
	columns    [maxChanged][]complex128           // by port: the equations' column, where nothing is under
	own        [][]complex128                     // by watched port: the figures of its row, updated
}

// maxChanged is how many ports an update may change. A set of faults with more is written into fresh
// equations.
const maxChanged = 10

// change is a port and what is put across it, in Ω; of a branch that opens it is 0.
type change struct {
	port int
	ohms complex128
}

// watch says at which ports an update is read. A port's row has the figures: what each source shows
// there, then what a unit into each watched port shows there.
type watch struct {
	sources int
	ports   []int
	rows    [][]complex128 // by port of the network
}

// watchingNothing is for an update whose full solution is read.
func (n *Network) watchingNothing() *watch { return &watch{rows: make([][]complex128, len(n.ports))} }

// width is how many figures a row has.
func (w *watch) width() int { return w.sources + len(w.ports) }

// watching lays out the rows of all ports of the equations. At DC the batteries are a source. The last rows
// laid out are kept: most evaluators of a position read the same ports.
func (b *Equations) watching(ports []int) *watch {
	if kept := b.watched.Load(); kept != nil && slices.Equal(kept.ports, ports) {
		return kept
	}
	w := &watch{ports: ports, rows: make([][]complex128, len(b.places))}
	if b.key.mode.DC() {
		w.sources = 1
	}
	width := w.width()
	all := make([]complex128, len(b.places)*width)
	for q := range w.rows {
		w.rows[q], all = all[:width:width], all[width:]
		if b.battery != nil {
			w.rows[q][0] = b.at(b.battery, q)
		}
	}
	for m, p := range ports {
		for q, v := range b.column(p) {
			w.rows[q][w.sources+m] = v
		}
	}
	b.watched.Store(w)
	return w
}

// Where a pivot of the small system falls below this part of what the port shows alone, the ports
// together are nearly one, and digits are lost to cancellation.
const illConditioned = 1e-10

// stand puts the update on equations as they are, with nothing changed.
func (u *Update) stand(b *Equations, w *watch) {
	u.eq, u.watch, u.under, u.n = b, w, nil, 0
}

// put changes ports of the equations. Of the watched ports the first few are to be known themselves.
// It reports false where the update cannot be solved to the digits needed.
func (u *Update) put(b *Equations, w *watch, ports []int, known int) bool {
	u.stand(b, w)
	if !u.add(ports, nil) {
		return false
	}
	u.know(known)
	return true
}

// know works out the rows of the first few watched ports.
func (u *Update) know(known int) {
	u.own = resizeRows(u.own, known, u.watch.width())
	var currents [maxChanged]complex128
	for m := range known {
		u.row(u.watch.ports[m], u.own[m], &currents, nil)
	}
}

// on changes ports of what an update gives, with some figures of their rows, nil for all. It reports
// false where it cannot be solved to the digits needed.
func (u *Update) on(under *Update, ports []int, some []int) bool {
	u.eq, u.watch, u.under, u.n = under.eq, under.watch, under, 0
	return u.add(ports, some)
}

// shunt puts admittances across ports besides, for some figures of their rows, nil for all. They are no
// faults: no digits are lost. It reports false where there is no room for them.
func (u *Update) shunt(changes []change, some []int) bool {
	for _, c := range changes {
		if u.eq.inactive[c.port] {
			continue
		}
		if u.n == maxChanged {
			return false
		}
		if !u.extend(c, 0, some) { // in resonance with what the port sees, to the last bit
			u.n--
			return false
		}
	}
	return true
}

// add changes ports, one after the other. A joined node has one minimum conductance: one that merges two
// nodes takes one away after it, and one that parts a node in two brings one before it, for what floats
// without any has no solution.
func (u *Update) add(ports []int, some []int) bool {
	for _, p := range ports {
		if u.eq.inactive[p] {
			continue
		}
		if q := u.eq.parting[p]; q >= 0 && !u.change(int(q), some) {
			return false
		}
		if !u.change(p, some) || u.eq.net.ports[p].merges && !u.eq.inactive[p+1] && !u.change(p+1, some) {
			return false
		}
	}
	return true
}

// change changes a port by what it is.
func (u *Update) change(p int, some []int) bool {
	if u.n == maxChanged {
		return false
	}
	ohms := complex(0, 0)
	if q := u.eq.net.ports[p]; q.branch < 0 {
		ohms = complex(q.ohms, 0)
	}
	return u.extend(change{p, ohms}, illConditioned, some)
}

// extend puts one more port into the small system. Its pivot is the Schur complement: the Thevenin
// impedance of the port with the others changed. It reports false where that falls below a part of
// what the port shows alone.
func (u *Update) extend(c change, least float64, some []int) bool {
	i := u.n
	u.n++
	u.ports[i] = c.port
	u.layRow(i, some)
	var shows [maxChanged]complex128 // at the ports before it, for a unit into this one
	for j := range i {
		shows[j] = u.between(i, j)
	}
	u.eliminate(&shows, i)
	pivot := u.between(i, i)
	for j := range i {
		u.multiplier[i][j] = shows[j] * u.per[j]
		pivot -= shows[j] * u.multiplier[i][j]
	}
	pivot += c.ohms
	if sparse.Size(pivot) == 0 || least > 0 && sparse.Size(pivot) < least*sparse.Size(u.eq.between(c.port, c.port)) {
		return false
	}
	u.pivot[i], u.per[i] = pivot, reciprocal(pivot)
	for j := range i {
		factor, row, before := u.multiplier[i][j], u.rows[i], u.rows[j]
		if some == nil {
			for m, x := range before[:len(row)] {
				row[m] -= factor * x
			}
		}
		for _, m := range some {
			row[m] -= factor * before[m]
		}
	}
	return true
}

// layRow lays out the i-th port's row as it is in what is under.
func (u *Update) layRow(i int, some []int) {
	for len(u.rows) <= i {
		u.rows, u.room = append(u.rows, nil), append(u.room, nil)
	}
	port := u.ports[i]
	if u.under != nil {
		u.room[i] = resize(u.room[i], u.watch.width())
		u.rows[i] = u.room[i]
		u.under.row(port, u.rows[i], &u.through[i], some)
		return
	}
	u.columns[i], _ = u.eq.kept(port)
	u.rows[i] = u.watch.rows[port]
	if i > 0 {
		u.room[i] = append(u.room[i][:0], u.rows[i]...)
		u.rows[i] = u.room[i]
	}
}

// between is what one unit into the i-th changed port shows at the j-th, in what is under.
func (u *Update) between(i, j int) complex128 {
	x := u.eq.between(u.ports[i], u.ports[j])
	if u.under != nil {
		for l := range u.under.n {
			x -= u.through[i][l] * u.under.pivot[l] * u.through[j][l]
		}
	}
	return x
}

// eliminate turns what the first n changed ports show in what is under into what each shows with those
// before it changed.
func (u *Update) eliminate(shows *[maxChanged]complex128, n int) {
	for i := 1; i < n; i++ {
		for j := range i {
			shows[i] -= u.multiplier[i][j] * shows[j]
		}
	}
}

// ofColumn is what one unit into the i-th changed port of an update on the equations shows at another.
func (u *Update) ofColumn(i, q int) complex128 {
	if u.columns[i] != nil {
		return u.columns[i][q]
	}
	return u.eq.between(u.ports[i], q)
}

// row fills in a port's figures with the ports changed, and the currents in them for a unit into it.
// Some are the figures that are asked for, nil for all.
func (u *Update) row(q int, into []complex128, currents *[maxChanged]complex128, some []int) {
	plain := u.watch.rows[q]
	into = into[:len(plain)]
	switch u.n {
	case 0:
		copy(into, plain)
	case 1:
		a := u.ofColumn(0, q) * u.per[0]
		currents[0] = a
		row := u.rows[0][:len(plain)]
		if some == nil {
			for m, x := range plain {
				into[m] = x - row[m]*a
			}
		}
		for _, m := range some {
			into[m] = plain[m] - row[m]*a
		}
	case 2:
		a, b := u.ofColumn(0, q), u.ofColumn(1, q)
		a, b = a*u.per[0], (b-u.multiplier[1][0]*a)*u.per[1]
		currents[0], currents[1] = a, b
		first, second := u.rows[0][:len(plain)], u.rows[1][:len(plain)]
		if some == nil {
			for m, x := range plain {
				into[m] = x - first[m]*a - second[m]*b
			}
		}
		for _, m := range some {
			into[m] = plain[m] - first[m]*a - second[m]*b
		}
	default:
		u.longRow(q, into, currents, some)
	}
}

// longRow is row for any number of ports.
func (u *Update) longRow(q int, into []complex128, currents *[maxChanged]complex128, some []int) {
	var shows [maxChanged]complex128
	for i := range u.n {
		shows[i] = u.ofColumn(i, q)
	}
	u.eliminate(&shows, u.n)
	u.currents(&shows, currents)
	if some == nil {
		copy(into, u.watch.rows[q])
	}
	for _, m := range some {
		into[m] = u.watch.rows[q][m]
	}
	for i := range u.n {
		amps, row := currents[i], u.rows[i][:len(into)]
		if some == nil {
			for m, x := range row {
				into[m] -= x * amps
			}
		}
		for _, m := range some {
			into[m] -= row[m] * amps
		}
	}
}

// currents are those that the changed ports take one after the other, for what each shows with those
// before it changed.
func (u *Update) currents(shows, into *[maxChanged]complex128) {
	for i := range u.n {
		into[i] = u.per[i] * shows[i]
	}
}

// less is what currents in the changed ports leave of x, the m-th figure of a row.
func (u *Update) less(x complex128, m int, currents *[maxChanged]complex128) complex128 {
	for i := range u.n {
		x -= u.rows[i][m] * currents[i]
	}
	return x
}

// impedance is what the k-th watched port sees with every source dead, or the k-th against the l-th,
// both to ground, where l is not -1. What the ports see without this update is known of under.
func (u *Update) impedance(under *Update, k, l int) complex128 {
	a, own := u.watch.sources+k, under.own
	z := own[k][a]
	if l < 0 {
		for i := range u.n {
			shows := u.rows[i][a]
			z -= shows * (u.per[i] * shows)
		}
		return z
	}
	b := u.watch.sources + l
	z += own[l][b] - own[k][b] - own[l][a]
	for i := range u.n {
		shows := u.rows[i][a] - u.rows[i][b]
		z -= shows * (u.per[i] * shows)
	}
	return z
}

// solve solves for a right-hand side with the ports changed, in place. It is of an update on the
// equations.
func (u *Update) solve(x []complex128) {
	u.eq.solve(x)
	u.correct(x)
}

// correct takes from a full solution of the equations what the currents in the changed ports take
// away.
func (u *Update) correct(x []complex128) {
	if u.n == 0 {
		return
	}
	var shows, currents [maxChanged]complex128
	for i := range u.n {
		shows[i] = u.eq.at(x, u.ports[i])
	}
	u.eliminate(&shows, u.n)
	u.currents(&shows, &currents)
	for i := u.n - 1; i >= 0; i-- { // those that flow when all is changed
		for j := i + 1; j < u.n; j++ {
			currents[i] -= u.multiplier[j][i] * currents[j]
		}
	}
	less := make([]complex128, u.eq.size)
	for i := range u.n {
		u.eq.spread(u.ports[i], currents[i], less)
	}
	u.eq.solve(less)
	for i, v := range less {
		x[i] -= v
	}
}

// modulus is cmplx.Abs without its care for overflow.
func modulus(z complex128) float64 { return math.Sqrt(square(z)) }

// square is the modulus squared.
func square(z complex128) float64 { return real(z)*real(z) + imag(z)*imag(z) }

// reciprocal is 1/z without the care for infinities that Go's division takes.
func reciprocal(z complex128) complex128 {
	d := real(z)*real(z) + imag(z)*imag(z)
	return complex(real(z)/d, -imag(z)/d)
}

// ofPort is the impedance that a port sees with the ports changed. It is of an update on the
// equations.
func (u *Update) ofPort(p int) complex128 {
	var shows, currents [maxChanged]complex128
	z := u.eq.between(p, p)
	for i := range u.n {
		shows[i] = u.ofColumn(i, p)
	}
	u.eliminate(&shows, u.n)
	u.currents(&shows, &currents)
	for i := range u.n {
		z -= shows[i] * currents[i]
	}
	return z
}
