package propose

import (
	"fmt"

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
func isolatingTransformer(amps, draws float64) *remedy {
	return &remedy{key: "transformer", measure: isolating, rank: rankTransformer, effort: 6, whole: true, words: func(set *netlist.Set) string {
		return fmt.Sprintf("feed the set through an isolating transformer of %.0f VA or more, fuse and two-pole switch ahead of it", transformerVA(draws*set.Volts))
	}, steps: func(set *netlist.Set) []plan.Step {
		plugPart, plug := set.Plug()
		b := newBuilder(set)
		line, other := b.legs()
		first, second, ahead := b.node("primary 1"), b.node("primary 2"), other
		b.change("The cord goes to fuse, switch and transformer alone; nothing else of the set stays on it.",
			plugPart.Name, netlist.Keys("hot", line, "neutral", other))
		fused := b.fitFuse("", line, amps)
		if set.BothHot() {
			ahead = b.fitFuse("", other, amps)
		}
		b.fitSwitch("", netlist.Keys("kind", "switch", "poles", [][]string{{fused, first}, {ahead, second}}),
			"Two poles ahead of the transformer: off, it is off the line too. The old switch may stay where it is, behind it.")
		b.fit("Double or reinforced insulation from primary to secondary and to the core, which is bolted to the chassis. "+
			fmt.Sprintf("It is rated for %.0f VA or more: the set draws %.0f VA while it plays.", transformerVA(draws*set.Volts), draws*set.Volts),
			b.name("T"), netlist.Keys("kind", "transformer",
				"windings", netlist.Keys("primary", []string{first, second}, "secondary", []string{plug.Hot, plug.Neutral}),
				"volts", netlist.Keys("primary", set.Volts, "secondary", set.Volts), "insulation", "reinforced",
				"frame", mainMetal(set), "frame_insulation", "reinforced"))
		return b.steps
	}}
}

// vaMargin is what a transformer is rated above what the set draws: the tubes may draw more than usual ones,
// and a half-wave rectifier takes DC through it.
const vaMargin = 1.25

// transformerSizes are usual ratings, VA.
var transformerSizes = []float64{15, 25, 35, 50, 75, 100, 150, 200, 250, 300, 400, 500, 750, 1000}

// transformerVA is the first usual rating that suits what the set draws.
func transformerVA(draws float64) float64 {
	for _, va := range transformerSizes {
		if va >= vaMargin*draws {
			return va
		}
	}
	return vaMargin * draws
}

// groundingCord fits a grounding cord and puts the chassis on its earth contact.
func groundingCord() *remedy {
	return &remedy{key: "grounding cord", measure: earthing, rank: rankEarth, effort: 2, whole: true, words: func(set *netlist.Set) string {
		return "fit a three-wire cord, its earth conductor on " + netlist.Visible(mainMetal(set))
	}, steps: func(set *netlist.Set) []plan.Step {
		plugPart, plug := set.Plug()
		chassis := mainMetal(set)
		if plug.Style == "grounding" || chassis == plug.Hot || chassis == plug.Neutral {
			return nil
		}
		hot, neutral := orient(set)
		b := newBuilder(set)
		on := "shorts the line in one polarity of the plug"
		if set.BothHot() {
			on = "ties a hot leg to earth"
		}
		b.change("A three-wire cord, its earth conductor screwed to the chassis by a lug of its own. It comes after all that takes the line off the chassis: "+
			"on the line, an earthed chassis "+on+". Test the outlet's earth.",
			plugPart.Name, netlist.Keys("style", "grounding", "hot", hot, "neutral", neutral, "earth", chassis))
		return b.steps
	}}
}
