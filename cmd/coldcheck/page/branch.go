package page

import (
	"slices"
	"strings"

	"coldcheck/analysis/survey"
	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// branch is a branch as it is drawn.
type branch struct {
	*survey.Branch
	set *netlist.Set
}

func (b *branch) part() *netlist.Part { return b.set.Part(b.Parts[0]) }

// heater tells a stretch of a heater string, which is drawn folded where it is long.
func (b *branch) heater() bool { return b.Class == survey.Passes && b.Piece == "heater" }

// symbol is the name of the branch's symbol in the page.
func (b *branch) symbol() string {
	p := b.part()
	switch b.Class {
	case survey.Hand:
		return "hand"
	case survey.Draws:
		return "tube"
	case survey.Rectifies:
		if p.Kind == netlist.KindTube {
			return "diode-tube"
		}
		return "rectifier"
	case survey.Capacitance:
		return b.capacitor()
	case survey.Insulates:
		if b.Piece == "heater to cathode" {
			return "heater-cathode"
		}
		return "insulation"
	}
	switch p.Kind {
	case netlist.KindTube:
		return "heater"
	case netlist.KindTransformer:
		if oneWinding(p.Detail.(*netlist.Transformer)) {
			return "coil"
		}
		return "winding"
	case netlist.KindInsulation:
		return "insulation"
	case netlist.KindCapacitor:
		return b.capacitor()
	case netlist.KindSwitch, netlist.KindSelector, netlist.KindFuse, netlist.KindWire, netlist.KindResistor,
		netlist.KindPotentiometer, netlist.KindCoil, netlist.KindMotor, netlist.KindLamp, netlist.KindBattery:
		return string(p.Kind)
	case netlist.KindRectifier:
		return "rectifier"
	}
	return "wire"
}

// oneWinding reports whether all windings of a transformer hang together: it is an autotransformer, or a coil with taps.
func oneWinding(t *netlist.Transformer) bool {
	joined := map[string]bool{}
	for range t.Windings { // in the worst order each round joins one
		for i, w := range t.Windings {
			if i == 0 || joined[w.Start] || joined[w.End] {
				joined[w.Start], joined[w.End] = true, true
			}
		}
	}
	return !slices.ContainsFunc(t.Windings, func(w netlist.Winding) bool { return !joined[w.Start] })
}

// drawn is the symbol that is drawn: a selector's contact is one like a switch's.
func (b *branch) drawn() string {
	if s := b.symbol(); s != "selector" {
		return s
	}
	return "switch"
}

// capacitor is the symbol of a capacitor: one that has a positive end shows it.
func (b *branch) capacitor() string {
	if d, ok := b.part().Detail.(*netlist.Capacitor); ok && d.Positive != "" {
		return "electrolytic"
	}
	return "capacitor"
}

// mirrored reports whether the symbol stands the other way round where it is drawn from a node: symbols
// with an anode, a plus or a heater have it at their first end.
func (b *branch) mirrored(from string) bool {
	if b.Class == survey.Hand {
		return false
	}
	switch d := b.part().Detail.(type) {
	case *netlist.Capacitor:
		return d.Positive != "" && from != d.Positive
	case *netlist.Battery:
		return from != d.Positive
	case *netlist.Rectifier:
		return from != d.Anode
	case *netlist.Tube:
		if b.Piece == "heater to cathode" {
			return !slices.ContainsFunc(d.Pins, func(pin netlist.Pin) bool {
				return pin.Node == from && d.Type.Heater != nil && d.Type.Heater.HasPin(pin.Number)
			})
		}
		switch b.Class {
		case survey.Rectifies:
			return from != b.anode(d)
		case survey.Draws:
			return b.First != "" && from != b.First
		}
	}
	return false
}

// anode is the node of the anode of a tube's section between the branch's nodes.
func (b *branch) anode(t *netlist.Tube) string {
	for _, s := range slices.Concat(t.Type.Rectifiers, t.Type.Diodes, t.Type.Grids) {
		a, k := t.Node(s.Anode), t.Node(s.Cathode)
		if a == b.A && k == b.B || a == b.B && k == b.A {
			return a
		}
	}
	return b.A
}

// name is what stands above the symbol.
func (b *branch) name() string { return strings.Join(b.Parts, ", ") }

// says are the lines below the symbol: what the part is.
func (b *branch) says() []string {
	if b.Class == survey.Hand {
		return []string{"through a hand"}
	}
	if b.Class == survey.Insulates {
		return b.saysOfInsulation()
	}
	switch d := b.part().Detail.(type) {
	case *netlist.Capacitor:
		lines := []string{strings.TrimSpace(netlist.FormatValue(d.Farads, netlist.Farad) + " " + d.Type)}
		if d.Class != "" {
			return append(lines, "class "+d.Class)
		}
		return append(lines, "no safety class")
	case *netlist.Resistor:
		return []string{netlist.FormatValue(d.InUse(), netlist.Ohm)}
	case *netlist.Potentiometer:
		return []string{netlist.FormatValue(d.Ohms, netlist.Ohm)}
	case *netlist.Transformer:
		return []string{b.winding(d), "winding"}
	case *netlist.Tube:
		if b.Class == survey.Draws {
			return []string{netlist.Visible(d.TypeName), "plate current"}
		}
		if b.Class == survey.Rectifies {
			return []string{netlist.Visible(d.TypeName), phrase.Section(d, b.A, b.B)}
		}
		return []string{netlist.Visible(d.TypeName), "heater"}
	case *netlist.Wire:
		return nil
	}
	return []string{string(b.part().Kind)}
}

// saysOfInsulation is says of what insulates.
func (b *branch) saysOfInsulation() []string {
	p := b.part()
	switch d := p.Detail.(type) {
	case *netlist.Insulation:
		return []string{string(d.Grade) + " insulation"}
	case *netlist.Transformer:
		if p.Frame == "" || b.A != p.Frame && b.B != p.Frame {
			return []string{string(d.Insulation) + " insulation", windingAt(d, b.A) + " to " + windingAt(d, b.B)}
		}
		for _, node := range []string{b.A, b.B} {
			if node != p.Frame {
				return []string{"insulation", windingAt(d, node) + " to its frame"}
			}
		}
	case *netlist.Tube:
		if b.Piece == "heater to cathode" {
			return []string{"heater to", "cathode"}
		}
	}
	return []string{"insulation", "to its frame"}
}

// windingAt names the winding that has an end at a node.
func windingAt(t *netlist.Transformer, node string) string {
	for _, w := range t.Windings {
		if w.Start == node || w.End == node {
			return netlist.Visible(w.Name)
		}
	}
	return netlist.Visible(node)
}

// winding is the name of the winding that the branch is.
func (b *branch) winding(t *netlist.Transformer) string {
	for _, w := range t.Windings {
		if w.Name == b.Piece || w.Start == b.A && w.End == b.B || w.Start == b.B && w.End == b.A {
			return netlist.Visible(w.Name)
		}
	}
	return netlist.Visible(b.Piece)
}

// guardWords says what the branch is as a safeguard, "" where it is none of that sort.
func (b *branch) guardWords() string {
	if !b.Safeguard() {
		return ""
	}
	switch {
	case b.Cost >= 2:
		return "counts as 2"
	case b.Cost == 1:
		return "safeguard"
	case b.part().Condition == netlist.Failed:
		return "failed"
	case b.part().Condition == netlist.Suspect:
		return "suspect"
	}
	return "no safeguard"
}

// short names the branch in a line of text.
func (b *branch) short() string {
	tube, is := b.part().Detail.(*netlist.Tube)
	switch {
	case b.Class == survey.Rectifies && is:
		return b.name() + " " + phrase.Section(tube, b.A, b.B)
	case b.Class == survey.Passes && b.part().Kind == netlist.KindTransformer:
		return b.name() + " " + b.winding(b.part().Detail.(*netlist.Transformer))
	case b.Piece != "" && b.Class != survey.Rectifies:
		return b.name() + " " + netlist.Visible(b.Piece)
	}
	return b.name()
}
