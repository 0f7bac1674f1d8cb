package analysis

import (
	"math"
	"math/cmplx"
)

// DCWith gives every node's DC volts to earth with each rectifier taken as a source of share times
// the rms volts across it, instead of the √2 of an idle reservoir; share is asked with the name of
// the rectifier's part. Batteries are what they are. Nodes that are not there are at 0 V.
func (s *Solution) DCWith(share func(part string) float64) func(node string) float64 {
	c := s.c
	blocking, ac := s.base, s.ac
	if s.State.Rectifier != "" {
		blocking = c.with(s.State, acBlocking, c.statePorts(s.State))
		ac = c.supplyInto(blocking, s.State)
		blocking.lu.solve(ac)
	}
	x := make([]complex128, s.direct.n)
	for _, i := range c.sections {
		e := &c.elements[i]
		if c.takenOut(e, s.State.Faults) {
			continue
		}
		rms := cmplx.Abs(blocking.at(ac, e.port))
		x[s.direct.offset+e.branch] = complex(share(c.Set.Parts[e.part].Name)*rms, 0)
	}
	s.direct.lu.solve(x)
	if s.direct.battery != nil {
		for i, v := range s.direct.battery {
			x[i] += v
		}
	}
	return func(node string) float64 {
		i, ok := c.index[node]
		if !ok {
			return 0
		}
		return real(x[s.direct.row[i]])
	}
}

// SupplyAmpsDC is the larger DC current in the two sides of the supply, in A.
func (s *Solution) SupplyAmpsDC() float64 {
	most := 0.0
	for _, k := range s.c.sides {
		most = math.Max(most, math.Abs(real(s.dcx[s.direct.offset+k])))
	}
	return most
}
