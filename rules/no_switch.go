package rules

// NoSwitch finds a set that nothing switches off.
var NoSwitch = &Rule{
	Name:    "no-switch",
	Signal:  Notice,
	Signals: "NOTICE",
	Looks:   "a line cord with no switch in either leg (one in the neutral leg alone is told by switch-in-neutral)",
	Why: "Everything is on the line for as long as the plug is in the outlet. That hurts no one by itself, but whoever reaches " +
		"for a switch to make the set dead finds none.",
	Blind:   "A switch in the cord or at the outlet that the file does not name; a switch that stops one branch alone.",
	Source:  "trade practice for line-connected sets",
	Remedy:  "Fit a switch rated for the line in the hot leg, behind the fuse, or put down in the file the one that is there.",
	Caution: "Until then pull the plug, and do not take a quiet set for a dead one.",
	Run: func(k *Case) []Finding {
		if side := k.lineSide(); len(side.switches()) > 0 {
			return nil
		}
		return []Finding{{Signal: Notice, Message: "no switch in either leg of the line: the set is on for as long as it is plugged in"}}
	},
}
