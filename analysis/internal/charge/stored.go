// Package charge finds what capacitors stand and keep: the most volts across each, and the charge that
// stays after the plug is pulled.
package charge

import (
	"math"

	"coldcheck/analysis/internal/circuit"
	"coldcheck/analysis/internal/nodal"
	"coldcheck/analysis/internal/unionfind"
)

// Stored is a capacitor that stays over StoredVolts after the plug is pulled.
type Stored struct {
	Part    string
	Volts   float64 // DC, the worst over the normal states; mains peak where it lies across the line
	Joules  float64
	Seconds float64 // until StoredVolts; +Inf where nothing drains it
	// BladeSeconds is the same where it lies across the plug's blades in some switch position, and 0
	// where it never does.
	BladeSeconds float64
	Drain        float64 // Ω, +Inf where nothing drains it
}

// StoredVolts is where a charge counts as gone (IEC 62368-1, ES1 for DC).
const StoredVolts = circuit.ES1VoltsDC

// BladeSecondsLimit is how soon a plug's own blades must be below StoredVolts (IEC 62368-1,
// 5.5.2.2).
const BladeSecondsLimit = 2.0

// position is a combination of switch positions with the plug out.
type position struct {
	unplugged    *nodal.UnpluggedSet
	joined       *unionfind.Sets
	hot, neutral int // the blades
}

// acrossLine reports whether conductors join the ends of an element to the two blades, one each.
func (p *position) acrossLine(e *circuit.Element) bool {
	return !p.joined.Same(p.hot, p.neutral) &&
		(p.joined.Same(e.A, p.hot) && p.joined.Same(e.B, p.neutral) || p.joined.Same(e.A, p.neutral) && p.joined.Same(e.B, p.hot))
}

// Unplugged finds the charges that stay. A charge is the worst DC volts over the normal states; it
// drains through the resistance between the ends with every capacitor open but for leakage,
// rectifiers blocking, heaters cold, switches in the position that drains least: τ = R·C, time to
// 60 V is τ·ln(V/60), energy C·V²/2.
func Unplugged(n *nodal.Network) []Stored {
	c := n.Circuit
	worst := worstDC(n)
	hot, _ := c.Node(c.Plug.Hot)
	neutral, _ := c.Node(c.Plug.Neutral)
	positions := make([]position, len(c.Positions))
	for k := range positions {
		positions[k] = position{n.Unplugged(k, false), c.Joined(k, true), hot, neutral}
	}
	var all []Stored
	for i := range c.Elements {
		e := &c.Elements[i]
		if e.Sort != circuit.Capacitor {
			continue
		}
		volts, line := worst[i], false
		for k := range positions {
			line = line || positions[k].acrossLine(e)
		}
		if line {
			volts = max(volts, math.Sqrt2*c.Set.Volts)
		}
		if volts > StoredVolts {
			all = append(all, stored(c, e, volts, positions))
		}
	}
	return all
}

// worstDC is, by element, the worst DC volts across a capacitor over the normal states, unsigned.
func worstDC(n *nodal.Network) []float64 {
	c := n.Circuit
	worst := make([]float64, len(c.Elements))
	for _, state := range c.Normal() {
		s := n.Solve(state)
		if s.Cleared {
			continue
		}
		for i := range c.Elements {
			if e := &c.Elements[i]; e.Sort == circuit.Capacitor {
				_, volts := s.Across(c.NodeName(e.A), c.NodeName(e.B))
				worst[i] = max(worst[i], math.Abs(volts))
			}
		}
	}
	return worst
}

// stored is what a capacitor keeps of those volts.
func stored(c *circuit.Circuit, e *circuit.Element, volts float64, positions []position) Stored {
	drain, bladeDrain := 0.0, 0.0
	for k := range positions {
		ohms := positions[k].unplugged.Between(e.A, e.B)
		drain = max(drain, ohms)
		if positions[k].acrossLine(e) {
			bladeDrain = max(bladeDrain, ohms)
		}
	}
	seconds := func(ohms float64) float64 { return ohms * e.Farads * math.Log(volts/StoredVolts) }
	return Stored{Part: c.PartOf(e).Name, Volts: volts, Joules: e.Farads * volts * volts / 2, Seconds: seconds(drain),
		BladeSeconds: seconds(bladeDrain), Drain: drain}
}
