package charge

import (
	"math"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/netlist"
)

// Stress is the most volts that a capacitor stands with nothing drawing current: √2 times the AC,
// and the DC.
type Stress struct {
	Part   string
	Volts  float64
	Rating float64 // V DC, an AC rating times √2; 0 where none is given
	State  circuit.State
	// Earthed is the touch point that a hand, an antenna or another set's ground has earthed, "" where it
	// is as bad with none.
	Earthed string
}

// Standing is a normal state, as it is or with one touch point earthed, or with a capacitor of a barrier
// shorted.
type Standing struct {
	*nodal.Solution
	Earthed string
	Shorted string // the capacitor, "" where none is
}

// EachStanding visits all of them that are not cleared, as they are before those with a point earthed. Of
// the capacitors named, each is shorted in turn.
func EachStanding(n *nodal.Network, shorted []string, visit func(Standing)) {
	c := n.Circuit
	var points []string
	for _, metal := range c.Metals() {
		points = append(points, metal[0].Name)
	}
	for _, state := range c.Normal() {
		eachStandingIn(n, state, "", points, visit)
	}
	for _, part := range shorted {
		short := c.ShortFault(part)
		if short == nil {
			continue
		}
		for _, state := range c.Normal() {
			eachStandingIn(n, state.WithFaults(short), part, points, visit)
		}
	}
}

func eachStandingIn(n *nodal.Network, state circuit.State, shorted string, points []string, visit func(Standing)) {
	s := n.Solve(state)
	if !s.Cleared {
		visit(Standing{s, "", shorted})
	}
	for _, point := range points {
		if with := s.Earthed(point); !with.Cleared {
			visit(Standing{with, point, shorted})
		}
	}
}

// clearly is how many times the most so far a stress must be to take its place, so that of states that
// differ by rounding the plainest is told.
const clearly = 1.001

// Stresses lists the worst volts of every capacitor over the normal states, with nothing more connected
// and with each piece of touchable metal in turn earthed. Of a capacitor in a barrier, others are those of
// its path: each must stand the whole when another shorts.
func Stresses(n *nodal.Network, others map[string][]string) []Stress {
	c := n.Circuit
	var all []Stress
	var ends []netlist.Ends
	partner := map[string]map[string]bool{}
	var shorted []string
	for _, p := range c.Set.Parts {
		d, ok := p.Detail.(*netlist.Capacitor)
		if !ok {
			continue
		}
		all, ends = append(all, Stress{Part: p.Name, Rating: d.Peak()}), append(ends, d.Ends)
		partner[p.Name] = map[string]bool{"": true}
		for _, other := range others[p.Name] {
			partner[p.Name][other] = true
		}
		if len(others[p.Name]) > 0 {
			shorted = append(shorted, p.Name)
		}
	}
	EachStanding(n, shorted, func(s Standing) {
		for k := range all {
			if !partner[all[k].Part][s.Shorted] {
				continue
			}
			ac, direct := s.Across(ends[k][0], ends[k][1])
			if volts := math.Sqrt2*ac + math.Abs(direct); volts > all[k].Volts*clearly+1e-6 {
				all[k].Volts, all[k].State, all[k].Earthed = volts, s.State, s.Earthed
			}
		}
	})
	return all
}
