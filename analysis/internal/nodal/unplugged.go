package nodal

import (
	"math"

	"coldcheck/analysis/internal/circuit"
)

// UnpluggedSet is the unplugged set as an ohmmeter finds it: capacitors by their leakage alone,
// rectifiers open, heaters at ColdHeater of their hot ohms. It is used by one goroutine at a time.
type UnpluggedSet struct {
	eq      *Equations
	n       *Network
	nothing *watch
	u       Update // room for Port
}

// Unplugged is the unplugged set in one combination of switch positions with some faults; with tied
// the blades are joined.
func (n *Network) Unplugged(position int, tied bool, faults ...*circuit.Fault) *UnpluggedSet {
	k := key{position: position, mode: circuit.Unplugged, tied: tied}
	var ports []int
	for _, f := range faults {
		if f.Part != circuit.SupplyName { // the plug is out
			ports = append(ports, n.portsOf(f, circuit.AsMarked, position)...)
		}
	}
	// Without an earth the volts of all nodes stand far off; a fault on an update would lose digits.
	if len(ports) == 0 {
		return &UnpluggedSet{eq: n.equations(k), n: n, nothing: n.watchingNothing()}
	}
	return &UnpluggedSet{eq: n.assemble(k, ports), n: n, nothing: n.watchingNothing()}
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
	if s.eq.inactive[p] {
		return 0
	}
	u := &s.u
	u.stand(s.eq, s.nothing)
	if len(shunts) > 0 {
		s.eq.column(p) // values are tried one after the other: what every port shows there is kept
	}
	for _, x := range shunts {
		if x.Cold != 0 {
			u.shunt([]change{{x.Port, complex(1/x.Cold, 0)}}, nil)
		}
	}
	return closed(real(u.ofPort(p)))
}

// Between is the ohms between two nodes, by their places, +Inf above OpenOhms.
func (s *UnpluggedSet) Between(a, b int) float64 { return closed(s.eq.ohmsBetween(a, b)) }

// closed is ohms, +Inf above OpenOhms.
func closed(ohms float64) float64 {
	if ohms >= circuit.OpenOhms {
		return math.Inf(1)
	}
	return ohms
}

// UnpluggedBetween is the ohms between two nodes by their names, +Inf where one is not there.
func (n *Network) UnpluggedBetween(position int, a, b string, tied bool, faults ...*circuit.Fault) float64 {
	i, ok := n.Circuit.Node(a)
	j, also := n.Circuit.Node(b)
	if !ok || !also {
		return math.Inf(1)
	}
	return n.Unplugged(position, tied, faults...).Between(i, j)
}
