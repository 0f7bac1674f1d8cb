package diagnose

import (
	"coldcheck/analysis"
	"coldcheck/netlist"
)

// What wears out so that only a set which plays shows it.
const (
	driedShare = 0.1     // of its capacitance: what a dried electrolytic has left
	weakShare  = 1.0 / 3 // of its current: what a weak tube draws
	deadShare  = 1e-4    // and one that lights and passes nothing
	deadVolts  = 1e4     // V, a rectifier's drop from which it counts as such
	driftTimes = 3.0     // a carbon resistor that has drifted far up
)

// worn are the variants of the gauge's set that tell themselves apart while it plays: none where that is not
// worked out.
func (g *gauge) worn() []variant {
	if !g.plays {
		return nil
	}
	return worn(g.c.Set)
}

// worn lists the electrolytics dried out, the tubes weak, and the resistors drifted up, each alone.
func worn(s *netlist.Set) []variant {
	var all []variant
	for _, p := range s.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Capacitor:
			if left := driedShare * d.Farads; analysis.Reservoir(d.Farads) {
				all = append(all, variant{Explanation{Kind: DriedOut, Part: p.Name, Value: left, Unit: netlist.Farad, Stated: d.Farads}, withValue(s, p.Name, left, netlist.Farad)})
			}
		case *netlist.Tube:
			for _, left := range []float64{weakShare, deadShare} {
				if t := weak(d.Type, left); t != nil {
					now := *p
					now.Detail = changed(d, func(x *netlist.Tube) { x.Type = t })
					all = append(all, variant{Explanation{Kind: WeakTube, Part: p.Name, Value: left}, withPart(s, p, &now, "")})
				}
			}
		case *netlist.Resistor:
			ohms := driftTimes * d.InUse()
			all = append(all, variant{Explanation{Kind: OtherValue, Part: p.Name, Value: ohms, Unit: netlist.Ohm, Stated: d.InUse()}, withValue(s, p.Name, ohms, netlist.Ohm)})
		}
	}
	return all
}

// weak is a type that draws a share of its current, or whose rectifier drops as many times its volts; nil for one
// that does neither.
func weak(t *netlist.TubeType, share float64) *netlist.TubeType {
	if len(t.Working) == 0 && t.Drop.Amps == 0 {
		return nil
	}
	now := *t
	now.Working = nil
	for _, w := range t.Working {
		w.PlateAmps, w.ScreenAmps = w.PlateAmps*share, w.ScreenAmps*share
		now.Working = append(now.Working, w)
	}
	now.Drop.Volts = t.Drop.Volts / share
	return &now
}
