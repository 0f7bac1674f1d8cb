package analysis

// FaultKind is one way in which one thing goes wrong.
type FaultKind string

// The kinds of fault.
const (
	Shorted       FaultKind = "shorted"
	InsulationOut FaultKind = "failed"
	HeaterCathode FaultKind = "heater-cathode"
	Open          FaultKind = "open"
	Pulled        FaultKind = "pulled"
	Stuck         FaultKind = "stuck"
	NeutralLost   FaultKind = "neutral-lost"
	EarthLost     FaultKind = "earth-lost"
	GuardOff      FaultKind = "guard-off"
)

// SupplyName stands where a part's name would, for a fault of the supply.
const SupplyName = "supply"

// Fault is one thing gone wrong. Its Cost is the number of safeguards that had to fail: 0 where
// nobody vouches for the part, or nothing was ever meant to protect.
type Fault struct {
	Part    string // the part's name, SupplyName, or the node's name for a guard
	Kind    FaultKind
	Between []string // two nodes: a frame, a winding, a stuck pole, one of several sections; else nil
	Cost    int
	// Nodes are the two nodes that a short or a stuck pole joins, also where Between is nil.
	Nodes [2]string

	index int // in Circuit.Faults, -1 for a guard
	short bool
	a, b  int // the nodes, by index
	pole  int // of a stuck pole
	ports []int
}

// Safeguard tells whether what failed was a safeguard: basic and better insulation, a guard, a
// capacitor or a resistor from BarrierOhms up that shorts, one pole of a double-pole switch.
// Where only safeguards failed the limit is ES2, else ES1 (IEC 62368-1, 5.2.1 and 5.3).
func (c *Circuit) Safeguard(f *Fault) bool {
	switch f.Kind {
	case InsulationOut, GuardOff, Stuck:
		return f.Cost > 0
	case Shorted:
		return f.Cost > 0 && !c.isRectifier(f.Part)
	}
	return false
}

// contradictory tells whether two faults cannot be together: one part both open and shorted, or
// another fault of a tube that is pulled.
func contradictory(f, g *Fault) bool {
	if f.Part != g.Part {
		return false
	}
	if f.Kind == Pulled || g.Kind == Pulled {
		return true
	}
	return f.Kind == Open && g.Kind == Shorted || f.Kind == Shorted && g.Kind == Open
}

func costOf(faults []*Fault) int {
	cost := 0
	for _, f := range faults {
		cost += f.Cost
	}
	return cost
}
