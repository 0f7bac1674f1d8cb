package phrase

import (
	"fmt"
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
		if len(d.Poles) > 1 {
			add(fmt.Sprintf("%d poles", len(d.Poles)))
		}
	case *netlist.Fuse:
		add(stated(d.Amps, netlist.Ampere, "no rating given"))
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
		add(conditionWord(p.Condition))
	}
	return strings.Join(words, ", ")
}

// conditionWord is a condition as a person reads it.
func conditionWord(c netlist.Condition) string {
	if c == netlist.Suspect {
		return "doubtful"
	}
	return string(c)
}

func stated(x float64, unit netlist.Unit, none string) string {
	if x == 0 {
		return none
	}
	return Stated(x, unit)
}
