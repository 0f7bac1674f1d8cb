package phrase

import (
	"strings"

	"coldcheck/netlist"
)

// Details tells what a part is, as one orders it: "capacitor, 4.7 nF ceramic, 250 V AC, class Y1".
func Details(p *netlist.Part) string {
	words := []string{string(p.Kind)}
	add := func(more ...string) { words = append(words, more...) }
	switch d := p.Detail.(type) {
	case *netlist.Plug:
		words = []string{d.Style + " plug"}
	case *netlist.Switch:
		add(Counted(len(d.Poles), "pole"))
	case *netlist.Fuse:
		if d.Amps > 0 {
			add(Amps(d.Amps))
		} else {
			add("no rating given")
		}
	case *netlist.Resistor:
		add(Stated(d.Ohms, netlist.Ohm))
		if d.Watts > 0 {
			add(Stated(d.Watts, netlist.Watt))
		}
	case *netlist.Potentiometer:
		add(Stated(d.Ohms, netlist.Ohm))
	case *netlist.Thermistor:
		add(Stated(d.Hot, netlist.Ohm) + " hot")
	case *netlist.Capacitor:
		add(capacitorDetails(d)...)
		if d.Class != "" {
			add("class " + d.Class)
		}
	case *netlist.Lamp:
		add(Stated(d.Volts, netlist.Volt), Stated(d.Amps, netlist.Ampere))
	case *netlist.Motor:
		add(Stated(d.Volts, netlist.Volt))
	case *netlist.Battery:
		add(Stated(d.Volts, netlist.Volt))
	case *netlist.Transformer:
		add(string(d.Insulation) + " insulation between windings")
	case *netlist.Tube:
		add(netlist.Visible(d.TypeName))
	case *netlist.Rectifier:
		words = []string{strings.TrimSpace(d.Type + " rectifier")}
	case *netlist.Insulation:
		words = []string{string(d.Grade) + " insulation"}
	}
	if p.Condition != netlist.Good {
		add(Condition(p.Condition))
	}
	return strings.Join(words, ", ")
}

// Condition is a condition as a person reads it.
func Condition(c netlist.Condition) string {
	if c == netlist.Suspect {
		return "doubtful"
	}
	return string(c)
}
