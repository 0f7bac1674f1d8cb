package rules

import (
	"fmt"

	"coldcheck/netlist"
)

// WindingCapacitance names the transformer, the coil or the motor of which a capacitor may be no part
// but the capacitance of its own windings, put down as one: small, with nothing marked on it, between
// two windings, or between one and the part's own metal. It is "" where it is none. A set file has no
// word for such a capacitance, and no one can replace it.
func WindingCapacitance(set *netlist.Set, p *netlist.Part) string {
	c, ok := p.Detail.(*netlist.Capacitor)
	if !ok || c.Type != "" || c.Rating > 0 || c.Class != "" || c.Farads > gangFarads {
		return ""
	}
	a, b := wiredTo(set, c.Ends[0]), wiredTo(set, c.Ends[1])
	for _, other := range set.Parts {
		var windings [][]string
		switch d := other.Detail.(type) {
		case *netlist.Transformer:
			if !d.Coupled {
				continue // of an i.f. transformer it may well be a part
			}
			for _, w := range d.Windings {
				windings = append(windings, []string{w.Start, w.End})
			}
		case *netlist.Coil, *netlist.Motor:
			var ends []string
			for _, t := range other.Terminals {
				ends = append(ends, t.Node)
			}
			windings = append(windings, ends)
		default:
			continue
		}
		if other.Frame != "" {
			windings = append(windings, []string{other.Frame})
		}
		for i, from := range windings {
			for k, to := range windings {
				// One that lies across a winding that shares an end with another is between no two.
				if i != k && onAny(a, from) && onAny(b, to) && !onAny(a, to) && !onAny(b, from) {
					return other.Name
				}
			}
		}
	}
	return ""
}

func onAny(group map[string]bool, nodes []string) bool {
	for _, n := range nodes {
		if group[n] {
			return true
		}
	}
	return false
}

// wiredTo are the points that wires alone join to a node, itself among them.
func wiredTo(set *netlist.Set, node string) map[string]bool {
	group := map[string]bool{node: true}
	for grown := true; grown; {
		grown = false
		for _, p := range set.Parts {
			if d, ok := p.Detail.(*netlist.Wire); ok && group[d.Ends[0]] != group[d.Ends[1]] {
				group[d.Ends[0]], group[d.Ends[1]], grown = true, true, true
			}
		}
	}
	return group
}

// strayRemedy is what to do about a capacitor that may be the capacitance of a part's own windings.
func strayRemedy(capacitor, of string) string {
	return fmt.Sprintf("if %s is no part but the capacitance of %s's own windings, nothing can be fitted in its place, and it shorts only with the "+
		"insulation of %s: judge that one, with %s taken out of the file; if it is a part, replace it by a class Y1 one", capacitor, of, of, capacitor)
}
