package page

import (
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// edge is one thing that is drawn between two nodes: a part, a piece of one, or several wires side
// by side.
type edge struct {
	parts []string // one, or the wires side by side
	a, b  string   // nodes, as the first path to it came
	class edgeClass
	piece string
	cost  int // safeguards; 0 where current just passes, or nobody vouches for it
	ohms  float64
	set   *netlist.Set
}

// edgeClass tells channels of one part between the same two nodes apart, whatever state they are in.
type edgeClass int

const (
	passes edgeClass = iota
	rectifies
	capacitance
	resistance
	insulates
)

// classOf is the same for a channel and for the short that it becomes.
func classOf(set *netlist.Set, ch analysis.Channel) edgeClass {
	switch ch.Sort {
	case analysis.Rectifying:
		return rectifies
	case analysis.Capacitive:
		return capacitance
	case analysis.Resistive:
		return resistance
	case analysis.Insulating:
		return insulates
	}
	if ch.Kind == "" && ch.Sort == analysis.Conductor {
		return classOfConductor(set.Part(ch.Part))
	}
	if ch.Kind == "" {
		return passes
	}
	return classOfFault(set, ch.Part, ch.Kind)
}

// classOfConductor tells a part that is meant to conduct from the short of a failed one.
func classOfConductor(p *netlist.Part) edgeClass {
	switch p.Kind {
	case netlist.KindCapacitor:
		return capacitance
	case netlist.KindResistor, netlist.KindPotentiometer:
		return resistance
	case netlist.KindRectifier:
		return rectifies
	case netlist.KindTube, netlist.KindInsulation:
		return insulates
	}
	return passes
}

func classOfFault(set *netlist.Set, part string, kind analysis.FaultKind) edgeClass {
	switch kind {
	case analysis.Stuck:
		return passes
	case analysis.Shorted:
		switch set.Part(part).Kind {
		case netlist.KindCapacitor:
			return capacitance
		case netlist.KindResistor, netlist.KindPotentiometer:
			return resistance
		}
		return rectifies
	}
	return insulates
}

// edgeKey names an edge. Wires side by side are one.
type edgeKey struct {
	part  string
	a, b  string
	class edgeClass
}

func keyOf(set *netlist.Set, ch analysis.Channel) edgeKey {
	k := edgeKey{ch.Part, ch.A, ch.B, classOf(set, ch)}
	if isWire(set, ch.Part) {
		k.part = ""
	}
	if k.a > k.b {
		k.a, k.b = k.b, k.a
	}
	return k
}

// key is the key under which the edge's channels go.
func (e *edge) key() edgeKey {
	k := edgeKey{e.parts[0], e.a, e.b, e.class}
	if isWire(e.set, k.part) {
		k.part = ""
	}
	if k.a > k.b {
		k.a, k.b = k.b, k.a
	}
	return k
}

func isWire(set *netlist.Set, part string) bool {
	p := set.Part(part)
	return p != nil && p.Kind == netlist.KindWire
}

func (e *edge) barrier() bool {
	return e.class == capacitance || e.class == resistance || e.class == insulates
}

func (e *edge) part() *netlist.Part { return e.set.Part(e.parts[0]) }

// heater tells a stretch of a heater string, which is drawn folded where it is long.
func (e *edge) heater() bool { return e.class == passes && e.piece == "heater" }

// symbol is the name of the edge's symbol in the page.
func (e *edge) symbol() string {
	p := e.part()
	switch e.class {
	case rectifies:
		if p.Kind == netlist.KindTube {
			return "diode-tube"
		}
		return "rectifier"
	case capacitance:
		return "capacitor"
	case insulates:
		if e.piece == "heater to cathode" {
			return "heater-cathode"
		}
		return "insulation"
	}
	switch p.Kind {
	case netlist.KindTube:
		return "heater"
	case netlist.KindTransformer:
		return "winding"
	case netlist.KindInsulation:
		return "insulation"
	case netlist.KindCapacitor:
		return "capacitor"
	case netlist.KindSwitch, netlist.KindSelector, netlist.KindFuse, netlist.KindWire, netlist.KindResistor,
		netlist.KindPotentiometer, netlist.KindCoil, netlist.KindMotor, netlist.KindLamp, netlist.KindBattery:
		return string(p.Kind)
	case netlist.KindRectifier:
		return "rectifier"
	}
	return "wire"
}

// name is what stands above the symbol.
func (e *edge) name() string { return strings.Join(e.parts, ", ") }

// says are the lines below the symbol: what the part is.
func (e *edge) says() []string {
	p := e.part()
	switch d := p.Detail.(type) {
	case *netlist.Capacitor:
		if e.class != insulates {
			lines := []string{strings.TrimSpace(netlist.FormatValue(d.Farads, netlist.Farad) + " " + d.Type)}
			if d.Class != "" {
				return append(lines, "class "+d.Class)
			}
			return append(lines, "no safety class")
		}
	case *netlist.Resistor:
		if e.class != insulates {
			return []string{netlist.FormatValue(d.InUse(), netlist.Ohm)}
		}
	case *netlist.Potentiometer:
		if e.class != insulates {
			return []string{netlist.FormatValue(d.Ohms, netlist.Ohm)}
		}
	case *netlist.Insulation:
		return []string{string(d.Grade), "insulation"}
	case *netlist.Transformer:
		if e.class == insulates {
			if p.Frame != "" && (e.a == p.Frame || e.b == p.Frame) {
				break
			}
			return []string{string(d.Insulation), "insulation"}
		}
		return []string{e.winding(d), "winding"}
	case *netlist.Tube:
		switch {
		case e.class == rectifies:
			return []string{netlist.Visible(d.TypeName), "rectifying"}
		case e.piece == "heater to cathode":
			return []string{"heater to", "cathode"}
		case e.class == passes:
			return []string{netlist.Visible(d.TypeName), "heater"}
		}
	case *netlist.Coil, *netlist.Motor, *netlist.Battery, *netlist.Rectifier, *netlist.Lamp, *netlist.Fuse, *netlist.Switch, *netlist.Selector:
		if e.class != insulates {
			return []string{string(p.Kind)}
		}
	case *netlist.Wire:
		return nil
	}
	return []string{"insulation", "to its frame"}
}

// winding is the name of the winding that the edge is.
func (e *edge) winding(t *netlist.Transformer) string {
	for _, w := range t.Windings {
		if w.Name == e.piece || w.Start == e.a && w.End == e.b || w.Start == e.b && w.End == e.a {
			return netlist.Visible(w.Name)
		}
	}
	return netlist.Visible(e.piece)
}

// guardWords says what the edge is as a safeguard, "" where it is none of that sort.
func (e *edge) guardWords() string {
	if !e.barrier() {
		return ""
	}
	switch {
	case e.cost >= 2:
		return "counts as 2"
	case e.cost == 1:
		return "safeguard"
	case e.part().Condition == netlist.Failed:
		return "failed"
	case e.part().Condition == netlist.Suspect:
		return "suspect"
	}
	return "no safeguard"
}

// short names the edge in a line of text.
func (e *edge) short() string {
	switch {
	case e.class == rectifies && e.part().Kind == netlist.KindTube:
		return e.name() + " rectifying"
	case e.class == passes && e.part().Kind == netlist.KindTransformer:
		return e.name() + " " + e.winding(e.part().Detail.(*netlist.Transformer))
	case e.piece != "" && e.class != rectifies:
		return e.name() + " " + netlist.Visible(e.piece)
	}
	return e.name()
}
