package diagnose

import (
	"coldcheck/analysis"
	"coldcheck/netlist"
)

// Were is the set as it would be if an explanation held, on the same bench, and the faults to put
// into its states. The circuit is nil where the explanation is none of this set.
func Were(c *analysis.Circuit, e *Explanation) (*analysis.Circuit, []*analysis.Fault) {
	set := c.Set
	switch e.Kind {
	case AsDescribed:
		return c, nil
	case FaultsInSet, PlugReversed:
		var faults []*analysis.Fault
		for _, f := range e.Faults {
			faults = append(faults, c.Faults[f.Index])
		}
		return c, faults
	case OtherValue:
		set = withValue(set, e.Part, e.Value, e.Unit)
	case Leaks:
		set = withLeak(set, e)
	default:
		v := variantOf(c.Set, e)
		if v == nil {
			return nil, nil
		}
		set = v.set
	}
	if set == nil {
		return nil, nil
	}
	were, err := analysis.New(set, c.Bench)
	if err != nil {
		return nil, nil
	}
	return were, nil
}

// withValue is a set with a part of another value, in Ω or F; nil for a part that has none.
func withValue(s *netlist.Set, part string, value float64, unit netlist.Unit) *netlist.Set {
	p := s.Part(part)
	if p == nil {
		return nil
	}
	now := *p
	if unit == netlist.Ohm && now.Condition == netlist.Failed {
		now.Condition = netlist.Suspect // it conducts as before; at SafeguardOhms it would count as shorted
	}
	switch d := p.Detail.(type) {
	case *netlist.Resistor:
		x := *d
		x.Measured = value
		now.Detail = &x
	case *netlist.Potentiometer:
		x := *d
		x.Ohms = value
		now.Detail = &x
	case *netlist.Coil:
		x := *d
		x.Ohms = value
		now.Detail = &x
	case *netlist.Capacitor:
		if unit != netlist.Farad {
			return nil
		}
		x := *d
		x.Farads = value
		now.Detail = &x
	default:
		return nil
	}
	return withPart(s, p, &now, "")
}

// withLeak is a set with a leakage: a capacitor's own, or ohms across an insulation.
func withLeak(s *netlist.Set, e *Explanation) *netlist.Set {
	p := s.Part(e.Part)
	if p == nil {
		return nil
	}
	// What is stated tells a capacitor's own leakage from that of its frame's insulation, which may
	// lie between the same nodes.
	if d, ok := p.Detail.(*netlist.Capacitor); ok && d.Ends == netlist.Ends(e.Nodes) && d.LeakOhms == e.Stated {
		now, x := *p, *d
		x.LeakOhms = e.Value
		now.Detail = &x
		return withPart(s, p, &now, "")
	}
	leak := &netlist.Part{Name: e.Part + " leakage", Kind: netlist.KindResistor, Condition: netlist.Good,
		Detail: &netlist.Resistor{Ends: netlist.Ends(e.Nodes), Ohms: e.Value}}
	return withParts(s, func(p *netlist.Part) *netlist.Part { return p }, "", leak)
}

// WorstTouch is the worst that a hand would find at any touch point in the normal states if an
// explanation held, and at which point; nil where there is none or every state is cleared.
func WorstTouch(c *analysis.Circuit, e *Explanation) (*analysis.Worst, string) {
	were, faults := Were(c, e)
	if were == nil {
		return nil, ""
	}
	rows := were.Judged(faults...)
	var worst *analysis.Worst
	at := ""
	for k, p := range were.Points {
		w := analysis.WorstOf(rows, k, nil)
		if w.WorseThan(worst) {
			worst, at = w, p.Name
		}
	}
	return worst, at
}
