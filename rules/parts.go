package rules

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// partWords tells a part with what matters of it as a safeguard: "C1 (0.1 µF paper, 400 V, no
// class)".
func (k *Case) partWords(name string) string {
	p := k.Set.Part(name)
	if p == nil {
		return netlist.Visible(name)
	}
	var words []string
	switch d := p.Detail.(type) {
	case *netlist.Capacitor:
		first := netlist.FormatValue(d.Farads, netlist.Farad)
		if d.Type != "" {
			first += " " + d.Type
		}
		words = append(words, first)
		if d.Rating > 0 {
			rating := netlist.FormatValue(d.Rating, netlist.Volt)
			if d.RatingAC {
				rating += " AC"
			}
			words = append(words, rating)
		}
		if d.Class != "" {
			words = append(words, "class "+d.Class)
		} else {
			words = append(words, "no safety class")
		}
	case *netlist.Resistor:
		words = append(words, netlist.FormatValue(d.InUse(), netlist.Ohm))
	case *netlist.Potentiometer:
		words = append(words, netlist.FormatValue(d.Ohms, netlist.Ohm))
	case *netlist.Insulation:
		words = append(words, string(d.Grade)+" insulation")
	case *netlist.Transformer:
		words = append(words, string(d.Insulation)+" insulation between windings")
	case *netlist.Tube:
		words = append(words, netlist.Visible(d.TypeName))
	}
	if p.Condition != netlist.Good && !strings.Contains(strings.Join(words, ""), "paper") {
		words = append(words, string(p.Condition))
	}
	if len(words) == 0 {
		return name
	}
	return fmt.Sprintf("%s (%s)", name, strings.Join(words, ", "))
}

// faultsWords tells a set of faults: "C1 shorted and neutral lost".
func faultsWords(faults []*analysis.Fault) string {
	words := make([]string, len(faults))
	for i, f := range faults {
		words[i] = FaultWords(f)
	}
	return list(words)
}
