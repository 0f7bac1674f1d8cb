package rules

import (
	"fmt"

	"coldcheck/netlist"
	"coldcheck/rules/phrase"
)

// NoFuse finds a set of which no fuse protects the hot leg.
var NoFuse = &Rule{
	Name:    "no-fuse",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a line cord with no fuse in either leg",
	Why: "A shorted line filter, reservoir or rectifier then draws what the breaker in the house lets through, ten times and more " +
		"what the set's wires and heaters stand. The set burns before the breaker opens.",
	Blind:   "A fused plug or an outlet with its own fuse; a resistor or a thin wire that happens to open first.",
	Source:  "the order plug, fuse, switch, load in the hot leg: trade practice",
	Remedy:  "Fit a slow fuse in the hot leg ahead of the switch, in an enclosed holder.",
	Caution: "A fuse guards the set, not a person: what stops a heart is far below what blows it.",
	Subject: OfLine,
	Run: func(k *Facts) []Finding {
		side := k.line
		if len(side.Hot.Fuses)+len(side.Neutral.Fuses)+len(side.BranchFuses()) > 0 {
			return nil // in the wrong leg, or in a branch alone, fuse-misplaced tells it
		}
		f := Finding{Signal: Caution, Message: "no fuse in either leg of the line: a short in the set is left to the breaker of the house"}
		size, draws := "", ""
		if amps, _ := k.Circuit.LineAmps(); amps > idleAmps {
			size = " of " + phrase.Value(FuseFor(amps), netlist.Ampere)
			draws = fmt.Sprintf(" The set draws %s while it plays.", phrase.Value(amps, netlist.Ampere))
		}
		f.Remedy = fmt.Sprintf("Fit a slow fuse%s in the hot leg ahead of the switch, in an enclosed holder.%s", size, draws)
		if k.bothHot() != "" {
			f.Remedy = fmt.Sprintf("Fit a slow fuse%s in each leg ahead of the switch, in enclosed holders: on these mains either may feed a short.%s", size, draws)
		}
		return []Finding{f}
	},
}
