package phrase

import (
	"fmt"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// Part tells a part of a set with what matters of it as a safeguard: "C1 (0.1 µF paper, 400 V, no
// safety class)". A name that no part has is told as it is.
func Part(set *netlist.Set, name string) string {
	p := set.Part(name)
	if p == nil {
		return netlist.Visible(name)
	}
	var words []string
	switch d := p.Detail.(type) {
	case *netlist.Capacitor:
		words = append(capacitorDetails(d), "no safety class")
		if d.Class != "" {
			words[len(words)-1] = "class " + d.Class
		}
	case *netlist.Resistor:
		words = append(words, Stated(d.InUse(), netlist.Ohm))
	case *netlist.Potentiometer:
		words = append(words, Stated(d.Ohms, netlist.Ohm))
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

// Capacitor tells a capacitor: "C1, 0.1 µF film, 400 V".
func Capacitor(name string, c *netlist.Capacitor) string {
	words := append([]string{name}, capacitorDetails(c)...)
	if c.Class != "" {
		words = append(words, "class "+c.Class)
	}
	return strings.Join(words, ", ")
}

func capacitorDetails(c *netlist.Capacitor) []string {
	first := Stated(c.Farads, netlist.Farad)
	if c.Type != "" {
		first += " " + c.Type
	}
	if c.Rating == 0 {
		return []string{first}
	}
	return []string{first, Rating(c)}
}

// Rating tells the rated volts of a capacitor: "400 V", "275 V AC".
func Rating(c *netlist.Capacitor) string {
	words := Stated(c.Rating, netlist.Volt)
	if c.RatingAC {
		words += " AC"
	}
	return words
}

// Guarded is a touch point's name with what keeps fingers off it: "volume shaft (knob, suspect)".
func Guarded(p *analysis.TouchPoint) string {
	name := netlist.Visible(p.Name)
	switch {
	case p.Guard == "":
		return name
	case p.GuardSuspect:
		return name + " (" + p.Guard + ", suspect)"
	}
	return name + " (" + p.Guard + ")"
}
