package phrase

import (
	"slices"
	"strings"

	"coldcheck/analysis"
	"coldcheck/netlist"
)

// Fault tells a fault: "C1 shorted", "V3 pulled", "neutral lost".
func Fault(f *analysis.Fault) string {
	part := netlist.Visible(f.Part)
	between := ""
	if len(f.Between) == 2 {
		between = " (" + Ends(f.Between[0], f.Between[1]) + ")"
	}
	switch f.Kind {
	case analysis.NeutralLost:
		if len(f.Between) == 1 {
			return "leg " + netlist.Visible(f.Between[0]) + " lost"
		}
		return "neutral lost"
	case analysis.EarthLost:
		if f.Part == analysis.SupplyName {
			return "earth contact open"
		}
		return part + " (earth wire) off"
	case analysis.GuardOff:
		return "guard off " + part
	case analysis.Pulled:
		return part + " pulled"
	case analysis.Open:
		return part + " open"
	case analysis.Stuck:
		if f.Throw >= 0 {
			return part + " deck stuck" + between
		}
		return part + " stuck" + between
	case analysis.HeaterCathode:
		return part + " heater to cathode" + between
	case analysis.InsulationOut:
		return part + " insulation failed" + between
	}
	return part + " " + string(f.Kind) + between
}

// Faults tells a set of faults in a sentence: "C1 shorted and neutral lost".
func Faults(faults []*analysis.Fault) string { return List(eachFault(faults)) }

// FaultSet tells a set of faults among other sets: "C1 shorted with neutral lost".
func FaultSet(faults []*analysis.Fault) string { return strings.Join(eachFault(faults), " with ") }

func eachFault(faults []*analysis.Fault) []string {
	words := make([]string, len(faults))
	for i, f := range faults {
		words[i] = Fault(f)
	}
	return words
}

// Once tells a fault as a clause that follows "once": "V3 is pulled", "the neutral is lost".
func Once(f *analysis.Fault) string {
	part := netlist.Visible(f.Part)
	switch {
	case f.Kind == analysis.Pulled:
		return part + " is pulled"
	case f.Kind == analysis.Open:
		return part + " is open"
	case f.Kind == analysis.NeutralLost:
		return legLost(f)
	case f.Part == analysis.SupplyName:
		return "the earth contact is open (a two-prong adapter does it)"
	}
	return Fault(f)
}

// legLost tells a side of the supply that is open upstream: the neutral, or where both legs are hot one
// of them.
func legLost(f *analysis.Fault) string {
	if len(f.Between) == 1 {
		return "the leg " + netlist.Visible(f.Between[0]) + " is lost upstream"
	}
	return "the neutral is lost"
}

// Happen tells faults as things that happen: "C1 (0.1 µF paper, no safety class) shorts".
func Happen(set *netlist.Set, faults []*analysis.Fault) string {
	words := make([]string, len(faults))
	for i, f := range faults {
		words[i] = happens(set, f)
	}
	return List(words)
}

func happens(set *netlist.Set, f *analysis.Fault) string {
	part, name := Part(set, f.Part), netlist.Visible(f.Part)
	switch f.Kind {
	case analysis.Shorted:
		return part + " shorts"
	case analysis.InsulationOut:
		if len(f.Between) == 2 {
			return name + " breaks down from " + Ends(f.Between[0], f.Between[1])
		}
		return part + " breaks down"
	case analysis.HeaterCathode:
		return part + " shorts from heater to cathode"
	case analysis.Open:
		return part + " opens"
	case analysis.Pulled:
		return part + " is pulled"
	case analysis.Stuck:
		if f.Throw >= 0 {
			d := set.Part(f.Part).Detail.(*netlist.Selector)
			at := slices.Index(d.Decks[f.Pole].Throws, f.Nodes[1])
			return "a deck of " + name + " stays behind at " + netlist.Visible(d.Positions[at])
		}
		return "one pole of " + name + " sticks closed"
	case analysis.NeutralLost:
		return legLost(f)
	case analysis.EarthLost:
		if f.Part == analysis.SupplyName {
			return "the earth is lost"
		}
		return "the earth wire " + name + " comes off"
	}
	return Fault(f)
}
