package propose

import (
	"fmt"
	"slices"
	"strings"

	"coldcheck/netlist"
	"coldcheck/netlist/plan"
)

// guardOf is what can keep fingers off metal of a kind; what is there to be touched has none.
var guardOf = map[string]string{"chassis": "cabinet", "control": "knob", "fastener": "cover", "speaker": "cover"}

// sockets are words in the name of a point that something is plugged or screwed to.
var sockets = []string{"socket", "jack", "terminal", "post", "clip"}

// coverable reports whether a point can be given a guard: what is there to be plugged into has none.
func coverable(n *netlist.Node) bool {
	name := strings.ToLower(n.Name)
	return guardOf[n.Touch] != "" && !slices.ContainsFunc(sockets, func(word string) bool { return strings.Contains(name, word) })
}

// fitGuard fits a guard on a touch point.
func fitGuard(n *netlist.Node) *remedy {
	name := n.Name
	return &remedy{key: "guard " + name, measure: guarding, rank: rankGuard, effort: 1, nodes: []string{name}, steps: func(set *netlist.Set) []plan.Step {
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

// coupleByCapacitor couples an antenna, a ground terminal or a jack by a class-Y capacitor alone.
func coupleByCapacitor(n *netlist.Node) *remedy {
	name := n.Name
	return &remedy{key: "couple " + name, measure: bridging, rank: rankCouple, effort: 3, nodes: []string{name}, words: func(set *netlist.Set) string {
		return fmt.Sprintf("couple %s to the set by a class Y1 capacitor of %s alone", netlist.Visible(name), couplingValue(set, name))
	}, steps: func(set *netlist.Set) []plan.Step {
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
		value := couplingValue(set, name)
		b.fit(fmt.Sprintf("Nothing but a class Y1 capacitor joins %s to the set.", name), b.name("C"), safetyCapacitor(name, inner, value, "Y1"))
		return b.steps
	}}
}

// couplingValue is the size of the capacitor that couples a terminal: an antenna needs little.
func couplingValue(set *netlist.Set, name string) string {
	if set.Node(name).Touch == "antenna" {
		return "1 nF"
	}
	_, value := safetyValue(set)
	return value
}
