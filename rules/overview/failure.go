package overview

import (
	"cmp"
	"fmt"
	"slices"

	"coldcheck/analysis"
	"coldcheck/netlist"
	"coldcheck/rules"
)

// Order is how soon something lets go in practice.
type Order int

// The order in which things let go: restorers' experience. Waxed paper goes first, a resistor drifts or
// opens long before it shorts.
const (
	Paper       Order = iota // paper capacitors that no one has proven
	Doubtful                 // anything else that no one vouches for
	Capacitors               // good ones
	Insulations              // washers, sleeves, frames, a heater to its cathode
	Windings                 // of transformers, coils, motors
	Others                   // what is lost, pulled, open or stuck, and a guard taken off
	Resistors
)

// Failure is one part, or the supply, that alone makes metal live, but for parts that no one vouches for.
type Failure struct {
	Order Order
	Part  string          // SupplyName, or the point's name of a guard
	Fault *analysis.Fault // the one that it is named after
	Ways  int             // in how many ways it does so
	With  []string        // parts that are counted as failed with it
}

// aloneAt lists what alone makes some points live that conductors join.
func aloneAt(k *rules.Case, points []*analysis.PointResult) []Failure {
	var all []Failure
	seen := map[string]bool{}
	for _, p := range points {
		for _, set := range p.FaultSets {
			faults := ofParts(set)
			if len(faults) == 0 {
				faults = set.Faults // a guard alone, or nothing at all
			}
			if key := fmt.Sprint(faults); set.Cost <= 1 && len(faults) > 0 && !seen[key] {
				seen[key] = true
				all = addFailure(k, all, faults)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b Failure) int {
		return cmp.Or(cmp.Compare(a.Order, b.Order), cmp.Compare(a.Fault.Index, b.Fault.Index))
	})
	return all
}

// ofParts is a fault set without the taking off of a guard.
func ofParts(set analysis.FaultSet) []*analysis.Fault {
	return slices.DeleteFunc(slices.Clone(set.Faults), func(f *analysis.Fault) bool { return f.Kind == analysis.GuardOff })
}

func addFailure(k *rules.Case, all []Failure, faults []*analysis.Fault) []Failure {
	named := slices.MinFunc(faults, func(a, b *analysis.Fault) int {
		return cmp.Or(cmp.Compare(b.Cost, a.Cost), cmp.Compare(orderOf(k, a), orderOf(k, b)))
	})
	at := slices.IndexFunc(all, func(x Failure) bool {
		return x.Part == named.Part && (named.Part != analysis.SupplyName || x.Fault == named) && x.Order == orderOf(k, named)
	})
	if at < 0 {
		at = len(all)
		all = append(all, Failure{Order: orderOf(k, named), Part: named.Part, Fault: named})
	}
	x := &all[at]
	x.Ways++
	for _, f := range faults {
		if f.Part != named.Part && !slices.Contains(x.With, f.Part) {
			x.With = append(x.With, f.Part)
		}
	}
	return all
}

// orderOf says how soon a fault comes about.
func orderOf(k *rules.Case, f *analysis.Fault) Order {
	part := k.Set.Part(f.Part)
	if part == nil {
		return Others // the supply, a guard
	}
	winds := part.Kind == netlist.KindTransformer || part.Kind == netlist.KindCoil || part.Kind == netlist.KindMotor
	c, capacitor := part.Detail.(*netlist.Capacitor)
	resistor := part.Kind == netlist.KindResistor || part.Kind == netlist.KindPotentiometer
	breaks := f.Kind == analysis.Shorted || f.Kind == analysis.InsulationOut || f.Kind == analysis.HeaterCathode
	switch {
	case !breaks:
		return Others
	case f.Cost == 0 && capacitor && c.Type == "paper":
		return Paper
	case f.Cost == 0:
		return Doubtful
	case f.Kind == analysis.InsulationOut && winds:
		return Windings
	case f.Kind == analysis.InsulationOut || f.Kind == analysis.HeaterCathode:
		return Insulations
	case capacitor:
		return Capacitors
	case resistor:
		return Resistors
	}
	return Others
}
