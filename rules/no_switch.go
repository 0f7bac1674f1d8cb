package rules

import (
	"fmt"
	"slices"

	"coldcheck/rules/phrase"
)

// NoSwitch finds a set that nothing switches off.
var NoSwitch = &Rule{
	Name:    "no-switch",
	Signal:  Notice,
	Signals: "NOTICE",
	Looks:   "a line cord with no switch in either leg, or one that takes something off the neutral leg alone",
	Why: "Everything is on the line for as long as the plug is in the outlet. That hurts no one by itself, but whoever reaches " +
		"for a switch to make the set dead finds none.",
	Blind:   "A switch in the cord or at the outlet that the file does not name; a switch that stops one branch alone.",
	Source:  "trade practice for line-connected sets",
	Remedy:  "Fit a switch rated for the line in the hot leg, behind the fuse, or put down in the file the one that is there.",
	Caution: "Until then pull the plug, and do not take a quiet set for a dead one.",
	Subject: OfLine,
	Run: func(k *Facts) []Finding {
		side := k.line
		switches := side.Switches()
		inNeutral := func(name string) bool {
			return slices.Contains(side.Neutral.Partly, name) && !slices.Contains(side.Hot.Partly, name)
		}
		switch {
		case len(SwitchInNeutral.Run(k)) > 0:
			return nil // it tells the same, and more
		case len(switches) == 0:
			f := Finding{Signal: Notice, Message: "no switch in either leg of the line: the set is on for as long as it is plugged in"}
			if k.bothHot() != "" {
				f.Remedy = "Fit a two-pole switch rated for the line, that opens both legs, or put down in the file the one that is there."
			}
			return []Finding{f}
		case !slices.ContainsFunc(switches, func(name string) bool { return !inNeutral(name) }):
			return []Finding{{Signal: Notice, Parts: switches, Message: fmt.Sprintf("no switch in the %s: %s %s the %s alone",
				k.leg(side.Hot), phrase.List(switches), phrase.Verb(len(switches), "open"), k.leg(side.Neutral))}}
		}
		return nil
	},
}
