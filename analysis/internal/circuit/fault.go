package circuit

import (
	"cmp"
	"fmt"
	"slices"

	"coldcheck/netlist"
)

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

// Fault is one thing gone wrong. Its Cost is the number of safeguards that had to fail: 0 for an
// unverified part, or where nothing was ever meant to protect.
type Fault struct {
	Part    string // the part's name, SupplyName, or the node's name for a guard
	Kind    FaultKind
	Between []string // two nodes: a frame, a winding, a stuck pole, one of several sections; else nil
	Cost    int
	// Nodes are the two nodes that a short or a stuck pole joins, also where Between is nil.
	Nodes [2]string

	Index int  // in Circuit.Faults, -1 for a guard
	Short bool // puts ShortOhms between A and B
	A, B  int  // the nodes, by index
	Pole  int  // of a stuck pole, or of a stuck deck
	// Throw is the element of a stuck deck that stays made, -1 for other faults. The deck's others are
	// not made then.
	Throw int
}

// String names a fault for messages of tests.
func (f *Fault) String() string {
	if len(f.Between) > 0 {
		return fmt.Sprintf("%s %s %v", f.Part, f.Kind, f.Between)
	}
	return f.Part + " " + string(f.Kind)
}

// Safeguard reports whether what failed was a safeguard: basic and better insulation, a guard, a
// capacitor or a resistor from SafeguardOhms up that shorts, one pole of a double-pole switch.
// Where only safeguards failed the limit is ES2, else ES1 (IEC 62368-1, 5.2.1 and 5.3).
func (c *Circuit) Safeguard(f *Fault) bool {
	switch f.Kind {
	case InsulationOut, GuardOff, Stuck:
		return f.Cost > 0
	case Shorted:
		return f.Cost > 0 && !c.rectifies(f.Part)
	}
	return false
}

func (c *Circuit) rectifies(part string) bool {
	p := c.Set.Part(part)
	return p != nil && (p.Kind == netlist.KindRectifier || p.Kind == netlist.KindTube)
}

// Contradictory reports whether two faults cannot be together: one part both open and shorted,
// another fault of a tube that is pulled, or one deck stuck on two throws.
func Contradictory(f, g *Fault) bool {
	if f.Part != g.Part {
		return false
	}
	if f.Kind == Pulled || g.Kind == Pulled {
		return true
	}
	if f.Kind == Stuck && g.Kind == Stuck {
		return f.Throw >= 0 && f.Pole == g.Pole
	}
	return f.Kind == Open && g.Kind == Shorted || f.Kind == Shorted && g.Kind == Open
}

// Compatible reports whether a fault can be together with each of a set.
func Compatible(set []*Fault, f *Fault) bool {
	for _, g := range set {
		if Contradictory(f, g) {
			return false
		}
	}
	return true
}

// CostOf is the sum of the costs of some faults.
func CostOf(faults []*Fault) int {
	cost := 0
	for _, f := range faults {
		cost += f.Cost
	}
	return cost
}

// HasKind reports whether a fault of that kind is among some.
func HasKind(faults []*Fault, kind FaultKind) bool {
	return slices.ContainsFunc(faults, func(f *Fault) bool { return f.Kind == kind })
}

// CompareFaults orders sets of faults by the order of the file.
func CompareFaults(a, b []*Fault) int {
	return slices.CompareFunc(a, b, func(f, g *Fault) int { return cmp.Compare(f.Index, g.Index) })
}

// InFileOrder is a copy of a set of faults in the order of the file.
func InFileOrder(faults []*Fault) []*Fault {
	return slices.SortedFunc(slices.Values(faults), func(f, g *Fault) int { return cmp.Compare(f.Index, g.Index) })
}

// guardFault is the fault that a touch point's guard is off, nil where it has none.
func guardFault(n *netlist.Node) *Fault {
	if n.Guard == "" {
		return nil
	}
	f := &Fault{Part: n.Name, Kind: GuardOff, Cost: 1, Index: -1}
	if n.GuardSuspect {
		f.Cost = 0
	}
	return f
}

// gradeCost is how many layers a grade of insulation stands for (IEC 61140): functional
// insulation was never meant to protect.
func gradeCost(g netlist.Grade) int {
	switch g {
	case netlist.Functional:
		return 0
	case netlist.Double, netlist.Reinforced:
		return 2
	}
	return 1
}

// faultKey is what tells one fault from another.
type faultKey struct {
	part  string
	kind  FaultKind
	short bool
	pole  int
	a, b  int // nodes, the lesser first
}

// addNeutralLost adds the fault that the neutral side is open. Where both legs are hot, each is a fault
// of its own.
func (c *Circuit) addNeutralLost() {
	if !c.BothHot() {
		c.addFault(&Fault{Part: SupplyName, Kind: NeutralLost, Cost: 1})
		return
	}
	for k, blade := range []string{c.Plug.Hot, c.Plug.Neutral} {
		c.addFault(&Fault{Part: SupplyName, Kind: NeutralLost, Cost: 1, Between: []string{blade}, Pole: k, A: c.node(blade), B: c.node(blade)})
	}
}

// LostBlade is the blade whose side of the supply a lost neutral opens, in a plug polarity.
func (c *Circuit) LostBlade(f *Fault, plug Polarity) int {
	if f.Between != nil {
		return f.Pole
	}
	return 1 - plug.HotBlade()
}

// addFault keeps one fault for one part, kind and pair of nodes, at the lower cost.
func (c *Circuit) addFault(f *Fault) {
	key := faultKey{f.Part, f.Kind, f.Short, f.Pole, min(f.A, f.B), max(f.A, f.B)}
	if g := c.known[key]; g != nil {
		g.Cost = min(g.Cost, f.Cost)
		return
	}
	if f.Kind != Stuck {
		f.Throw = -1
	}
	c.known[key] = f
	f.Index = len(c.Faults)
	c.Faults = append(c.Faults, f)
	c.faultsOf[f.Part] = append(c.faultsOf[f.Part], f)
}

// FaultsOf lists the faults of a part, or of the supply by SupplyName, in the order of the file.
func (c *Circuit) FaultsOf(part string) []*Fault { return c.faultsOf[part] }

// PulledFault is the fault that a part is pulled, nil where it cannot be.
func (c *Circuit) PulledFault(part string) *Fault {
	for _, f := range c.faultsOf[part] {
		if f.Kind == Pulled {
			return f
		}
	}
	return nil
}

// CountFaults counts the faults that cost nothing and those that cost a safeguard.
func (c *Circuit) CountFaults() (free, costly float64) {
	for _, f := range c.Faults {
		if f.Cost == 0 {
			free++
		} else {
			costly++
		}
	}
	return free, costly
}

// breakdown is something between a and b that should not conduct, and may. A failed part conducts
// in every state, but for a frame, a winding or a tube, of which no one knows where it conducts.
func (c *Circuit) breakdown(i int, kind FaultKind, a, b string, cost int, named bool) {
	if a == b {
		return
	}
	p := c.Set.Parts[i]
	_, tube := p.Detail.(*netlist.Tube)
	if p.Condition == netlist.Failed && !tube && !(kind == InsulationOut && named) {
		c.addElement(Element{Sort: Shunt, Part: i, A: c.node(a), B: c.node(b), Ohms: ShortOhms})
		c.HasFailed = true
		return
	}
	if p.Condition != netlist.Good {
		cost = 0
	}
	f := &Fault{Part: p.Name, Kind: kind, Cost: cost, Nodes: [2]string{a, b}, Short: true, A: c.node(a), B: c.node(b)}
	if named {
		f.Between = []string{a, b}
	}
	c.addFault(f)
}

// ShortFault is the fault that a part is shorted end to end, nil where it cannot be.
func (c *Circuit) ShortFault(part string) *Fault {
	for _, f := range c.faultsOf[part] {
		if f.Kind == Shorted {
			return f
		}
	}
	return nil
}
