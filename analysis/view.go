package analysis

import "math"

// A view is a base with some faults put in, as every other port sees it. From a view the effect of
// one more fault costs a handful of multiplications, so that the search over sets of faults goes
// from each set to all its larger ones without solving anything afresh.
//
// It rests on reciprocity: what a unit into port q shows at port p is what a unit into p shows at
// q, since sets are made of resistances, reactances and ideal transformers alone.
type view struct {
	base  *base
	ports []int          // the ports put in
	cols  [][]complex128 // the base's column of each of them
	w     [][]complex128 // by changed port, by port: the currents in the changed ports for a unit into each port
	drive []complex128   // by port: what the sources show
	watch []int          // the ports that are looked at
	z     [][]complex128 // by watched port, by port: what a unit into either shows at the other
	joint bool           // one of the ports makes one node of two, or two of one
	weak  bool           // the ports cannot be solved apart to the digits needed
	ch    change
}

// build puts ports into a base. source is what the base's sources show at every port.
func (v *view) build(b *base, ports []int, watch []int, source []complex128, among []int) {
	v.base, v.watch = b, watch
	v.ch.search = true
	v.weak = !v.ch.set(b, ports)
	if v.weak {
		return
	}
	v.ports, v.joint, v.cols = v.ch.ports, false, v.cols[:0]
	for _, p := range v.ports {
		v.cols = append(v.cols, b.column(p))
		v.joint = v.joint || b.joint[p] != noJoint
	}
	k, n := len(v.ports), len(b.void)
	v.w = resizeRows(v.w, k, n)
	var column [maxChanged]complex128
	if k > maxChanged {
		v.weak = true
		return
	}
	for _, q := range among {
		for i := range k {
			column[i] = v.cols[i][q]
		}
		v.ch.response(column[:k])
		for i := range k {
			v.w[i][q] = column[i]
		}
	}
	v.drive = resize(v.drive, n)
	v.reduce(v.drive, source, among, func(i int) complex128 { return source[v.ports[i]] })
	v.z = resizeRows(v.z, len(watch), n)
	for m, p := range watch {
		col := b.column(p)
		v.reduce(v.z[m], col, among, func(i int) complex128 { return v.cols[i][p] })
	}
}

// maxChanged is how many ports a set of faults may change before it is put into fresh equations.
const maxChanged = 16

// reduce fills in what a column of the base becomes with the changed ports in: at(i) is its value
// at the i-th of them.
func (v *view) reduce(into, column []complex128, among []int, at func(int) complex128) {
	switch len(v.ports) {
	case 0:
		for _, q := range among {
			into[q] = column[q]
		}
	case 1:
		a, w := at(0), v.w[0]
		for _, q := range among {
			into[q] = column[q] - a*w[q]
		}
	default:
		for _, q := range among {
			x := column[q]
			for i := range v.ports {
				x -= at(i) * v.w[i][q]
			}
			into[q] = x
		}
	}
}

// between is what a unit into port q shows at port r with the changed ports in.
func (v *view) between(q, r int) complex128 {
	x := v.base.column(q)[r]
	for i := range v.ports {
		x -= v.cols[i][q] * v.w[i][r]
	}
	return x
}

// added is one more fault on a view: the inverse of its own small system.
type added struct {
	ports   [maxAdded]int
	n       int
	inverse [maxAdded * maxAdded]complex128
}

// maxAdded is how many ports one fault may have here: a tube's heater sections and its shorts.
const maxAdded = 4

// add puts one more fault's ports on the view. It returns false where the ports are too many or
// cannot be solved apart.
func (v *view) add(ports []int, a *added) bool {
	a.n = 0
	b := v.base
	for _, p := range ports {
		if b.joint[p] != noJoint && !b.void[p] && (v.joint || b.joint[p] == ringJoint) {
			return false
		}
		for ; p >= 0; p = b.follow[p] {
			if b.void[p] {
				continue
			}
			if a.n == maxAdded {
				return false
			}
			a.ports[a.n] = p
			a.n++
		}
	}
	return v.invert(a)
}

// invert fills in the inverse of a fault's small system, port by port (Gauss and Jordan).
// It returns false where digits are lost.
func (v *view) invert(a *added) bool {
	for i := range a.n {
		p := a.ports[i]
		q := &v.base.c.ports[p]
		var row [maxAdded]complex128 // what port i shows at the ports before it, and what becomes of it
		for j := range i {
			row[j] = v.between(p, a.ports[j])
		}
		own := v.between(p, p)
		pivot := own
		var through [maxAdded]complex128
		for j := range i {
			for l := range i {
				through[j] += a.inverse[j*maxAdded+l] * row[l]
			}
			pivot -= row[j] * through[j]
		}
		if q.branch < 0 {
			pivot += complex(q.ohms, 0)
		}
		if size(pivot) == 0 || size(pivot) < v.base.digitsLost(p, !v.joint)*size(v.base.column(p)[p]) {
			return false
		}
		f := reciprocal(pivot)
		for j := range i {
			for l := range i {
				a.inverse[j*maxAdded+l] += through[j] * f * through[l]
			}
		}
		for j := range i {
			a.inverse[j*maxAdded+i] = -through[j] * f
			a.inverse[i*maxAdded+j] = -through[j] * f
		}
		a.inverse[i*maxAdded+i] = f
	}
	return true
}

// currents are the currents in the added fault's ports for what they show.
func (a *added) currents(shows *[maxAdded]complex128, into *[maxAdded]complex128) {
	if a.n == 1 {
		into[0] = a.inverse[0] * shows[0]
		return
	}
	for i := range a.n {
		into[i] = 0
		for j := range a.n {
			into[i] += a.inverse[i*maxAdded+j] * shows[j]
		}
	}
}

// modulus is cmplx.Abs without its care for overflow.
func modulus(z complex128) float64 { return math.Sqrt(real(z)*real(z) + imag(z)*imag(z)) }

// reciprocal is 1/z without the care for infinities that Go's division takes.
func reciprocal(z complex128) complex128 {
	d := real(z)*real(z) + imag(z)*imag(z)
	return complex(real(z)/d, -imag(z)/d)
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
