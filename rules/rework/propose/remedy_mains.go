package propose

import (
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

// isolatingTransformer feeds the set through an isolating transformer, fuse and switch ahead of it, its
// core on the chassis.
func isolatingTransformer(amps float64) *remedy {
	return &remedy{key: "transformer", measure: isolating, rank: rankTransformer, effort: 6, whole: true, steps: func(set *netlist.Set) []plan.Step {
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

// groundingCord fits a grounding cord and puts the chassis on its earth contact.
func groundingCord() *remedy {
	return &remedy{key: "grounding cord", measure: earthing, rank: rankEarth, effort: 2, whole: true, steps: func(set *netlist.Set) []plan.Step {
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
