package nodal

import "math"

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
	// inverse is that of the small system on the ports, row by row, maxChanged to a row.
	inverse [maxChanged * maxChanged]complex128
	rows    [][]complex128                     // by port: the figures of its row in what is under
	through [maxChanged][maxChanged]complex128 // by port: the currents in under's ports for a unit into it
	columns [maxChanged][]complex128           // by port: the equations' column, where nothing is under
	own     [][]complex128                     // by watched port: the figures of its row, updated
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

// width is how many figures a row has.
func (w *watch) width() int { return w.sources + len(w.ports) }

// watching lays out the rows of all ports of the equations.
func (b *Equations) watching(sources [][]complex128, ports []int) *watch {
	w := &watch{sources: len(sources), ports: ports, rows: make([][]complex128, len(b.places))}
	width := w.width()
	all := make([]complex128, len(b.places)*width)
	for q := range w.rows {
		w.rows[q], all = all[:width:width], all[width:]
		for m, source := range sources {
			w.rows[q][m] = source[q]
		}
	}
	for m, p := range ports {
		for q, v := range b.column(p) {
			w.rows[q][w.sources+m] = v
		}
	}
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

// shunt puts admittances across ports of what an update gives. They are no faults: nothing is lost.
func (u *Update) shunt(under *Update, changes []change) {
	u.eq, u.watch, u.under, u.n = under.eq, under.watch, under, 0
	for _, c := range changes {
		u.across(c)
	}
}

// add changes ports, one after the other.
func (u *Update) add(ports []int, some []int) bool {
	for _, p := range ports {
		if u.eq.inactive[p] {
			continue
		}
		if u.n == maxChanged {
			return false
		}
		ohms := complex(0, 0)
		if u.eq.net.ports[p].branch < 0 {
			ohms = complex(u.eq.net.ports[p].ohms, 0)
		}
		u.extend(change{p, ohms}, some)
		if !u.border(ohms, illConditioned) {
			return false
		}
	}
	return true
}

// extend notes one more port.
func (u *Update) extend(c change, some []int) {
	i := u.n
	u.n++
	u.ports[i] = c.port
	if u.under != nil {
		u.rows = resizeRows(u.rows, u.n, u.watch.width())
		u.under.row(c.port, u.rows[i], &u.through[i], some)
		return
	}
	for len(u.rows) < u.n {
		u.rows = append(u.rows, nil)
	}
	u.rows[i], u.columns[i] = u.watch.rows[c.port], nil
	if kept := u.eq.columns[c.port].Load(); kept != nil {
		u.columns[i] = *kept
	}
}

// border puts the last port into the inverse of the small system (bordering; the pivot is the Schur
// complement, the Thevenin impedance of the port with the others changed). It reports false where
// that falls below a part of what the port shows alone.
func (u *Update) border(ohms complex128, least float64) bool {
	i := u.n - 1
	var row [maxChanged]complex128 // what port i shows at the ports before it, and what becomes of it
	for j := range i {
		row[j] = u.shows(u.ports[i], j)
	}
	pivot := u.shows(u.ports[i], i)
	var through [maxChanged]complex128
	for j := range i {
		for l := range i {
			through[j] += u.inverse[j*maxChanged+l] * row[l]
		}
		pivot -= row[j] * through[j]
	}
	pivot += ohms
	if size(pivot) == 0 || least > 0 && size(pivot) < least*size(u.eq.between(u.ports[i], u.ports[i])) {
		return false
	}
	f := reciprocal(pivot)
	for j := range i {
		for l := range i {
			u.inverse[j*maxChanged+l] += through[j] * f * through[l]
		}
	}
	for j := range i {
		u.inverse[j*maxChanged+i] = -through[j] * f
		u.inverse[i*maxChanged+j] = -through[j] * f
	}
	u.inverse[i*maxChanged+i] = f
	return true
}

// shows is what one unit into a port shows at the j-th changed port, in what is under.
func (u *Update) shows(q, j int) complex128 {
	x := u.eq.between(q, u.ports[j])
	if u.under != nil {
		for i := range u.under.n {
			x -= u.under.ofColumn(i, q) * u.through[j][i]
		}
	}
	return x
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
		a := u.ofColumn(0, q) * u.inverse[0]
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
		a, b = u.inverse[0]*a+u.inverse[1]*b, u.inverse[maxChanged]*a+u.inverse[maxChanged+1]*b
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

// currents are those in the changed ports for what these show in what is under.
func (u *Update) currents(shows, into *[maxChanged]complex128) {
	if u.n == 1 {
		into[0] = u.inverse[0] * shows[0]
		return
	}
	for i := range u.n {
		into[i] = 0
		for j := range u.n {
			into[i] += u.inverse[i*maxChanged+j] * shows[j]
		}
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
	var shows, currents [maxChanged]complex128
	for i := range u.n {
		shows[i] = u.rows[i][a]
	}
	if l >= 0 {
		b := u.watch.sources + l
		z += own[l][b] - own[k][b] - own[l][a]
		for i := range u.n {
			shows[i] -= u.rows[i][b]
		}
	}
	u.currents(&shows, &currents)
	for i := range u.n {
		z -= shows[i] * currents[i]
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
	u.currents(&shows, &currents)
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

// across puts one more change on an update on the equations. It is no fault: nothing is lost.
func (u *Update) across(c change) {
	if !u.eq.inactive[c.port] {
		u.extend(c, nil)
		u.border(c.ohms, 0)
	}
}

// ofPort is the impedance that a port sees with the ports changed. It is of an update on the
// equations.
func (u *Update) ofPort(p int) complex128 {
	var shows, currents [maxChanged]complex128
	z := u.eq.between(p, p)
	for i := range u.n {
		shows[i] = u.ofColumn(i, p)
	}
	u.currents(&shows, &currents)
	for i := range u.n {
		z -= shows[i] * currents[i]
	}
	return z
}
