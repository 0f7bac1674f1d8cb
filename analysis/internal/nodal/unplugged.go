package nodal

import (
	"math"

	"coldcheck/analysis/internal/circuit"
)

// UnpluggedSet is the unplugged set as an ohmmeter finds it: capacitors by their leakage alone,
// rectifiers open, heaters at ColdHeater of their hot ohms.
type UnpluggedSet struct {
	u *Update
	n *Network
}

// Unplugged is the unplugged set in one combination of switch positions with some faults; with tied
// the blades are joined.
func (n *Network) Unplugged(position int, tied bool, faults ...*circuit.Fault) *UnpluggedSet {
	k := key{position: position, mode: circuit.Unplugged, tied: tied}
	var ports []int
	for _, f := range faults {
		if f.Part != circuit.SupplyName { // the plug is out
			ports = append(ports, n.fault[f.Index]...)
		}
	}
	u, nothing := &Update{}, &watch{rows: make([][]complex128, len(n.ports))}
	if !u.put(n.equations(k), nothing, ports, 0, true) {
		u.stand(n.assemble(k, ports), nothing)
	}
	return &UnpluggedSet{u, n}
}

// Port is the ohms that a port sees with admittances put across others besides, +Inf above OpenOhms
// and to an earth that nothing is on.
func (s *UnpluggedSet) Port(p int, shunts ...Shunt) float64 {
	q := s.n.ports[p]
	if q.a < 0 || q.b < 0 {
		if q.a == q.b {
			return 0
		}
		return math.Inf(1)
	}
	if s.u.eq.inactive[p] {
		return 0
	}
	u := s.u
	for _, x := range shunts {
		if x.Cold != 0 {
			if u == s.u {
				u = &Update{}
				u.stand(s.u.eq, s.u.watch)
				*u = *s.u
			}
			u.across(change{x.Port, complex(1/x.Cold, 0)})
		}
	}
	return closed(real(u.ofPort(p)))
}

// Between is the ohms between two nodes, by their places, +Inf above OpenOhms.
func (s *UnpluggedSet) Between(a, b int) float64 {
	eq := s.u.eq
	if eq.row[a] == eq.row[b] {
		return 0
	}
	x := make([]complex128, eq.size)
	x[eq.row[a]], x[eq.row[b]] = 1, -1
	s.u.solve(x)
	return closed(real(x[eq.row[a]] - x[eq.row[b]]))
}

// closed is ohms, +Inf above OpenOhms.
func closed(ohms float64) float64 {
	if ohms >= circuit.OpenOhms {
		return math.Inf(1)
	}
	return ohms
}
