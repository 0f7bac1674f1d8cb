package analysis

import "math"

// A view is a base with some faults put in. From a view the effect of one more fault costs a handful
// of multiplications, so that the search over sets of faults goes from each set to all its larger
// ones without solving anything afresh.
//
// It rests on reciprocity: what a unit into port q shows at port p is what a unit into p shows at
// q, since sets are made of resistances, reactances and ideal transformers alone.
type view struct {
	base  *base
	seen  *seen
	ports []int          // the ports put in
	cols  [][]complex128 // the base's column of each of them
	rows  [][]complex128 // the row of each of them
	own   [][]complex128 // by watched port: its row with the faults in
	joint bool           // one of the ports makes one node of two, or two of one
	weak  bool           // the ports cannot be solved apart to the digits needed
	ch    change
	// inverse is that of the small system of two ports, row by row.
	inverse [4]complex128
}

// seen is what the ports of a base show: a row a port, with what each source shows there first, then
// what a unit into each watched port shows.
type seen struct {
	sources [][]complex128 // by port
	watch   []int
	rows    [][]complex128 // by port
}

// width is how many figures a row has.
func (s *seen) width() int { return len(s.sources) + len(s.watch) }

// sees lays out the rows of the ports among.
func (b *base) sees(sources [][]complex128, watch, among []int) *seen {
	s := &seen{sources: sources, watch: watch, rows: make([][]complex128, len(b.void))}
	width := s.width()
	all := make([]complex128, len(among)*width)
	for _, q := range among {
		s.rows[q], all = all[:width:width], all[width:]
		for m, source := range sources {
			s.rows[q][m] = source[q]
		}
	}
	for m, p := range watch {
		column := b.column(p)
		for _, q := range among {
			s.rows[q][len(sources)+m] = column[q]
		}
	}
	return s
}

// maxChanged is how many ports a set of faults may change before it is put into fresh equations.
const maxChanged = 16

// build puts ports into a base. Of the watched ports the first few are to be known themselves.
func (v *view) build(b *base, s *seen, ports []int, known int) {
	v.base, v.seen = b, s
	v.ch.search = true
	if v.weak = !v.ch.set(b, ports) || len(v.ch.ports) > maxChanged; v.weak {
		return
	}
	v.ports, v.joint, v.cols = v.ch.ports, false, v.cols[:0]
	v.rows = resizeRows(v.rows, len(v.ports), s.width())
	for i, p := range v.ports {
		column := b.column(p)
		v.cols = append(v.cols, column)
		v.joint = v.joint || b.joint[p] != noJoint
		for m, source := range s.sources {
			v.rows[i][m] = source[p]
		}
		for m, q := range s.watch {
			v.rows[i][len(s.sources)+m] = column[q]
		}
	}
	v.own = resizeRows(v.own, known, s.width())
	if len(v.ports) == 2 {
		for j := range 2 {
			unit := [2]complex128{complex(float64(1-j), 0), complex(float64(j), 0)}
			v.ch.response(unit[:])
			v.inverse[j], v.inverse[2+j] = unit[0], unit[1]
		}
	}
	var currents [maxChanged]complex128
	for m := range known {
		v.row(s.watch[m], v.own[m], &currents, nil)
	}
}

// row fills in what a port shows with the faults in, and the currents in their ports for a unit into
// it. Some are the figures that are asked for, nil for all.
func (v *view) row(q int, into []complex128, currents *[maxChanged]complex128, some []int) {
	plain := v.seen.rows[q]
	into = into[:len(plain)]
	switch k := len(v.ports); {
	case k == 1 && some == nil:
		currents[0] = v.cols[0][q] * v.ch.lu[0]
		amps, row := currents[0], v.rows[0][:len(plain)]
		for m, x := range plain {
			into[m] = x - row[m]*amps
		}
	case k == 2:
		a, b := v.cols[0][q], v.cols[1][q]
		a, b = v.inverse[0]*a+v.inverse[1]*b, v.inverse[2]*a+v.inverse[3]*b
		currents[0], currents[1] = a, b
		first, second := v.rows[0][:len(plain)], v.rows[1][:len(plain)]
		if some == nil {
			for m, x := range plain {
				into[m] = x - first[m]*a - second[m]*b
			}
		}
		for _, m := range some {
			into[m] = plain[m] - first[m]*a - second[m]*b
		}
	default:
		for i := range k {
			currents[i] = v.cols[i][q]
		}
		v.ch.response(currents[:k])
		if some == nil {
			copy(into, plain)
		}
		for _, m := range some {
			into[m] = plain[m]
		}
		for i := range k {
			amps, row := currents[i], v.rows[i][:len(plain)]
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
}

// added is one more fault on a view: the inverse of its own small system, and the rows of its ports.
type added struct {
	ports    [maxAdded]int
	n        int
	inverse  [maxAdded * maxAdded]complex128
	rows     [maxAdded][]complex128
	currents [maxAdded][maxChanged]complex128 // in the view's ports for a unit into each
}

// maxAdded is how many ports one fault may have here: a tube's heater sections and its shorts.
const maxAdded = 4

// add puts one more fault's ports on the view, with some figures of their rows, nil for all. It returns
// false where the ports are too many or cannot be solved apart.
func (v *view) add(ports []int, a *added, some []int) bool {
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
			a.rows[a.n] = resize(a.rows[a.n], v.seen.width())
			v.row(p, a.rows[a.n], &a.currents[a.n], some)
			a.n++
		}
	}
	return v.invert(a)
}

// between is what a unit into port q shows at the j-th added port with the view's faults in.
func (v *view) between(q int, a *added, j int) complex128 {
	x := v.base.column(q)[a.ports[j]]
	for i := range v.ports {
		x -= v.cols[i][q] * a.currents[j][i]
	}
	return x
}

// invert fills in the inverse of a fault's small system, port by port (Gauss and Jordan).
// It returns false where digits are lost.
func (v *view) invert(a *added) bool {
	for i := range a.n {
		p := a.ports[i]
		q := &v.base.c.ports[p]
		var row [maxAdded]complex128 // what port i shows at the ports before it, and what becomes of it
		for j := range i {
			row[j] = v.between(p, a, j)
		}
		own := v.between(p, a, i)
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

// amps are the currents in the added fault's ports for what they show.
func (a *added) amps(shows *[maxAdded]complex128, into *[maxAdded]complex128) {
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

// less is what those currents leave of x, the m-th figure of a row.
func (a *added) less(x complex128, m int, amps *[maxAdded]complex128) complex128 {
	for i := range a.n {
		x -= a.rows[i][m] * amps[i]
	}
	return x
}

// impedance is what a watched point sees with the added fault in: own without it, the m-th figure of
// a row.
func (a *added) impedance(own complex128, m int) complex128 {
	var shows, amps [maxAdded]complex128
	for i := range a.n {
		shows[i] = a.rows[i][m]
	}
	a.amps(&shows, &amps)
	return a.less(own, m, &amps)
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

func resizeRows(rows [][]complex128, k, n int) [][]complex128 {
	for len(rows) < k {
		rows = append(rows, nil)
	}
	for i := range k {
		rows[i] = resize(rows[i], n)
	}
	return rows[:k]
}
