package page

import (
	"strings"

	"coldcheck/analysis/survey"
	"coldcheck/netlist"
)

// branch is a branch as it is drawn.
type branch struct {
	*survey.Branch
	set *netlist.Set
}

func (e *branch) part() *netlist.Part { return e.set.Part(e.Parts[0]) }

// heater tells a stretch of a heater string, which is drawn folded where it is long.
func (e *branch) heater() bool { return e.Class == survey.Passes && e.Piece == "heater" }

// symbol is the name of the branch's symbol in the page.
func (e *branch) symbol() string {
	p := e.part()
	switch e.Class {
	case survey.Rectifies:
		if p.Kind == netlist.KindTube {
			return "diode-tube"
		}
		return "rectifier"
	case survey.Capacitance:
		return "capacitor"
	case survey.Insulates:
		if e.Piece == "heater to cathode" {
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
func (e *branch) name() string { return strings.Join(e.Parts, ", ") }

// says are the lines below the symbol: what the part is.
func (e *branch) says() []string {
	p := e.part()
	switch d := p.Detail.(type) {
	case *netlist.Capacitor:
		if e.Class != survey.Insulates {
			lines := []string{strings.TrimSpace(netlist.FormatValue(d.Farads, netlist.Farad) + " " + d.Type)}
			if d.Class != "" {
				return append(lines, "class "+d.Class)
			}
			return append(lines, "no safety class")
		}
	case *netlist.Resistor:
		if e.Class != survey.Insulates {
			return []string{netlist.FormatValue(d.InUse(), netlist.Ohm)}
		}
	case *netlist.Potentiometer:
		if e.Class != survey.Insulates {
			return []string{netlist.FormatValue(d.Ohms, netlist.Ohm)}
		}
	case *netlist.Insulation:
		return []string{string(d.Grade), "insulation"}
	case *netlist.Transformer:
		if e.Class == survey.Insulates {
			if p.Frame != "" && (e.A == p.Frame || e.B == p.Frame) {
				break
			}
			return []string{string(d.Insulation), "insulation"}
		}
		return []string{e.winding(d), "winding"}
	case *netlist.Tube:
		switch {
		case e.Class == survey.Rectifies:
			return []string{netlist.Visible(d.TypeName), "rectifying"}
		case e.Piece == "heater to cathode":
			return []string{"heater to", "cathode"}
		case e.Class == survey.Passes:
			return []string{netlist.Visible(d.TypeName), "heater"}
		}
	case *netlist.Coil, *netlist.Motor, *netlist.Battery, *netlist.Rectifier, *netlist.Lamp, *netlist.Fuse, *netlist.Switch, *netlist.Selector:
		if e.Class != survey.Insulates {
			return []string{string(p.Kind)}
		}
	case *netlist.Wire:
		return nil
	}
	return []string{"insulation", "to its frame"}
}

// winding is the name of the winding that the branch is.
func (e *branch) winding(t *netlist.Transformer) string {
	for _, w := range t.Windings {
		if w.Name == e.Piece || w.Start == e.A && w.End == e.B || w.Start == e.B && w.End == e.A {
			return netlist.Visible(w.Name)
		}
	}
	return netlist.Visible(e.Piece)
}

// guardWords says what the branch is as a safeguard, "" where it is none of that sort.
func (e *branch) guardWords() string {
	if !e.Safeguard() {
		return ""
	}
	switch {
	case e.Cost >= 2:
		return "counts as 2"
	case e.Cost == 1:
		return "safeguard"
	case e.part().Condition == netlist.Failed:
		return "failed"
	case e.part().Condition == netlist.Suspect:
		return "suspect"
	}
	return "no safeguard"
}

// short names the branch in a line of text.
func (e *branch) short() string {
	switch {
	case e.Class == survey.Rectifies && e.part().Kind == netlist.KindTube:
		return e.name() + " rectifying"
	case e.Class == survey.Passes && e.part().Kind == netlist.KindTransformer:
		return e.name() + " " + e.winding(e.part().Detail.(*netlist.Transformer))
	case e.Piece != "" && e.Class != survey.Rectifies:
		return e.name() + " " + netlist.Visible(e.Piece)
	}
	return e.name()
}
