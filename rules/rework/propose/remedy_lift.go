package propose

import (
	"fmt"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
)

// liftBMinus takes B-minus off the touched metal that it is joined to, and joins the two by a class-Y
// network only: one Y1, or two Y2 in series.
func liftBMinus(metal string, pair bool) *remedy {
	key, effort := "lift "+metal, 8
	if pair {
		key, effort = key+" two Y2", 9
	}
	return &remedy{key: key, measure: bridging, rank: rankLift, effort: effort, whole: true, nodes: []string{metal}, words: func(set *netlist.Set) string {
		_, value := safetyValue(set)
		joint := "one class Y1 capacitor"
		if pair {
			joint = "two class Y2 capacitors in series, each"
		}
		return fmt.Sprintf("take the line side off %s onto an insulated bus, and join the two by %s of %s and nothing else", netlist.Visible(metal), joint, value)
	}, steps: func(set *netlist.Set) []plan.Step {
		if set.Node(metal) == nil {
			return nil
		}
		return liftSteps(set, metal, pair)
	}}
}

// liftSteps are the steps of it: what is on the metal goes to a bus, and class-Y capacitors join the two.
func liftSteps(set *netlist.Set, metal string, pair bool) []plan.Step {
	b := newBuilder(set)
	group := wired(set, metal)
	bus := b.removeStraps(group)
	if bus == "" {
		bus = b.node("B-")
	}
	b.moveOffMetal(group, bus)
	if len(b.steps) == 0 {
		return nil
	}
	_, value := safetyValue(set)
	chassis := metal
	for _, n := range set.TouchPoints() {
		if n.Touch == "chassis" && group[n.Name] {
			chassis = n.Name
			break
		}
	}
	if !pair {
		b.fit("B-minus and the chassis are joined for radio frequencies by one class Y1 capacitor and nothing else: no resistor across it.",
			b.name("C"), safetyCapacitor(bus, chassis, value, "Y1"))
		return b.steps
	}
	middle := b.node("Y2 middle")
	b.fit("B-minus and the chassis are joined for radio frequencies by two class Y2 capacitors in series and nothing else.",
		b.name("C"), safetyCapacitor(bus, middle, value, "Y2"))
	b.fit("The second of the two.", b.name("C"), safetyCapacitor(middle, chassis, value, "Y2"))
	return b.steps
}

// removeStraps takes out the wires between the metal and what is not touched, and gives the point on the
// far side of the first, "" where there is none.
func (b *builder) removeStraps(group map[string]bool) (bus string) {
	for _, p := range b.set.Parts {
		d, ok := p.Detail.(*netlist.Wire)
		if !ok || !group[d.Ends[0]] || touched(b.set, d.Ends[0]) == touched(b.set, d.Ends[1]) {
			continue
		}
		if bus == "" {
			bus = d.Ends[0]
			if touched(b.set, bus) {
				bus = d.Ends[1]
			}
		}
		b.remove("The strap between B-minus and the metal goes.", p.Name)
	}
	return bus
}

// moveOffMetal moves all but wires and insulation from the metal to the bus.
func (b *builder) moveOffMetal(group map[string]bool, bus string) {
	why := "B-minus comes off the metal, part by part, onto a bus of its own from insulated lug to lug."
	for _, p := range b.set.Parts {
		if p.Kind == netlist.KindWire || p.Kind == netlist.KindInsulation {
			continue
		}
		for _, t := range p.Terminals {
			if group[t.Node] && touched(b.set, t.Node) {
				b.move(why, p, t, bus)
				why = "Likewise."
			}
		}
	}
}
