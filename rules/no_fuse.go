package rules

import (
	"fmt"
	"slices"

	"coldcheck/rules/phrase"
)

// NoFuse finds a set of which no fuse protects the hot leg.
var NoFuse = &Rule{
	Name:    "no-fuse",
	Signal:  Caution,
	Signals: "CAUTION",
	Looks:   "a line cord with no fuse in either leg, or in the neutral leg alone",
	Why: "A shorted line filter, reservoir or rectifier then draws what the breaker in the house lets through, ten times and more " +
		"what the set's wires and heaters stand. The set burns before the breaker opens.",
	Blind:   "A fused plug or an outlet with its own fuse; a resistor or a thin wire that happens to open first.",
	Source:  "the order plug, fuse, switch, load in the hot leg: trade practice",
	Remedy:  "Fit a slow fuse in the hot leg ahead of the switch, in an enclosed holder: 0.5 to 1 A for a five-tube set.",
	Caution: "A fuse guards the set, not a person: what stops a heart is far below what blows it.",
	Subject: OfLine,
	Run: func(k *Facts) []Finding {
		side := k.line
		switch {
		case len(side.hot.fuses) > 0:
			return nil
		case len(side.neutral.fuses) > 0:
			fuses := slices.Clone(side.neutral.fuses)
			return []Finding{{Signal: Caution, Parts: fuses, Message: fmt.Sprintf("no fuse in the hot leg as marked (%s): %s %s in the neutral leg (%s) alone",
				side.hot.at(), phrase.List(fuses), phrase.Be(len(fuses)), side.neutral.at())}}
		}
		return []Finding{{Signal: Caution, Message: "no fuse in either leg of the line: a short in the set is left to the breaker of the house"}}
	},
}
