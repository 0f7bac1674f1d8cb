package rework

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
)

// mainMetal is the chassis: the first touch point that is called one, else the first of all.
func mainMetal(set *netlist.Set) string {
	points := set.TouchPoints()
	for _, n := range points {
		if n.Touch == "chassis" {
			return n.Name
		}
	}
	return points[0].Name
}

// transformerEdit feeds the set through an isolating transformer, fuse and switch ahead of it, its
// core on the chassis.
func transformerEdit(amps float64) *Edit {
	return &Edit{key: "transformer", measure: isolating, rank: rankTransformer, effort: 6, whole: true, steps: func(set *netlist.Set) []plan.Step {
		plugPart, plug := set.Plug()
		b := newBuilder(set)
		line, other, fused := b.node("line hot"), b.node("line neutral"), b.node("line fused")
		first, second := b.node("primary 1"), b.node("primary 2")
		b.change("The cord goes to fuse, switch and transformer alone; nothing else of the set stays on it.",
			plugPart.Name, netlist.Keys("hot", line, "neutral", other))
		b.fitFuse("", line, fused, amps)
		b.fitSwitch("", netlist.Keys("kind", "switch", "poles", [][]string{{fused, first}, {other, second}}),
			"Two poles ahead of the transformer: off, it is off the line too. The old switch may stay where it is, behind it.")
		b.fit("Double or reinforced insulation from primary to secondary and to the core, which is bolted to the chassis. Its rating covers the whole set.",
			b.name("T"), netlist.Keys("kind", "transformer",
				"windings", netlist.Keys("primary", []string{first, second}, "secondary", []string{plug.Hot, plug.Neutral}),
				"volts", netlist.Keys("primary", set.Volts, "secondary", set.Volts), "insulation", "reinforced",
				"frame", mainMetal(set), "frame_insulation", "reinforced"))
		return b.steps
	}}
}

// earthEdit fits a grounding cord and puts the chassis on its earth contact.
func earthEdit() *Edit {
	return &Edit{key: "grounding cord", measure: earthing, rank: rankEarth, effort: 2, whole: true, steps: func(set *netlist.Set) []plan.Step {
		plugPart, plug := set.Plug()
		chassis := mainMetal(set)
		if plug.Style == "grounding" || chassis == plug.Hot || chassis == plug.Neutral {
			return nil
		}
		hot, neutral := orient(set)
		b := newBuilder(set)
		b.change("A three-wire cord, its earth conductor screwed to the chassis by a lug of its own. Only now, that the chassis is off the line: "+
			"before, it would have shorted the line in one way of the plug. Test the outlet's earth.",
			plugPart.Name, netlist.Keys("style", "grounding", "hot", hot, "neutral", neutral, "earth", chassis))
		return b.steps
	}}
}

// guardOf is what can keep fingers off metal of a kind; what is there to be touched has none.
var guardOf = map[string]string{"chassis": "cabinet", "control": "knob", "fastener": "cover", "speaker": "cover"}

// sockets are words in the name of a point that something is plugged or screwed to.
var sockets = []string{"socket", "jack", "terminal", "post", "clip"}

// coverable tells whether a point can be given a guard: what is there to be plugged into has none.
func coverable(n *netlist.Node) bool {
	name := strings.ToLower(n.Name)
	return guardOf[n.Touch] != "" && !slices.ContainsFunc(sockets, func(word string) bool { return strings.Contains(name, word) })
}

// guardEdit fits a guard on a touch point.
func guardEdit(n *netlist.Node) *Edit {
	name := n.Name
	return &Edit{key: "guard " + name, measure: guarding, rank: rankGuard, effort: 1, nodes: []string{name}, steps: func(set *netlist.Set) []plan.Step {
		n := set.Node(name)
		if n == nil || !coverable(n) || n.Guard != "" && !n.GuardSuspect {
			return nil
		}
		guard := n.Guard
		if guard == "" {
			guard = guardOf[n.Touch]
		}
		keys := netlist.Keys("guard", guard)
		if n.GuardSuspect {
			keys = netlist.Keys("guard", guard, "guard_condition", "good")
		}
		b := newBuilder(set)
		b.add("A "+guard+" that does not come off without a tool: one layer that keeps fingers off.", plan.Step{Do: "mark", Node: name, As: keys})
		return b.steps
	}}
}

// coupleEdit couples an antenna or a ground terminal by a class-Y capacitor alone.
func coupleEdit(n *netlist.Node) *Edit {
	name := n.Name
	return &Edit{key: "couple " + name, measure: bridging, rank: rankCouple, effort: 3, nodes: []string{name}, steps: func(set *netlist.Set) []plan.Step {
		n := set.Node(name)
		if n == nil {
			return nil
		}
		b := newBuilder(set)
		inner := b.node(name + " inner")
		for _, p := range set.Parts {
			if p.Kind == netlist.KindInsulation || p.Kind == netlist.KindPlug {
				continue
			}
			for _, t := range p.Terminals {
				if t.Node == name {
					b.move("What was on it goes to a point inside, that no one touches.", p, t, inner)
				}
			}
		}
		if len(b.steps) == 0 {
			return nil
		}
		_, value := safetyValue(set)
		if n.Touch == "antenna" {
			value = "1 nF"
		}
		b.fit(fmt.Sprintf("Nothing but a class Y1 capacitor joins %s to the set.", name), b.name("C"), safetyCapacitor(name, inner, value, "Y1"))
		return b.steps
	}}
}

// liftEdit takes B-minus off the touched metal that it is joined to, and joins the two by a class-Y
// network only: one Y1, or two Y2 in series.
func liftEdit(metal string, pair bool) *Edit {
	key, effort := "lift "+metal, 8
	if pair {
		key, effort = key+" two Y2", 9
	}
	return &Edit{key: key, measure: bridging, rank: rankLift, effort: effort, whole: true, nodes: []string{metal}, steps: func(set *netlist.Set) []plan.Step {
		if set.Node(metal) == nil {
			return nil
		}
		return liftSteps(set, metal, pair)
	}}
}

func liftSteps(set *netlist.Set, metal string, pair bool) []plan.Step {
	b := newBuilder(set)
	group := wired(set, metal)
	bus, straps := "", map[string]bool{}
	touched := func(node string) bool { n := set.Node(node); return n != nil && n.Touch != "" }
	for _, p := range set.Parts {
		if d, ok := p.Detail.(*netlist.Wire); ok && group[d.Ends[0]] && touched(d.Ends[0]) != touched(d.Ends[1]) {
			straps[p.Name] = true
			if bus == "" {
				bus = d.Ends[0]
				if touched(bus) {
					bus = d.Ends[1]
				}
			}
		}
	}
	if bus == "" {
		bus = b.node("B-")
	}
	for _, p := range set.Parts {
		if straps[p.Name] {
			b.remove("The strap between B-minus and the metal goes.", p.Name)
		}
	}
	moved := false
	for _, p := range set.Parts {
		if p.Kind == netlist.KindWire || p.Kind == netlist.KindInsulation {
			continue
		}
		for _, t := range p.Terminals {
			if group[t.Node] && touched(t.Node) {
				why := "B-minus comes off the metal, part by part, onto a bus of its own from insulated lug to lug."
				if moved {
					why = "Likewise."
				}
				b.move(why, p, t, bus)
				moved = true
			}
		}
	}
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

// wired are the points that wires alone join to a node.
func wired(set *netlist.Set, node string) map[string]bool {
	group := map[string]bool{node: true}
	for grown := true; grown; {
		grown = false
		for _, p := range set.Parts {
			if d, ok := p.Detail.(*netlist.Wire); ok && group[d.Ends[0]] != group[d.Ends[1]] {
				group[d.Ends[0]], group[d.Ends[1]] = true, true
				grown = true
			}
		}
	}
	return group
}

// orient says which blade is to be hot: the one whose leg does not lead to B-minus, the point with
// most parts on it. Where neither leg does, the blades stay as they are marked.
func orient(set *netlist.Set) (hot, neutral string) {
	_, plug := set.Plug()
	bus := busiest(set)
	if lineLeg(set, plug.Hot).nodes[bus] && !lineLeg(set, plug.Neutral).nodes[bus] {
		return plug.Neutral, plug.Hot
	}
	return plug.Hot, plug.Neutral
}

// busiest is the point that most terminals are on.
func busiest(set *netlist.Set) string {
	counts := map[string]int{}
	for _, p := range set.Parts {
		for _, t := range p.Terminals {
			counts[t.Node]++
		}
	}
	best := ""
	for _, n := range set.Nodes {
		if counts[n.Name] > counts[best] {
			best = n.Name
		}
	}
	return best
}

// leg is a conductor of the cord: what wires, fuses and the poles of switches join to a blade.
type leg struct {
	nodes map[string]bool
	fuses []string
	// switches are those of which a pole hangs on the blade with wires and fuses alone between.
	switches []string
}

func lineLeg(set *netlist.Set, blade string) leg {
	l := leg{nodes: wiredOrFused(set, blade)}
	for _, p := range set.Parts {
		switch d := p.Detail.(type) {
		case *netlist.Fuse:
			if l.nodes[d.Ends[0]] {
				l.fuses = append(l.fuses, p.Name)
			}
		case *netlist.Switch:
			if slices.ContainsFunc(d.Poles, func(pole netlist.Ends) bool { return mainPole(set, pole, l.nodes) >= 0 }) {
				l.switches = append(l.switches, p.Name)
			}
		}
	}
	for _, name := range l.switches {
		for _, pole := range set.Part(name).Detail.(*netlist.Switch).Poles {
			if end := mainPole(set, pole, l.nodes); end >= 0 {
				for n := range wiredOrFused(set, pole[1-end]) {
					l.nodes[n] = true
				}
			}
		}
	}
	return l
}

// mainPole tells which end of a pole is on a leg, where the other feeds more than one part; -1 where
// it is none of the leg's.
func mainPole(set *netlist.Set, pole netlist.Ends, nodes map[string]bool) int {
	for end := range pole {
		if !nodes[pole[end]] || nodes[pole[1-end]] {
			continue
		}
		on := 0
		for _, p := range set.Parts {
			for _, t := range p.Terminals {
				if t.Node == pole[1-end] {
					on++
				}
			}
		}
		if on >= 3 || on == 2 && len(wiredOrFused(set, pole[1-end])) > 1 {
			return end
		}
	}
	return -1
}

// wiredOrFused are the points that wires and fuses join to a node.
func wiredOrFused(set *netlist.Set, node string) map[string]bool {
	group := map[string]bool{node: true}
	for grown := true; grown; {
		grown = false
		for _, p := range set.Parts {
			var ends netlist.Ends
			switch d := p.Detail.(type) {
			case *netlist.Wire:
				ends = d.Ends
			case *netlist.Fuse:
				ends = d.Ends
			default:
				continue
			}
			if group[ends[0]] != group[ends[1]] {
				group[ends[0]], group[ends[1]] = true, true
				grown = true
			}
		}
	}
	return group
}
