package analysis

// change is a base with some ports put in: the compensation theorem, or Woodbury's identity for
// the inverse of a matrix that a few columns change. What a port shows then is what the base
// shows there, less what the currents in the changed ports take away.
type change struct {
	base  *base
	ports []int
	lu    []complex128 // the small system on the ports, factored, k by k
	swap  []int
	own   []float64 // what each port shows alone
	// search asks for no more digits than it takes to know what is live.
	search bool
}

// Where a pivot of the small system falls below this part of what the port shows alone, the ports
// together are nearly one, and digits are lost; such a set is put into the equations instead. A
// short keeps its digits longer than an opening, which ends at the earth leaks. The search for what
// is live, which reads no volts that hang on the leaks alone, bears more.
const (
	weakShort  = 1e-10
	weakOpen   = 1e-6
	weakSearch = 1e-8
)

// digitsLost is that part for a port.
func (b *base) digitsLost(p int, search bool) float64 {
	switch q := &b.c.ports[p]; {
	case q.branch >= 0 && search:
		return weakSearch
	case q.branch >= 0 || q.joins:
		return weakOpen
	}
	return weakShort
}

// set makes the change, in place. It returns false where the ports cannot be solved apart to the
// digits needed.
func (ch *change) set(b *base, ports []int) bool {
	ch.base, ch.ports = b, ch.ports[:0]
	if !b.apart(ports, ch.search) {
		return false
	}
	for _, p := range ports {
		for ; p >= 0; p = b.follow[p] {
			if !b.void[p] {
				ch.ports = append(ch.ports, p)
			}
		}
	}
	k := len(ch.ports)
	ch.lu = resize(ch.lu, k*k)
	ch.swap, ch.own = resize(ch.swap, k), resize(ch.own, k)
	for i, p := range ch.ports {
		for j, q := range ch.ports {
			ch.lu[i*k+j] = b.between(p, q)
		}
		ch.own[i] = size(ch.lu[i*k+i])
		if b.c.ports[p].branch < 0 {
			ch.lu[i*k+i] += complex(b.c.ports[p].ohms, 0)
		}
	}
	for i := range k {
		best := i
		for r := i + 1; r < k; r++ {
			if size(ch.lu[r*k+i]) > size(ch.lu[best*k+i]) {
				best = r
			}
		}
		pivot := ch.lu[best*k+i]
		if size(pivot) == 0 || k > 1 && size(pivot) < b.digitsLost(ch.ports[i], ch.search)*ch.own[i] {
			return false
		}
		ch.swap[i] = best
		if best != i {
			for j := range k {
				ch.lu[i*k+j], ch.lu[best*k+j] = ch.lu[best*k+j], ch.lu[i*k+j]
			}
		}
		inverse := reciprocal(pivot)
		ch.lu[i*k+i] = inverse
		for r := i + 1; r < k; r++ {
			factor := ch.lu[r*k+i] * inverse
			ch.lu[r*k+i] = factor
			for j := i + 1; j < k; j++ {
				ch.lu[r*k+j] -= factor * ch.lu[i*k+j]
			}
		}
	}
	return true
}

// apart tells whether the earth leaks follow from the ports one by one. Where volts that hang on the
// leaks alone are read, a stuck pole is not put together with anything else.
func (b *base) apart(ports []int, search bool) bool {
	joints := 0
	for _, p := range ports {
		if b.void[p] || b.joint[p] == noJoint {
			continue
		}
		if b.c.ports[p].joins && len(ports) > 1 && !search {
			return false
		}
		if joints++; joints > 1 || b.joint[p] == ringJoint {
			return false
		}
	}
	return true
}

// response solves the small system for what the ports show in the base, in place.
func (ch *change) response(v []complex128) {
	k := len(ch.ports)
	for i := range k {
		if s := ch.swap[i]; s != i {
			v[i], v[s] = v[s], v[i]
		}
	}
	for i := range k {
		for r := i + 1; r < k; r++ {
			v[r] -= ch.lu[r*k+i] * v[i]
		}
	}
	for i := k - 1; i >= 0; i-- {
		for j := i + 1; j < k; j++ {
			v[i] -= ch.lu[i*k+j] * v[j]
		}
		v[i] *= ch.lu[i*k+i] // the pivot's reciprocal
	}
}

// less is what the changed ports' currents take away at a port whose column is known: by
// reciprocity it says what a unit into any other port shows there.
func (ch *change) less(q int, currents []complex128) complex128 {
	sum, col := complex(0, 0), ch.base.column(q)
	for i, p := range ch.ports {
		sum += col[p] * currents[i]
	}
	return sum
}

func resize[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}
